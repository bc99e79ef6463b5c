// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/discrete.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "base/text.hpp"
#include "recipe/stages.hpp"

namespace bw::recipe {
namespace {

using opt::Entry;
using opt::kInfinity;

std::optional<double> step_of(const Target& target, const Supply& supply) {
    if (!target.batch) {
        return std::nullopt;
    }
    if (supply.material.step_kg) {
        return supply.material.step_kg;
    }
    return target.batch->weighing_step_kg;
}

bool in_whole_packages(const Target& target, const Supply& supply) {
    return target.batch && supply.material.whole_packages && supply.material.package_kg;
}

bool weighed_in_steps(const Target& target, const std::vector<Supply>& supplies) {
    return std::any_of(supplies.begin(), supplies.end(),
                       [&](const Supply& s) { return step_of(target, s).has_value(); });
}

/// Kilograms of finished water that the batch makes, as the continuous recipe has it.
double nominal_water_kg(const Target& target, const std::vector<double>& dose) {
    const double blend = std::accumulate(dose.begin(), dose.end(), 0.0);
    return target.batch ? target.batch->blend_kg / blend : 1;
}

class Search {
public:
    /// With `every_step` even the finest weighing steps are searched instead of rounded.
    Search(const Target& target, const std::vector<Supply>& supplies,
           const std::vector<double>& continuous, double water_kg, bool every_step)
        : target_(target),
          supplies_(supplies),
          continuous_(continuous),
          water_kg_(water_kg),
          coarse_(every_step ? 0 : kCoarseStep) {
        ModelOptions options;
        if (target.batch) {
            options.water_kg = water_kg;
        }
        if (target.batch && target.batch->blend_swing > 0) {
            options.size_low = 1 - 2 * target.batch->blend_swing;
            options.size_high = 1 + 2 * target.batch->blend_swing;
            highest_size_ = options.size_high;
        }
        model = build_model(target, supplies, options);
        restrict();
    }

    Model model;
    std::vector<int> integers;
    bool tied = false;  ///< some dose is a whole number of packages or steps

    /// Holds the whole-number columns at the values of a point.
    void fix(const std::vector<double>& point) {
        for (const int column : integers) {
            const auto k = static_cast<std::size_t>(column);
            model.lp.column_low[k] = point[k];
            model.lp.column_high[k] = point[k];
        }
    }

private:
    void restrict() {
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const double scaled = model.dose_scale[j];
            if (in_whole_packages(target_, supplies_[j])) {
                tie_to(j, *supplies_[j].material.package_kg / water_kg_ / scaled);
            } else if (const auto step = step_of(target_, supplies_[j])) {
                const double dose_kg = continuous_[j] * water_kg_;
                if (dose_kg > 0 && *step / 2 > coarse_ * dose_kg) {
                    tie_to(j, *step / water_kg_ / scaled);
                }
            }
        }
        add_use_flags();
        if (target_.batch && target_.batch->blend_swing > 0) {
            const double blend = target_.batch->blend_kg / water_kg_;
            std::vector<Entry> row;
            for (std::size_t j = 0; j < supplies_.size(); ++j) {
                row.push_back({model.dose[j], model.dose_scale[j]});
            }
            model.lp.add_row(row, blend * (1 - target_.batch->blend_swing),
                             blend * (1 + target_.batch->blend_swing));
        }
    }

    /// dose = whole number * unit
    void tie_to(std::size_t j, double unit) {
        const double most =
            std::ceil(std::min(model.most_dose[j], 1.0) / model.dose_scale[j] / unit);
        tied = true;
        const int number = model.lp.add_column(0, 0, most);
        integers.push_back(number);
        model.lp.add_row(std::vector<Entry>{{model.dose[j], 1 / unit}, {number, -1}}, 0, 0);
    }

