// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/chance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "recipe/evaluate.hpp"
#include "recipe/model.hpp"
#include "recipe/weighing.hpp"
#include "stat/normal.hpp"
#include "unit/factors.hpp"

namespace bw::recipe {
namespace {

constexpr double kNoLimit = std::numeric_limits<double>::infinity();

double density(double z) {
    return std::isfinite(z) ? std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi) : 0;
}

/// The largest number between two for which `holds`, which holds below and not above.
template <class Holds>
double bisected(double least, double most, const Holds& holds) {
    constexpr double kNear = 1e-13;
    constexpr int kRounds = 100;
    for (int i = 0; i < kRounds && most - least > kNear * most; ++i) {
        const double middle = (least + most) / 2;
        (holds(middle) ? least : most) = middle;
    }
    return least;
}

/// Standard deviations below which a normal variable lies with a chance.
double deviations_below(double chance) {
    constexpr double kFarthest = 40;
    return bisected(0, kFarthest, [&](double z) { return stat::normal_cdf(z) < chance; });
}

/// A quantity that is linear in the amounts: what is bounded, over the goal's reference.
struct Linear {
    matter::Amounts weight;
    bool dissolved_mass = false;  ///< the salinity, instead of `weight` [per g/kg]
    double mass_weight = 0;

    [[nodiscard]] double of(const matter::Amounts& amounts) const {
        if (dissolved_mass) {
            return mass_weight * amounts.dissolved_mass_g();
        }
        double out = 0;
        for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
            const matter::Constituent c(i);
            out += weight[c] == 0 ? 0 : weight[c] * amounts[c];
        }
        return out;
    }
};

/// What the doses make of one linear quantity.
class Spread {
public:
    Spread(const Target& target, const std::vector<Supply>& supplies,
           const std::vector<double>& dose)
        : target_(target), supplies_(supplies), dose_(dose) {
        const double blend = std::accumulate(dose.begin(), dose.end(), 0.0);
        if (target.batch && blend > 0) {
            water_kg_ = target.batch->blend_kg / blend;
        }
    }

    /// Appends the row of a band when uncertainty reaches it at all.
    void judge(const Linear& q, double low, double high, double chance, const std::string& what,
               const std::string& symbol, std::vector<ChanceRow>& out) const {
        double variance = 0;
        std::vector<double> by_dose;
        double mean = q.of(target_.purified_water);
        std::vector<double> slope;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            slope.push_back(q.of(supplies_[j].make_up.mol_per_kg) - q.of(target_.purified_water));
            mean += slope[j] * dose_[j];
            const double s2 = variance_of_unit(q, supplies_[j]);
            variance += s2 * dose_[j] * dose_[j] + weighing_variance(q, j);
            by_dose.push_back(s2 * dose_[j]);
        }
        const double u = std::sqrt(variance);
        if (!(u > 0)) {
            return;
        }
        const WidestSpread widest = widest_spread(mean, low, high, chance);
        ChanceRow row{symbol, u, widest.u, {}};
        row.cut.what = what;
        row.cut.symbol = symbol + ", chance";
        // u + (du/dx)(x - x0) <= widest + widest' (mean(x) - mean), in units of u where it can be
        constexpr double kLeastUnit = 1e-3;
        const double unit = std::max(u, kLeastUnit);
        double at_point = 0;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const double total = (by_dose[j] / u - widest.slope * slope[j]) / unit;
            row.cut.per_dose.emplace_back(supplies_[j].label(), total);
            at_point += total * dose_[j];
        }
        row.cut.high = (widest.u - u) / unit + at_point;
        out.push_back(std::move(row));
    }

private:
    static double variance_of_unit(const Linear& q, const Supply& supply) {
        double out = 0;
        for (const matter::UncertainInput& input : supply.make_up.inputs) {
            const double part = q.of(input.effect) * input.stated.u;
            out += part * part;
        }
        return out;
    }

    /// Tare and gross are each rounded to a step; does not grow with the dose.
    [[nodiscard]] double weighing_variance(const Linear& q, std::size_t j) const {
        const double step = step_of(target_, supplies_[j]).value_or(0);
        if (!(step > 0) || !(dose_[j] > 0) || !(water_kg_ > 0)) {
            return 0;
        }
        constexpr double kTareAndGross = 6;
        const double moved = q.of(supplies_[j].make_up.mol_per_kg) * step / water_kg_;
        return moved * moved / kTareAndGross;
    }

    const Target& target_;
    const std::vector<Supply>& supplies_;
    const std::vector<double>& dose_;
    double water_kg_ = 0;
};

