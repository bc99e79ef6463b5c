// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/solve.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "opt/lp_solver.hpp"
#include "recipe/discrete.hpp"
#include "recipe/stages.hpp"

namespace bw::recipe {
namespace {

void note_certificates(Solution& out) {
    for (const Stage& stage : out.stages) {
        if (!stage.certificate.holds(kCertificateTolerance)) {
            out.notices.push_back(
                {"certificate",
                 fmt::format("The answer to '{}' could not be proven best: residuals {}, {}, {}.",
                             stage.what,
                             base::format_significant(stage.certificate.primal_residual, 2),
                             base::format_significant(stage.certificate.dual_residual, 2),
                             base::format_significant(stage.certificate.complementarity, 2))});
        }
    }
}

/// Whether a dose brings so little of what it is bought for that it is the solver's dust, not a
/// recipe.
bool is_dust(const Model& model, const Solution& s, std::size_t j) {
    constexpr double kDust = 1e-5;
    return s.dose_kg_per_kg[j] > 0 && s.dose_kg_per_kg[j] < kDust * model.dose_scale[j];
}

/// Solves again without the materials that came in as dust through the slip of the stages; keeps
/// the first answer where that serves a stage worse. What is below round-off goes in any case.
Result<void> sweep_dust(Model& model, const std::vector<Objective>& objectives, Solution& out) {
    bool any = false;
    for (std::size_t j = 0; j < out.dose_kg_per_kg.size(); ++j) {
        const auto column = static_cast<std::size_t>(model.dose[j]);
        if (is_dust(model, out, j) && model.lp.column_low[column] == 0) {
            model.lp.column_high[column] = 0;
            any = true;
        }
    }
    if (any) {
        Solution swept;
        BW_TRY(feasible, serve(model, objectives, swept));
        bool as_good = feasible && swept.stages.size() == out.stages.size();
        for (std::size_t k = 0; as_good && k < out.stages.size(); ++k) {
            as_good = swept.stages[k].objective <=
                      out.stages[k].objective +
                          kMostSlip * std::max(1.0, std::abs(out.stages[k].objective));
        }
        if (as_good) {
            out.stages = std::move(swept.stages);
            out.dose_kg_per_kg = std::move(swept.dose_kg_per_kg);
            out.slip = swept.slip;
        }
    }
    constexpr double kRoundOff = 1e-8;
    for (std::size_t j = 0; j < out.dose_kg_per_kg.size(); ++j) {
        if (out.dose_kg_per_kg[j] < kRoundOff * model.dose_scale[j]) {
            out.dose_kg_per_kg[j] = 0;
        }
    }
    return {};
}

}  // namespace

std::vector<Supply> sorted_by_label(std::vector<Supply> supplies) {
    std::sort(supplies.begin(), supplies.end(),
              [](const Supply& a, const Supply& b) { return a.label() < b.label(); });
    return supplies;
}

Result<Solution> solve(const Target& target, const std::vector<Supply>& supplies,
                       const SolveOptions& options) {
    Solution out;
    Model model = build_model(target, supplies);
    const std::vector<Objective> objectives = objectives_of(model, options);
    BW_TRY(feasible, serve(model, objectives, out));
    if (!feasible) {
        const opt::InfeasibilityProof proof = opt::prove_infeasible(model.lp);
        out.infeasibility_gap = proof.gap;
        out.verdict = proof.holds() ? Verdict::Infeasible : Verdict::NotProven;
        if (!proof.holds()) {
            out.notices.push_back(
                {"not_proven",
                 "The solver found no recipe, but its proof that there is none is not "
                 "sharper than round-off: the target lies on the edge of what is possible."});
        }
        return out;
    }
    out.verdict = Verdict::Solved;
    BW_CHECK(sweep_dust(model, objectives, out));
    if (needs_whole_numbers(target, supplies) && options.may_break.empty()) {
        BW_CHECK(solve_in_whole_numbers(target, supplies, options, out));
        if (out.dose_kg_per_kg.empty()) {
            return out;
        }
    }
    note_certificates(out);
    out.water = made_up_water(supplies, target.purified_water, out.dose_kg_per_kg);
    if (options.may_break.empty()) {
        for (const Breach& breach : breaches(target, out.water, kHardTolerance)) {
            out.verdict = Verdict::NotProven;
            out.notices.push_back(
                {"recheck",
                 fmt::format("Re-computing the water shows that {} by {} of the limit.",
                             breach.what, base::format_significant(breach.by_of_band, 2))});
        }
    }
    return out;
}

}  // namespace bw::recipe
