// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/limit_loop.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "path/onset.hpp"
#include "recipe/chance.hpp"
#include "recipe/discrete.hpp"

namespace bw::service {
namespace {

using recipe::Cut;
using recipe::Solution;
using recipe::Verdict;

constexpr int kDigits = 4;
constexpr double kMicro = 1e6;

bool as_good(const Solution& a, const Solution& b) {
    constexpr double kSame = 1e-6;
    return a.stages.size() == b.stages.size() &&
           std::equal(a.stages.begin(), a.stages.end(), b.stages.begin(),
                      [](const recipe::Stage& x, const recipe::Stage& y) {
                          return std::abs(x.objective - y.objective) <=
                                 kSame * std::max(1.0, std::abs(x.objective));
                      });
}

/// Whether some stage before the cost comes out worse.
bool holds_off(const Solution& without, const Solution& with) {
    constexpr double kSeen = 1e-6;
    for (const recipe::Stage& stage : with.stages) {
        for (const recipe::Stage& free : without.stages) {
            if (stage.what == "cost") {
                return false;
            }
            if (free.what == stage.what && stage.objective > free.objective + kSeen) {
                return true;
            }
        }
    }
    return false;
}

/// The slopes by what the target names, or by all, that count beside the largest; all of them where
/// that is nothing.
matter::Amounts strong_slopes(const recipe::Target& target, bool named_only, double counts,
                              const matter::Amounts& slope, const matter::Amounts& at) {
    double largest = 0;
    matter::Amounts out;
    const auto asked = [&](const recipe::ConstituentGoal& goal) {
        return !named_only || goal.origin == recipe::Origin::Named;
    };
    for (const recipe::ConstituentGoal& goal : target.constituents) {
        const double own = std::abs(slope[goal.constituent] * at[goal.constituent]);
        largest = asked(goal) ? std::max(largest, own) : largest;
    }
    for (const recipe::ConstituentGoal& goal : target.constituents) {
        const double own = std::abs(slope[goal.constituent] * at[goal.constituent]);
        if (asked(goal) && own > counts * largest) {
            out[goal.constituent] = slope[goal.constituent];
        }
    }
    return largest > 0 ? out : slope;
}

Cut tangent(const recipe::SaturationLimit& limit, const SaturationSlope& slope,
            const matter::Amounts& at) {
    Cut out;
    out.what = limit_words(limit);
    out.symbol = limit.key;
    out.per_mol_per_kg = slope.per_amount;
    out.high = std::log(limit.highest_omega) - slope.ln_omega;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        out.high += slope.per_amount[c] * at[c];
    }
    return out;
}

}  // namespace

std::string where_words(double temperature_degC, std::optional<double> air_pco2_atm) {
    return fmt::format(
        "{} °C, {}", base::format_exact(temperature_degC),
        air_pco2_atm
            ? fmt::format("air of {} uatm CO2", base::format_short(*air_pco2_atm * kMicro, kDigits))
            : "carbon as the materials bring it");
}

std::string time_words(double hours, int digits) {
    return hours >= path::kHoursPerYear ? "a year" : base::format_short(hours, digits) + " h";
}

std::string limit_words(const recipe::SaturationLimit& limit) {
    if (limit.key == kSafeTimeKey) {
        return fmt::format(
            "the safe time, for which Omega of aragonite has to be below about {} "
            "({})",
            base::format_significant(limit.highest_omega, kDigits - 1),
            where_words(limit.temperature_degC, limit.air_pco2_atm));
    }
    return fmt::format("Omega of {} at most {} ({})", limit.solid,
                       base::format_short(limit.highest_omega, kDigits),
                       where_words(limit.temperature_degC, limit.air_pco2_atm));
}

LimitLoop::LimitLoop(const recipe::Target& target, const std::vector<recipe::Supply>& supplies,
                     const recipe::SolveOptions& options, WaterSaturation& water,
                     std::vector<recipe::SaturationLimit> limits)
    : target_(target),
      supplies_(supplies),
      plain_(options),
      whole_(options),
      water_(water),
      limits_(std::move(limits)) {
    plain_.whole_numbers = false;
}

Result<Solution> LimitLoop::solve_with_cuts(const recipe::SolveOptions& options) {
    auto found = recipe::solve(target_, supplies_, options);
    if (!found && found.error().code == ProblemCode::Internal) {
        Solution stuck;  // tangents nearly parallel: no answer, but no fault of the input
        stuck.notices.push_back(
            {"limits_not_met",
             fmt::format("The search for a recipe within the limits on the water came to no end: "
                         "{}. Loosen one of them.",
                         found.error().message)});
        return stuck;
    }
    return found;
}

bool LimitLoop::is_cut(const std::string& symbol) const {
    return std::any_of(omega_cuts_.begin(), omega_cuts_.end(),
                       [&](const Cut& c) { return c.symbol == symbol; });
}