    void add_use_flags() {
        double smallest = target_.limits.smallest_dose_kg_per_kg.value_or(0);
        if (target_.batch && target_.batch->smallest_weighing_kg) {
            constexpr double kRoom =
                1.002;  // for what the size of the batch still moves after the search
            smallest = std::max(smallest, *target_.batch->smallest_weighing_kg / water_kg_ * kRoom);
        }
        if (smallest <= 0 && !target_.limits.most_materials) {
            return;
        }
        std::vector<Entry> count;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const double most = std::min(model.most_dose[j], 1.0) / model.dose_scale[j];
            const double least = smallest / model.dose_scale[j];
            if (least > most) {  // cannot be dosed at all
                model.lp.column_high[static_cast<std::size_t>(model.dose[j])] = 0;
                continue;
            }
            const int used = model.lp.add_column(0, 0, 1);
            integers.push_back(used);
            count.push_back({used, 1});
            model.lp.add_row(std::vector<Entry>{{model.dose[j], 1}, {used, -most}}, -kInfinity, 0);
            if (least > 0) {
                // dose >= least * size when used, whatever the size of the batch
                model.lp.add_row(
                    std::vector<Entry>{
                        {model.dose[j], 1}, {model.size, -least}, {used, -least * highest_size_}},
                    -least * highest_size_, kInfinity);
            }
        }
        if (target_.limits.most_materials) {
            model.lp.add_row(count, -kInfinity, *target_.limits.most_materials);
        }
    }

    const Target& target_;
    const std::vector<Supply>& supplies_;
    const std::vector<double>& continuous_;
    double water_kg_;
    double coarse_;
    double highest_size_ = 1;
};

/// Rounds each weighing to its step: to the nearest that stays within what the file allows of the
/// material.
std::vector<double> rounded(const Target& target, const std::vector<Supply>& supplies,
                            std::vector<double> dose, double water_kg) {
    for (std::size_t j = 0; j < dose.size(); ++j) {
        const matter::Material& m = supplies[j].material;
        if (in_whole_packages(target, supplies[j]) && dose[j] > 0) {
            dose[j] = std::round(dose[j] * water_kg / *m.package_kg) * *m.package_kg / water_kg;
            continue;
        }
        const auto unit = step_of(target, supplies[j]);
        if (!unit || dose[j] <= 0) {
            continue;
        }
        constexpr double kEnough = 1e-9;  // relative: a limit reached exactly is kept
        double most = m.most_kg_per_kg.value_or(1) * water_kg;
        most = std::min(most, m.stock_kg.value_or(most)) * (1 + kEnough);
        const double least = std::max(m.least_kg_per_kg.value_or(0),
                                      target.limits.smallest_dose_kg_per_kg.value_or(0)) *
                             water_kg * (1 - kEnough);
        double steps = std::round(dose[j] * water_kg / *unit);
        steps = std::max(steps, std::ceil(least / *unit));
        steps = std::min(steps, std::floor(most / *unit));
        dose[j] = steps * *unit / water_kg;
    }
    return dose;
}

}  // namespace

bool needs_whole_numbers(const Target& target, const std::vector<Supply>& supplies) {
    if (target.limits.most_materials || target.limits.smallest_dose_kg_per_kg || target.batch) {
        return true;
    }
    return std::any_of(supplies.begin(), supplies.end(),
                       [&](const Supply& s) { return in_whole_packages(target, s); });
}

namespace {

/// Narrows every limit by the most that rounding the weighings to their steps can move it.
Target narrowed(const Target& target, const std::vector<Supply>& supplies,
                const Solution& solution) {
    Target out = target;
    const double water_kg = solution.batch_finished_water_kg.value_or(1);
    std::vector<double> slip(supplies.size(), 0);  // kg per kg of finished water
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        const auto step = step_of(target, supplies[j]);
        if (step && solution.dose_kg_per_kg[j] > 0 && !in_whole_packages(target, supplies[j])) {
            slip[j] = *step / 2 / water_kg;
        }
    }
    const auto moved = [&](const auto& brings) {
        double sum = 0;
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            sum += std::abs(brings(supplies[j].make_up)) * slip[j];
        }
        return sum;
    };
    const auto moved_amount = [&](matter::Constituent c) {
        return moved([&](const matter::MakeUp& m) { return m.mol_per_kg[c]; });
    };
    for (ConstituentGoal& goal : out.constituents) {
        const double by = moved_amount(goal.constituent);
        const double middle = goal.low && goal.high ? (*goal.low + *goal.high) / 2 : 0;
        goal.low =
            goal.low ? std::optional(goal.high ? std::min(*goal.low + by, middle) : *goal.low + by)
                     : std::nullopt;
        goal.high = goal.high ? std::optional(goal.low ? std::max(*goal.high - by, middle)
                                                       : std::max(*goal.high - by, 0.0))
                              : std::nullopt;
        if (goal.target) {
            goal.target = std::clamp(*goal.target, goal.low.value_or(*goal.target),
                                     goal.high.value_or(*goal.target));
        }
    }
    for (Ceiling& ceiling : out.ceilings) {
        const double by =
            moved([&](const matter::MakeUp& m) { return m.worst_mol_per_kg[ceiling.constituent]; });
        ceiling.high = std::max(ceiling.high - by, ceiling.high / 2);
    }
    for (RatioGoal& ratio : out.ratios) {
        const auto& c = solution.water.mol_per_kg;
        const double by = moved_amount(ratio.numerator) / c[ratio.numerator] +
                          moved_amount(ratio.denominator) / c[ratio.denominator];
        ratio.low = ratio.low ? std::optional(*ratio.low * (1 + by)) : std::nullopt;
        ratio.high = ratio.high ? std::optional(*ratio.high * (1 - by)) : std::nullopt;
    }
    const double by =
        moved([](const matter::MakeUp& m) { return m.mol_per_kg.dissolved_mass_g(); });
    out.salinity.low_g_per_kg =
        std::min(out.salinity.low_g_per_kg + by, out.salinity.target_g_per_kg);
    out.salinity.high_g_per_kg =
        std::max(out.salinity.high_g_per_kg - by, out.salinity.target_g_per_kg);
    return out;
}

