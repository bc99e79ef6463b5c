// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/discrete.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "opt/lp_solver.hpp"
#include "recipe/stages.hpp"
#include "recipe/weighing.hpp"

namespace bw::recipe {
namespace {

using opt::Entry;
using opt::kInfinity;

bool weighed_in_steps(const Target& target, const std::vector<Supply>& supplies) {
    return std::any_of(supplies.begin(), supplies.end(),
                       [&](const Supply& s) { return step_of(target, s).has_value(); });
}

/// Kilograms of finished water that the batch makes, as the continuous recipe has it.
double nominal_water_kg(const Target& target, const std::vector<double>& dose) {
    const double blend = std::accumulate(dose.begin(), dose.end(), 0.0);
    return target.batch ? target.batch->blend_kg / blend : 1;
}

/// Of the mass of a batch: a swing that none would see.
constexpr double kUnseenSwing = 5e-4;

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
        if (target.batch) {
            options_.water_kg = water_kg;
        }
        if (swing() > 0) {
            find_sizes();
        }
        model = build_model(target, supplies, options_);
        add_mass(model);
        find_most_doses();
        restrict();
    }

    Model model;
    std::vector<int> integers;
    bool tied = false;        ///< some dose is a whole number of packages or steps
    bool restricted = false;  ///< some material cannot be used at all

    /// Holds the whole-number columns, and the size of the batch, at the values of a point.
    void fix(const std::vector<double>& point) {
        std::vector<int> columns = integers;
        columns.push_back(model.size);
        for (const int column : columns) {
            const auto k = static_cast<std::size_t>(column);
            model.lp.column_low[k] = point[k];
            model.lp.column_high[k] = point[k];
        }
    }

private:
    [[nodiscard]] double swing() const { return target_.batch ? target_.batch->blend_swing : 0; }

    /// The mass of a batch that may swing, and how far it is from the mass asked.
    void add_mass(Model& m) const {
        if (swing() <= 0) {
            return;
        }
        const double blend = target_.batch->blend_kg / water_kg_;
        std::vector<Entry> row;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            row.push_back({m.dose[j], m.dose_scale[j] / blend});
        }
        m.lp.add_row(row, 1 - swing(), 1 + swing());
        m.off_mass = {m.lp.add_column(0, 0, kInfinity), m.lp.add_column(0, 0, kInfinity)};
        row.push_back({m.off_mass[0], -1});
        row.push_back({m.off_mass[1], 1});
        m.lp.add_row(row, 1, 1);
    }

    /// The sizes that the swing of the mass allows: a blend of other materials may be heavier or
    /// lighter per kilogram of water than the continuous recipe's, so the swing alone does not say.
    void find_sizes() {
        constexpr double kWidest = 4;
        options_.size_low = 1 / kWidest;
        options_.size_high = kWidest;
        Model wide = build_model(target_, supplies_, options_);
        add_mass(wide);
        opt::LpSolver solver(with_cost(wide.lp, wide.size, 1));
        const opt::LpSolution least = solver.solve();
        solver.set_cost(with_cost(wide.lp, wide.size, -1).cost);
        const opt::LpSolution most = solver.solve();
        if (least.status == opt::SolveStatus::Optimal && most.status == opt::SolveStatus::Optimal) {
            options_.size_low = least.objective * (1 - kHardTolerance);
            options_.size_high = -most.objective * (1 + kHardTolerance);
        }
    }

    static opt::LinearProgram with_cost(opt::LinearProgram lp, int column, double cost) {
        lp.cost.assign(static_cast<std::size_t>(lp.columns()), 0);
        lp.cost[static_cast<std::size_t>(column)] = cost;
        return lp;
    }

    /// The most of each material that all limits together leave room for. A search over whole
    /// numbers is the shorter, the less room they have.
    void find_most_doses() {
        opt::LpSolver solver(model.lp);
        constexpr double kRoom = 1e-6;  // for the tolerance of the program's rows
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            solver.set_cost(with_cost(model.lp, model.dose[j], -1).cost);
            const opt::LpSolution most = solver.solve();
            if (most.status == opt::SolveStatus::Optimal) {
                model.most_dose[j] =
                    std::min(model.most_dose[j],
                             (kRoom - most.objective * (1 + kRoom)) * model.dose_scale[j]);
            }
        }
    }

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
    }

    /// dose = whole number * unit
    void tie_to(std::size_t j, double unit) {
        const double most = std::floor(std::min(model.most_dose[j], options_.size_high) /
                                       model.dose_scale[j] / unit);
        tied = true;
        const int number = model.lp.add_column(0, 0, most);
        integers.push_back(number);
        model.lp.add_row(std::vector<Entry>{{model.dose[j], 1 / unit}, {number, -1}}, 0, 0);
    }

    /// Flags of the materials used, for their number and for the least that is dosed or weighed. A
    /// smallest dose goes with the size of the batch, a smallest weighing does not.
    void add_use_flags() {
        const double dose = target_.limits.smallest_dose_kg_per_kg.value_or(0);
        const double weighing =
            target_.batch ? target_.batch->smallest_weighing_kg.value_or(0) / water_kg_ : 0;
        if (dose <= 0 && weighing <= 0 && !target_.limits.most_materials) {
            return;
        }
        const double low = options_.size_low;
        const double high = options_.size_high;
        std::vector<Entry> count;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const double scale = model.dose_scale[j];
            const double most = std::min(model.most_dose[j], high);
            if (std::max(dose * low, weighing) > most) {  // cannot be dosed at all
                model.lp.column_high[static_cast<std::size_t>(model.dose[j])] = 0;
                restricted = true;
                continue;
            }
            const int used = model.lp.add_column(0, 0, 1);
            integers.push_back(used);
            count.push_back({used, 1});
            model.lp.add_row(std::vector<Entry>{{model.dose[j], 1}, {used, -most / scale}},
                             -kInfinity, 0);
            if (weighing > 0) {
                model.lp.add_row(std::vector<Entry>{{model.dose[j], 1}, {used, -weighing / scale}},
                                 0, kInfinity);
            }
            if (dose > 0) {  // dose >= smallest * size when used, whatever the size
                const double least = dose / scale;
                model.lp.add_row(
                    std::vector<Entry>{
                        {model.dose[j], 1}, {model.size, -least}, {used, -least * high}},
                    -least * high, kInfinity);
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
    ModelOptions options_;
};

}  // namespace