Result<double> LimitLoop::cut_at(const Solution& at, Keep keep) {
    double over = 0;
    for (const recipe::SaturationLimit& limit : limits_) {
        BW_TRY(slope, water_.slope(limit, at.water.mol_per_kg));
        const double own = slope.ln_omega - std::log(limit.highest_omega);
        over += own > kHeld ? own : 0;
        if (own > kHeld || is_cut(limit.key)) {
            constexpr double kCounts = 1e-3;  // of the largest change by a like share
            constexpr double kStrong = 0.25;
            if (levers_ != Levers::All) {
                slope.per_amount = strong_slopes(target_, levers_ == Levers::Named,
                                                 levers_ == Levers::Named ? kCounts : kStrong,
                                                 slope.per_amount, at.water.mol_per_kg);
            }
            if (keep == Keep::Last) {
                std::erase_if(omega_cuts_, [&](const Cut& c) { return c.symbol == limit.key; });
            }
            omega_cuts_.push_back(tangent(limit, slope, at.water.mol_per_kg));
        }
    }
    over += cut_chances(at.dose_kg_per_kg);
    hold_cuts();
    return over;
}

/// Tangents at a recipe whose chances fall short, and at the mean of the recipes before it: a
/// tangent is right wherever it touches, and the mean is nearer to where the search will end. After
/// some rounds they are drawn for a hair more than is asked, so that what tangents leave open does
/// not keep the search from its end.
double LimitLoop::cut_chances(const std::vector<double>& dose) {
    std::vector<std::string> short_of;
    for (const recipe::ChanceRow& row : recipe::chance_rows(target_, supplies_, dose)) {
        if (!recipe::holds(row)) {
            short_of.push_back(row.symbol);
        }
    }
    const bool first = mean_dose_.size() != dose.size();
    for (std::size_t j = 0; j < dose.size() && !first; ++j) {
        mean_dose_[j] = (mean_dose_[j] + dose[j]) / 2;
    }
    if (first) {
        mean_dose_ = dose;
    }
    if (short_of.empty()) {
        return 0;
    }
    constexpr int kPatient = 6;
    constexpr double kHair = 1e-3;  // of the chance to miss
    constexpr double kGrows = 1.3;
    constexpr double kMost = 0.02;
    ++chance_rounds_;
    recipe::Target asked = target_;
    double& chance = *asked.limits.chance_inside;
    if (chance_rounds_ > kPatient) {
        chance +=
            (1 - chance) * std::min(kMost, kHair * std::pow(kGrows, chance_rounds_ - kPatient));
    }
    const auto cut = [&](const std::vector<double>& at) {
        for (recipe::ChanceRow& row : recipe::chance_rows(asked, supplies_, at)) {
            if (std::find(short_of.begin(), short_of.end(), row.symbol) != short_of.end()) {
                chance_cuts_.push_back(std::move(row.cut));
            }
        }
    };
    cut(dose);
    if (!first) {
        cut(mean_dose_);
    }
    return static_cast<double>(short_of.size());
}

/// Tangents far from a recipe only slow the search in whole numbers down.
void LimitLoop::drop_idle_chance_cuts(const Solution& at) {
    constexpr double kFar = 0.02;  // of the uncertainty
    std::erase_if(chance_cuts_, [&](const Cut& cut) {
        double left = 0;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            left +=
                recipe::cut_slope(cut, supplies_[j], target_.purified_water) * at.dose_kg_per_kg[j];
        }
        return cut.high - left > kFar;
    });
    hold_cuts();
}

void LimitLoop::hold_cuts() {
    target_.cuts = omega_cuts_;
    target_.cuts.insert(target_.cuts.end(), chance_cuts_.begin(), chance_cuts_.end());
}

/// Makes the breaches of the limits on Omega least. True when a recipe holds all limits; its cuts
/// are then those at it.
Result<bool> LimitLoop::come_inside() {
    BW_TRY(by_what_is_named, make_breaches_least());
    if (by_what_is_named || omega_cuts_.empty()) {
        return by_what_is_named;
    }
    levers_ = Levers::All;
    if (least_over_) {
        BW_CHECK(cut_at(*least_over_, Keep::Last));
    }
    BW_TRY(by_all, make_breaches_least());
    if (by_all || !least_over_) {
        return by_all;
    }
    // A conflict reads better by the strong levers alone, where those are conflict enough.
    levers_ = Levers::Strong;
    const std::vector<Cut> by_all_cuts = target_.cuts;
    BW_CHECK(cut_at(*least_over_, Keep::Last));
    BW_TRY(conflict, solve_with_cuts(plain_));
    if (conflict.verdict != Verdict::Infeasible) {
        target_.cuts = by_all_cuts;
    }
    return false;
}

Result<bool> LimitLoop::make_breaches_least() {
    double best = HUGE_VAL;
    for (int round = 0; round < kMostRounds; ++round) {
        recipe::SolveOptions relaxed = plain_;
        const recipe::Model model = recipe::build_model(target_, supplies_);
        for (std::size_t d = 0; d < model.demands.size(); ++d) {
            if (is_cut(model.demands[d].symbol)) {
                relaxed.may_break.push_back(d);
            }
        }
        if (relaxed.may_break.empty()) {
            return false;
        }
        BW_TRY(found, solve_with_cuts(relaxed));
        if (found.verdict != Verdict::Solved) {
            return false;
        }
        ++rounds_;
        const std::size_t chance_before = chance_cuts_.size();
        BW_TRY(over, cut_at(found, Keep::Last));
        least_over_ = std::move(found);
        if (!(over > 0)) {
            return true;
        }
        if (chance_cuts_.size() > chance_before) {
            continue;  // not comparable with the round before
        }
        if (over > best - kHeld) {
            return false;
        }
        best = over;
    }
    return false;
}