/// Whether every dose lies within what the file allows of its material.
bool keeps_doses(const Target& target, const std::vector<Supply>& supplies,
                 const std::vector<double>& dose) {
    for (std::size_t j = 0; j < dose.size(); ++j) {
        const matter::Material& m = supplies[j].material;
        const double least =
            std::max(m.least_kg_per_kg.value_or(0),
                     dose[j] > 0 ? target.limits.smallest_dose_kg_per_kg.value_or(0) : 0);
        if (dose[j] < least * (1 - kHardTolerance) ||
            dose[j] > m.most_kg_per_kg.value_or(1) * (1 + kHardTolerance)) {
            return false;
        }
    }
    return true;
}

/// One search for a given size of the batch. The verdict of `out` tells whether there is a recipe;
/// its doses are not rounded yet.
Result<bool> search_once(const Target& target, const std::vector<Supply>& supplies,
                         const SolveOptions& options, bool every_step, double& water_kg,
                         Solution& out) {
    Search search(target, supplies, out.dose_kg_per_kg, water_kg, every_step);
    if (search.integers.empty()) {
        return false;
    }
    const std::vector<Objective> objectives =
        objectives_of(search.model, options, weighed_in_steps(target, supplies) ? kWeighedMiss : 0);
    std::vector<double> point;
    bool proven = false;
    BW_TRY(found, serve_in_whole_numbers(search.model, objectives, search.integers,
                                         options.most_nodes, point, proven));
    if (!found) {
        out.verdict = proven ? Verdict::Infeasible : Verdict::NotProven;
        out.notices.push_back({"whole_numbers",
                               "Without the limits on the number of materials, smallest doses, "
                               "packages and weighing steps there "
                               "is a recipe; with them there is none" +
                                   std::string(proven ? "." : " that the search could find.")});
        out.stages.clear();
        out.dose_kg_per_kg.clear();
        return search.tied;
    }
    if (!proven) {
        out.notices.push_back(
            {"search_cut",
             fmt::format("The search over whole numbers was cut after {} nodes: the recipe is the "
                         "best found, not proven the best.",
                         options.most_nodes)});
    }
    search.fix(point);
    Solution exact;
    BW_TRY(feasible, serve(search.model, objectives, exact));
    if (feasible) {
        out.dose_kg_per_kg = exact.dose_kg_per_kg;
        out.stages = exact.stages;
    } else {
        out.dose_kg_per_kg = search.model.doses(point);
    }
    for (std::size_t j = 0; j < out.dose_kg_per_kg.size(); ++j) {
        constexpr double kRoundOff = 1e-8;
        if (out.dose_kg_per_kg[j] < kRoundOff * search.model.dose_scale[j]) {
            out.dose_kg_per_kg[j] = 0;
        }
    }
    water_kg *= point[static_cast<std::size_t>(search.model.size)];
    return search.tied;
}