Linear amount(matter::Constituent c, double weight) {
    Linear out;
    out.weight[c] = weight;
    return out;
}

}  // namespace

WidestSpread widest_spread(double mean, double low, double high, double chance) {
    constexpr double kHair = 1e-12;
    const double hair = kHair * (std::isfinite(high - low) ? high - low : 1);
    const double one_sided = deviations_below(chance);
    if (!(mean - low > hair)) {
        return {(mean - low) / one_sided, 1 / one_sided};
    }
    if (!(high - mean > hair)) {
        return {(high - mean) / one_sided, -1 / one_sided};
    }
    // The chance falls as u grows; two sides allow no more than the nearer one alone.
    const double u = bisected(0, std::min(mean - low, high - mean) / one_sided, [&](double tried) {
        return stat::normal_inside(mean, tried, low, high) >= chance;
    });
    const double to_high = (high - mean) / u;
    const double to_low = (low - mean) / u;
    const auto weighted = [](double z) { return std::isfinite(z) ? z * density(z) : 0; };
    const double by_mean = (density(to_low) - density(to_high)) / u;
    const double by_u = (weighted(to_low) - weighted(to_high)) / u;
    return {u, -by_mean / by_u};
}

std::vector<ChanceRow> chance_rows(const Target& target, const std::vector<Supply>& supplies,
                                   const std::vector<double>& dose_kg_per_kg) {
    std::vector<ChanceRow> out;
    const double chance = target.limits.chance_inside.value_or(0);
    if (!(chance > 0)) {
        return out;
    }
    const Spread spread(target, supplies, dose_kg_per_kg);
    const std::string with =
        fmt::format(" with {} % chance", base::format_short(chance * unit::kPercent, 4));
    for (const ConstituentGoal& goal : target.constituents) {
        if (!goal.low && !goal.high) {
            continue;
        }
        const double ref = reference_of(goal);
        spread.judge(amount(goal.constituent, 1 / ref), goal.low ? *goal.low / ref : -kNoLimit,
                     goal.high ? *goal.high / ref : kNoLimit, chance,
                     fmt::format("{} {}{}", goal.constituent.symbol(),
                                 band_text(goal.low, goal.high, goal.shown_per_mol_per_kg,
                                           unit_text(goal.shown)),
                                 with),
                     std::string(goal.constituent.symbol()), out);
    }
    const MadeUpWater water = made_up_water(supplies, target.purified_water, dose_kg_per_kg);
    for (const RatioGoal& ratio : target.ratios) {
        const bool two_sided = ratio.low && ratio.high;
        const double each = two_sided ? (1 + chance) / 2 : chance;
        const double ref = water.mol_per_kg[ratio.numerator];
        for (const bool high : {false, true}) {
            const auto& bound = high ? ratio.high : ratio.low;
            if (!bound || !(ref > 0)) {
                continue;
            }
            Linear q = amount(ratio.numerator, 1 / ref);
            q.weight[ratio.denominator] = -*bound / ratio.per_mole_ratio() / ref;
            spread.judge(
                q, high ? -kNoLimit : 0, high ? 0 : kNoLimit, each,
                fmt::format("{} {}{}", ratio.name(), band_text(ratio.low, ratio.high, 1, ""), with),
                ratio.name(), out);
        }
    }
    const SalinityGoal& s = target.salinity;
    Linear mass;
    mass.dissolved_mass = true;
    mass.mass_weight = 1 / s.target_g_per_kg;
    spread.judge(
        mass, s.low_g_per_kg / s.target_g_per_kg, s.high_g_per_kg / s.target_g_per_kg, chance,
        fmt::format("salinity {}{}", band_text(s.low_g_per_kg, s.high_g_per_kg, 1, "g/kg"), with),
        "salinity", out);
    return out;
}

bool holds(const ChanceRow& row) {
    constexpr double kPart = 1e-6;
    constexpr double kRowsHold = 1e-8;
    return row.u <= row.widest_u + std::max(kPart * std::abs(row.widest_u), kRowsHold);
}

}  // namespace bw::recipe
