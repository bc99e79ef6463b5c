// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/evaluate.hpp"

#include <algorithm>
#include <cmath>

#include "unit/factors.hpp"

namespace bw::recipe {
namespace {

constexpr double kMilligramPerKg = 1e6;

void check(std::vector<Breach>& out, const std::string& what, double value,
           std::optional<double> low, std::optional<double> high, double tolerance) {
    if (is_below(value, low, tolerance)) {
        out.push_back({what + " is below its band", (*low - value) / std::abs(*low)});
    }
    if (is_above(value, high, tolerance)) {
        out.push_back({what + " is above its band", (value - *high) / std::abs(*high)});
    }
}

}  // namespace

bool is_below(double value, std::optional<double> low, double tolerance) {
    return low && value < *low - tolerance * std::abs(*low);
}

bool is_above(double value, std::optional<double> high, double tolerance) {
    return high && value > *high + tolerance * std::abs(*high);
}

bool is_inside(double value, std::optional<double> low, std::optional<double> high,
               double tolerance) {
    return !is_below(value, low, tolerance) && !is_above(value, high, tolerance);
}

MadeUpWater made_up_water(std::span<const Supply> supplies, const matter::Amounts& purified_water,
                          std::span<const double> dose_kg_per_kg) {
    base::expect(supplies.size() == dose_kg_per_kg.size(), "one dose per material");
    MadeUpWater out;
    long double total = 0;
    for (const double x : dose_kg_per_kg) {
        total += static_cast<long double>(x);
    }
    const long double water = 1 - total;
    out.purified_water_kg = static_cast<double>(water);
    long double positive = 0;
    long double charge = 0;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        long double sum = water * static_cast<long double>(purified_water[c]);
        long double worst = sum;
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            const long double x = dose_kg_per_kg[j];
            sum += x * static_cast<long double>(supplies[j].make_up.mol_per_kg[c]);
            worst += x * static_cast<long double>(supplies[j].make_up.worst_mol_per_kg[c]);
        }
        out.mol_per_kg[c] = static_cast<double>(sum);
        out.worst_mol_per_kg[c] = static_cast<double>(worst);
        charge += sum * c.charge();
        positive += std::max(0.0L, sum * c.charge());
    }
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        out.insoluble_mg_per_kg +=
            dose_kg_per_kg[j] * supplies[j].make_up.insoluble_share * kMilligramPerKg;
    }
    out.dissolved_g_per_kg = out.mol_per_kg.dissolved_mass_g();
    out.charge_balance_percent =
        positive > 0 ? static_cast<double>(charge / positive) * unit::kPercent : 0;
    return out;
}

std::vector<Breach> breaches(const Target& target, const MadeUpWater& water, double tolerance) {
    std::vector<Breach> out;
    check(out, "salinity", water.dissolved_g_per_kg, target.salinity.low_g_per_kg,
          target.salinity.high_g_per_kg, tolerance);
    for (const ConstituentGoal& goal : target.constituents) {
        check(out, std::string(goal.constituent.symbol()), water.mol_per_kg[goal.constituent],
              goal.low, goal.high, tolerance);
    }
    for (const RatioGoal& ratio : target.ratios) {
        check(out, ratio.name(), ratio.in(water.mol_per_kg), ratio.low, ratio.high, tolerance);
    }
    for (const Ceiling& ceiling : target.ceilings) {
        if (is_above(water.worst_mol_per_kg[ceiling.constituent], ceiling.high, tolerance)) {
            out.push_back({std::string(ceiling.constituent.symbol()) + " is above its ceiling",
                           water.worst_mol_per_kg[ceiling.constituent] / ceiling.high - 1});
        }
    }
    return out;
}

std::vector<Breach> cut_breaches(const Target& target, std::span<const Supply> supplies,
                                 std::span<const double> dose_kg_per_kg, double tolerance) {
    std::vector<Breach> out;
    for (const Cut& cut : target.cuts) {
        double left = 0;
        for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
            const matter::Constituent c(i);
            left += cut.per_mol_per_kg[c] * target.purified_water[c];
        }
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            left += cut_slope(cut, supplies[j], target.purified_water) * dose_kg_per_kg[j];
        }
        if (left > cut.high + tolerance * std::max(1.0, std::abs(cut.high))) {
            out.push_back({cut.what + " is broken", left - cut.high});
        }
    }
    return out;
}

Target aiming_at(Target target, const MadeUpWater& standing) {
    const auto aim = [](std::optional<double>& at, double value, std::optional<double> low,
                        std::optional<double> high) {
        if (at) {
            at = std::min(std::max(value, low.value_or(value)), high.value_or(value));
        }
    };
    for (ConstituentGoal& goal : target.constituents) {
        const double amount = standing.mol_per_kg[goal.constituent];
        if (amount > 0) {  // a miss is relative to its aim
            aim(goal.target, amount, goal.low, goal.high);
        }
    }
    for (RatioGoal& goal : target.ratios) {
        aim(goal.target, goal.in(standing.mol_per_kg), goal.low, goal.high);
    }
    SalinityGoal& salinity = target.salinity;
    salinity.target_g_per_kg = std::min(
        std::max(standing.dissolved_g_per_kg, salinity.low_g_per_kg), salinity.high_g_per_kg);
    return target;
}

}  // namespace bw::recipe