/// Searches and rounds. A batch without a swing keeps its mass: where another choice of materials
/// makes the blend heavier or lighter per kilogram of water, the search is repeated for the new
/// size.
Result<void> search_and_round(const Target& target, const std::vector<Supply>& supplies,
                              const SolveOptions& options, bool every_step, Solution& out) {
    const Solution continuous = out;
    double water_kg = nominal_water_kg(target, out.dose_kg_per_kg);
    bool tied = false;
    constexpr int kRounds = 4;
    for (int round = 0; round < kRounds; ++round) {
        out = continuous;
        const double asked = water_kg;
        BW_TRY(ties, search_once(target, supplies, options, every_step, water_kg, out));
        tied = ties;
        if (out.dose_kg_per_kg.empty() || !target.batch || target.batch->blend_swing > 0) {
            break;
        }
        const double wanted = nominal_water_kg(target, out.dose_kg_per_kg);
        constexpr double kSame =
            1e-3;  // of the mass: what is left is made good below, or is a step of a scale
        if (std::abs(wanted / asked - 1) < kSame) {
            break;
        }
        water_kg = wanted;
    }
    if (!target.batch || out.dose_kg_per_kg.empty()) {
        return {};
    }
    if (!tied) {
        water_kg = nominal_water_kg(target, out.dose_kg_per_kg);
    }
    out.dose_kg_per_kg = rounded(target, supplies, out.dose_kg_per_kg, water_kg);
    out.batch_finished_water_kg = water_kg;
    out.blend_kg =
        water_kg * std::accumulate(out.dose_kg_per_kg.begin(), out.dose_kg_per_kg.end(), 0.0);
    return {};
}

/// Which of the limits on whole numbers, left out alone, would let a recipe through.
std::string what_forbids(const Target& target, const std::vector<Supply>& supplies,
                         const SolveOptions& options, const Solution& continuous) {
    std::vector<std::string> found;
    const auto try_without = [&](const std::string& what, const Target& t,
                                 const std::vector<Supply>& s) {
        Solution again = continuous;
        const auto searched = search_and_round(t, s, options, false, again);
        if (searched && !again.dose_kg_per_kg.empty()) {
            found.push_back(what);
        }
    };
    if (target.limits.most_materials) {
        Target t = target;
        t.limits.most_materials.reset();
        try_without(fmt::format("the limit of {} materials", *target.limits.most_materials), t,
                    supplies);
    }
    if (target.limits.smallest_dose_kg_per_kg ||
        (target.batch && target.batch->smallest_weighing_kg)) {
        Target t = target;
        t.limits.smallest_dose_kg_per_kg.reset();
        if (t.batch) {
            t.batch->smallest_weighing_kg.reset();
        }
        try_without("the smallest dose or weighing", t, supplies);
    }
    std::vector<Supply> by_weight = supplies;
    for (Supply& supply : by_weight) {
        supply.material.whole_packages = false;
    }
    if (std::any_of(supplies.begin(), supplies.end(),
                    [&](const Supply& s) { return in_whole_packages(target, s); })) {
        try_without("whole packages (or a wider blend_swing)", target, by_weight);
    }
    return found.empty() ? std::string()
                         : " What stands in the way is " + base::join_words(found, "or") + ".";
}

}  // namespace

Result<void> solve_in_whole_numbers(const Target& target, const std::vector<Supply>& supplies,
                                    const SolveOptions& options, Solution& out) {
    const Solution continuous = out;
    BW_CHECK(search_and_round(target, supplies, options, false, out));
    const auto keeps_limits = [&](Solution& s) {
        s.water = made_up_water(supplies, target.purified_water, s.dose_kg_per_kg);
        return breaches(target, s.water, kHardTolerance).empty() &&
               keeps_doses(target, supplies, s.dose_kg_per_kg);
    };
    if (out.dose_kg_per_kg.empty()) {
        out.notices.back().text += what_forbids(target, supplies, options, continuous);
        return {};
    }
    if (!target.batch || keeps_limits(out)) {
        return {};
    }
    // Rounding pushed a limit: search with room for it, then with every step in the search.
    const Target with_room = narrowed(target, supplies, out);
    for (const bool every_step : {false, true}) {
        Solution again = continuous;
        BW_CHECK(search_and_round(every_step ? target : with_room, supplies, options, every_step,
                                  again));
        if (!again.dose_kg_per_kg.empty() && keeps_limits(again)) {
            out = std::move(again);
            return {};
        }
    }
    out.verdict = Verdict::NotProven;
    out.dose_kg_per_kg.clear();
    out.notices.push_back({"weighing_steps",
                           "There is a recipe, but none was found whose weighings keep every limit "
                           "after rounding to the scales' "
                           "steps: take a finer scale, or widen the limit that it leans on."});
    return {};
}

}  // namespace bw::recipe
