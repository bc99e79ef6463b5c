// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "opt/linear_program.hpp"
#include "recipe/evaluate.hpp"
#include "recipe/model.hpp"
#include "recipe/target.hpp"

namespace bw::recipe {

/// One stage of the lexicographic solve, with the certificate that its answer is optimal.
struct Stage {
    std::string what;  ///< what was made least: "largest miss, priority 2", "cost" ...
    double objective = 0;
    opt::Certificate certificate;
    int iterations = 0;
};

enum class Verdict {
    Solved,
    Infeasible,  ///< proven: no doses hold all bands, ratios, ceilings and the salinity
    NotProven,   ///< no recipe that stands up to the re-check, and no proof that there is none
};

struct Solution {
    Verdict verdict = Verdict::NotProven;
    std::vector<double> dose_kg_per_kg;  ///< of each supply, per kg of finished water
    MadeUpWater water;
    std::vector<Stage> stages;
    double infeasibility_gap = 0;    ///< > 0 proves an infeasible verdict
    std::optional<double> blend_kg;  ///< of the batch, when there is one
    std::optional<double> batch_finished_water_kg;
    base::Notices notices;

    /// All doses together.
    [[nodiscard]] double blend_kg_per_kg() const;
};

struct SolveOptions {
    /// Doses to stay near to, before the cost (lot adjustment) [kg/kg]: the misses are made least
    /// with each change at its price, kChangeMustBring; then the changes. Empty: none.
    std::vector<double> stay_near;
    /// Demands, by their number in Model::demands, that may be broken: the sum of their breaches,
    /// relative to each target, is made least before anything else. Empty: none.
    std::vector<std::size_t> may_break;
    /// False: numbers of materials, smallest doses, packages and weighing steps are passed over.
    bool whole_numbers = true;
    /// The stages without the limits that are not linear. Where these make a miss larger, it may
    /// slip by as much again, at most by kHeldOff: the last hair of a miss that such limits force
    /// can cost several per cent. What that saves no cost is given back. Empty: no such slip.
    std::vector<Stage> unhindered;
    /// True: goals are served to the last hair that limits leave, whatever it costs.
    bool goals_at_any_cost = false;
    int most_nodes = 20000;
};

/// Solves the recipe.
///
/// Definition   Bands, ratio bounds, ceilings, salinity and dose limits hold always. Then, priority
/// by priority: the
///              largest relative miss |achieved - target| / target is made least, then the sum of
///              misses; then the cost; then the mass of blend. Each stage is frozen before the next
///              (within kFreeze).
/// Inputs       supplies sorted by label (see sorted_by_label).
/// Accuracy     every stage's certificate is computed apart from the solver and returned; doses are
/// right to about
///              1e-9 of each target.
/// Errors       never for an infeasible problem: that is a verdict. Internal when the solver
/// contradicts itself. Complexity   2 linear programs per priority and 2 more, each warm; branch
/// and bound when numbers of materials,
///              smallest doses, whole packages or coarse weighing steps are asked for.
[[nodiscard]] Result<Solution> solve(const Target& target, const std::vector<Supply>& supplies,
                                     const SolveOptions& options = {});

/// What changing a weighing by all of itself must take off a relative miss to be worth it. Ours: a
/// change of 2 % for 2 % of an element is always made; two like materials do not change places for
/// a hair of a miss.
inline constexpr double kChangeMustBring = 0.05;
/// How far a frozen stage may slip, in relative miss: next to nothing where its goals are met; a
/// hundredth of the miss where they are not, for a hair of a miss is not worth a per cent of a
/// later goal or of the cost.
inline constexpr double kFreeze = 1e-9;
inline constexpr double kFreezeOfMiss = 0.01;
/// Of the target: a goal that a limit on the water holds off is as good so much farther off.
inline constexpr double kHeldOff = 1e-3;
/// Of the cost: what that slip must save at least, or it is taken back.
inline constexpr double kSameCost = 2e-4;
/// How far it may slip when round-off closes the room between stages.
inline constexpr double kMostSlip = 1e-6;
/// A certificate must hold to this. The simplex holds rows to 1e-9; multipliers of frozen stages
/// reach some hundreds, and the gap between primal and dual is their product.
inline constexpr double kCertificateTolerance = 1e-6;

[[nodiscard]] std::vector<Supply> sorted_by_label(std::vector<Supply> supplies);

}  // namespace bw::recipe