bool needs_whole_numbers(const Target& target, const std::vector<Supply>& supplies) {
    if (target.limits.most_materials || target.limits.smallest_dose_kg_per_kg || target.batch) {
        return true;
    }
    return std::any_of(supplies.begin(), supplies.end(),
                       [&](const Supply& s) { return in_whole_packages(target, s); });
}

namespace {

/// One search for a given size of the batch. The verdict of `out` tells whether there is a recipe;
/// its doses are not rounded yet.
Result<bool> search_once(const Target& target, const std::vector<Supply>& supplies,
                         const SolveOptions& options, bool every_step, double& water_kg,
                         int& nodes_left, Solution& out) {
    Search search(target, supplies, out.dose_kg_per_kg, water_kg, every_step);
    if (search.integers.empty() && !search.restricted) {
        return false;
    }
    const std::vector<Objective> objectives =
        objectives_of(search.model, options, weighed_in_steps(target, supplies) ? kWeighedMiss : 0);
    const auto [point, proven, left] =
        serve_in_whole_numbers(search.model, objectives, search.integers, nodes_left);
    nodes_left = left;
    if (point.empty()) {
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

/// Says so where whole packages and steps leave a batch without a swing off the mass asked.
void note_mass(const Target& target, Solution& out) {
    constexpr double kSeen = 2e-4;
    const double asked = target.batch->blend_kg;
    const double off = *out.blend_kg / asked - 1;
    if (target.batch->blend_swing > 0 || std::abs(off) < kSeen) {
        return;
    }
    constexpr int kDigits = 6;
    out.notices.push_back(
        {"batch_mass",
         fmt::format("The batch weighs {} kg where {} kg were asked: packages and weighings are "
                     "whole numbers, and the water it is for was not moved to make up for them. "
                     "Where the target lets the mass of the batch swing it is.",
                     base::format_significant(*out.blend_kg, kDigits),
                     base::format_significant(asked, kDigits))});
}

/// Searches for the size of the batch that the mass asked makes. Gives whether some dose is a whole
/// number of packages or steps.
///
/// A batch without a swing gets one that none would see. Where packages and steps leave no recipe
/// in that, its water is fixed, and the search is repeated where another choice of materials makes
/// the blend heavier or lighter per kilogram of water.
Result<bool> search_at_mass(const Target& target, const std::vector<Supply>& supplies,
                            const SolveOptions& options, bool every_step, double& water_kg,
                            Solution& out) {
    const Solution continuous = out;
    const double nominal = water_kg;
    int nodes_left = options.most_nodes;
    Target held = target;
    if (target.batch && target.batch->blend_swing <= 0) {
        held.batch->blend_swing = kUnseenSwing;
        nodes_left /= 2;
    }
    BW_TRY(swung, search_once(held, supplies, options, every_step, water_kg, nodes_left, out));
    bool tied = swung;
    if (!out.dose_kg_per_kg.empty() || !target.batch || target.batch->blend_swing > 0) {
        return tied;
    }
    water_kg = nominal;
    nodes_left += options.most_nodes / 2;
    constexpr int kRounds = 4;
    for (int round = 0; round < kRounds; ++round) {
        out = continuous;
        const double asked = water_kg;
        BW_TRY(ties, search_once(target, supplies, options, every_step, water_kg, nodes_left, out));
        tied = ties;
        if (out.dose_kg_per_kg.empty()) {
            break;
        }
        const double wanted = nominal_water_kg(target, out.dose_kg_per_kg);
        constexpr double kSame =
            1e-3;  // of the mass: what is left is made good later, or is a step of a scale
        if (std::abs(wanted / asked - 1) < kSame) {
            break;
        }
        water_kg = wanted;
    }
    return tied;
}

/// Searches, and rounds the weighings.
Result<void> search_and_round(const Target& target, const std::vector<Supply>& supplies,
                              const SolveOptions& options, bool every_step, Solution& out) {
    double water_kg = nominal_water_kg(target, out.dose_kg_per_kg);
    BW_TRY(tied, search_at_mass(target, supplies, options, every_step, water_kg, out));
    if (!target.batch || out.dose_kg_per_kg.empty()) {
        return {};
    }
    if (!tied) {
        const double exact = nominal_water_kg(target, out.dose_kg_per_kg);
        water_kg = keeps_doses(target, supplies, out.dose_kg_per_kg, exact) ? exact : water_kg;
    }
    out.dose_kg_per_kg = rounded(target, supplies, out.dose_kg_per_kg, water_kg);
    out.batch_finished_water_kg = water_kg;
    out.blend_kg = water_kg * out.blend_kg_per_kg();
    note_mass(target, out);
    return {};
}

/// Whether a short search finds any point at all, however good.
bool some_point_exists(const Target& target, const std::vector<Supply>& supplies,
                       const SolveOptions& options, const Solution& continuous) {
    constexpr int kShort = 4;
    const double water_kg = nominal_water_kg(target, continuous.dose_kg_per_kg);
    const auto exists = [&](const Target& t) {
        Search search(t, supplies, continuous.dose_kg_per_kg, water_kg, false);
        std::fill(search.model.lp.cost.begin(), search.model.lp.cost.end(), 0.0);
        opt::MilpLimits limits;
        limits.most_nodes = options.most_nodes / kShort;
        return opt::solve_milp(search.model.lp, search.integers, limits).found;
    };
    Target held = target;
    if (target.batch && target.batch->blend_swing <= 0) {
        held.batch->blend_swing = kUnseenSwing;
    }
    return exists(held) ||
           (held.batch && held.batch->blend_swing > target.batch->blend_swing && exists(target));
}

/// Which of the limits on whole numbers, left out alone, would let a recipe through.
std::string what_forbids(const Target& target, const std::vector<Supply>& supplies,
                         const SolveOptions& options, const Solution& continuous) {
    std::vector<std::string> found;
    const auto try_without = [&](const std::string& what, const Target& t,
                                 const std::vector<Supply>& s) {
        if (some_point_exists(t, s, options, continuous)) {
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
    std::vector<std::string> whole;
    for (Supply& supply : by_weight) {
        if (in_whole_packages(target, supply)) {
            whole.push_back(fmt::format("{} ({} kg)", supply.material.name,
                                        base::format_short(*supply.material.package_kg, 4)));
        }
        supply.material.whole_packages = false;
    }
    if (!whole.empty()) {
        try_without("whole packages of " + base::join_words(whole) +
                        ", which a batch whose mass may swing more would allow",
                    target, by_weight);
    }
    return found.empty() ? std::string()
                         : " What stands in the way is " + base::join_words(found, "or") + ".";
}

}  // namespace

Result<void> nearest_in_whole_numbers(const Target& target, const std::vector<Supply>& supplies,
                                      const SolveOptions& options, Solution& out) {
    SolveOptions short_search = options;
    constexpr int kNodes = 2000;
    short_search.most_nodes = std::min(options.most_nodes, kNodes);
    const base::Notices notices = out.notices;
    BW_CHECK(search_and_round(target, supplies, short_search, false, out));
    out.verdict = Verdict::Solved;
    out.notices = notices;
    return {};
}

Result<void> solve_in_whole_numbers(const Target& target, const std::vector<Supply>& supplies,
                                    const SolveOptions& options, Solution& out) {
    const Solution continuous = out;
    BW_CHECK(search_and_round(target, supplies, options, false, out));
    const auto keeps_limits = [&](Solution& s) {
        s.water = made_up_water(supplies, target.purified_water, s.dose_kg_per_kg);
        return breaches(target, s.water, kHardTolerance).empty() &&
               cut_breaches(target, supplies, s.dose_kg_per_kg, kHardTolerance).empty() &&
               keeps_doses(target, supplies, s.dose_kg_per_kg,
                           s.batch_finished_water_kg.value_or(1));
    };
    if (out.dose_kg_per_kg.empty()) {
        out.notices.back().text += what_forbids(target, supplies, options, continuous);
        return {};
    }
    if (keeps_limits(out)) {
        return {};
    }
    // Rounding pushed a limit: search with room for it, then with every step in the search.
    const Target with_room = narrowed(target, supplies, out);
    for (const bool every_step : target.batch ? std::vector{false, true} : std::vector<bool>{}) {
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