Result<std::optional<Solution>> LimitLoop::break_bands() {
    const std::vector<Cut> explained = target_.cuts;
    std::optional<Solution> out;
    constexpr int kRounds = 4;
    for (int i = 0; i < kRounds; ++i) {
        recipe::SolveOptions relaxed = plain_;
        const recipe::Model model = recipe::build_model(target_, supplies_);
        for (std::size_t d = 0; d < model.demands.size(); ++d) {
            if (!is_cut(model.demands[d].symbol)) {
                relaxed.may_break.push_back(d);
            }
        }
        BW_TRY(found, solve_with_cuts(relaxed));
        if (found.verdict != Verdict::Solved) {
            break;
        }
        BW_CHECK(cut_at(found, Keep::Last));
        out = std::move(found);
    }
    target_.cuts = explained;
    return out;
}

/// Of the doses between a recipe that holds every limit and one that does not, those farthest on
/// that do: all that is linear holds between two recipes that hold it.
Result<Solution> LimitLoop::towards(const Solution& held, const Solution& over) {
    const auto mixed = [&](double share) {
        Solution out = over;
        for (std::size_t j = 0; j < out.dose_kg_per_kg.size(); ++j) {
            out.dose_kg_per_kg[j] =
                (1 - share) * held.dose_kg_per_kg[j] + share * over.dose_kg_per_kg[j];
        }
        out.water = recipe::made_up_water(supplies_, target_.purified_water, out.dose_kg_per_kg);
        return out;
    };
    double least = 0;
    double most = 1;
    constexpr int kHalvings = 12;
    for (int i = 0; i < kHalvings; ++i) {
        const double share = (least + most) / 2;
        BW_TRY(holds, holds_all(mixed(share)));
        (holds ? least : most) = share;
    }
    return mixed(least);
}

Result<bool> LimitLoop::holds_all(const Solution& s) {
    for (const recipe::SaturationLimit& limit : limits_) {
        BW_TRY(state, water_.value(limit, s.water.mol_per_kg));
        if (!(std::log(state.omega / limit.highest_omega) <= kHeld)) {
            return false;
        }
    }
    const auto rows = recipe::chance_rows(target_, supplies_, s.dose_kg_per_kg);
    return std::all_of(rows.begin(), rows.end(),
                       [](const auto& row) { return recipe::holds(row); });
}

Result<Solution> LimitLoop::run() {
    BW_TRY(at, solve_with_cuts(plain_));
    unlimited_ = at;
    std::optional<Solution> last;
    std::optional<Solution> held;
    settled_ = false;
    int returns = 0;  // to the inside
    constexpr int kMostReturns = 3;
    constexpr int kCalm = 12;  // rounds after which old cuts stay, against swinging
    constexpr int kMostForChance = 50;
    while (at.verdict == Verdict::Solved &&
           rounds_ < kMostRounds + std::min(chance_rounds_, kMostForChance)) {
        ++rounds_;
        BW_TRY(over, cut_at(at, rounds_ - chance_rounds_ <= kCalm ? Keep::Last : Keep::All));
        if (!(over > 0) && (!has_cuts() || (last && as_good(at, *last)))) {
            settled_ = true;
            drop_idle_chance_cuts(at);
            return at;
        }
        if (!(over > 0)) {
            held = at;
        }
        if (held && over > 0 && returns >= kMostReturns) {
            break;  // the tangents lead out again each time
        }
        last = at;
        if (!plain_.goals_at_any_cost && holds_off(unlimited_, at)) {
            plain_.unhindered = whole_.unhindered = unlimited_.stages;
        }
        BW_TRY(next, solve_with_cuts(plain_));
        if (next.verdict != Verdict::Solved) {
            BW_TRY(inside, come_inside());
            if (inside) {
                ++returns;
                held = least_over_;
                BW_TRY(again, solve_with_cuts(plain_));
                next = std::move(again);
                last.reset();
            }
            if (next.verdict != Verdict::Solved && held) {
                break;
            }
        }
        at = std::move(next);
    }
    if (at.verdict == Verdict::Solved) {
        BW_TRY(over, cut_at(at, Keep::All));
        if (over > 0 && held) {
            BW_TRY(inside, towards(*held, at));
            BW_CHECK(cut_at(inside, Keep::Last));
            return inside;
        }
        if (over > 0) {
            at.verdict = Verdict::NotProven;
            at.dose_kg_per_kg.clear();
            at.notices.push_back(
                {"limits_not_met",
                 fmt::format("After {} rounds no recipe was found that holds the limits on the "
                             "water, nor a proof that there is none.",
                             rounds_)});
        }
    }
    return at;
}

}  // namespace bw::service
