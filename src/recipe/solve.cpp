// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/solve.hpp"

#include <algorithm>
#include <numeric>

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

}  // namespace

double Solution::blend_kg_per_kg() const {
    return std::accumulate(dose_kg_per_kg.begin(), dose_kg_per_kg.end(), 0.0);
}

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
    if (options.whole_numbers && !options.may_break.empty() &&
        needs_whole_numbers(target, supplies)) {
        Solution whole = out;
        BW_CHECK(nearest_in_whole_numbers(target, supplies, options, whole));
        out = whole.dose_kg_per_kg.empty() ? std::move(out) : std::move(whole);
    } else if (options.whole_numbers && needs_whole_numbers(target, supplies)) {
        BW_CHECK(solve_in_whole_numbers(target, supplies, options, out));
        if (out.dose_kg_per_kg.empty()) {
            return out;
        }
    }
    note_certificates(out);
    out.water = made_up_water(supplies, target.purified_water, out.dose_kg_per_kg);
    if (options.may_break.empty()) {
        std::vector<Breach> broken = breaches(target, out.water, kHardTolerance);
        for (Breach& breach : cut_breaches(target, supplies, out.dose_kg_per_kg, kHardTolerance)) {
            broken.push_back(std::move(breach));
        }
        for (const Breach& breach : broken) {
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
