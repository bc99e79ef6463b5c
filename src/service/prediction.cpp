// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/prediction.hpp"

#include <algorithm>
#include <numeric>

#include "recipe/evaluate.hpp"
#include "service/in_parts.hpp"
#include "unit/factors.hpp"

namespace bw::service {

namespace {

/// The target, speaking of everything that is in the water.
recipe::Target speaking_of_all(recipe::Target target, const matter::Amounts& water) {
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        const bool named =
            std::any_of(target.constituents.begin(), target.constituents.end(),
                        [&](const recipe::ConstituentGoal& g) { return g.constituent == c; });
        if (!named && water[c] != 0) {
            recipe::ConstituentGoal goal;
            goal.constituent = c;
            target.constituents.push_back(goal);
        }
    }
    return target;
}

}  // namespace

recipe::Robustness drawn_spread(const recipe::Target& target,
                                const std::vector<recipe::Supply>& supplies,
                                const recipe::Solution& solution, std::uint64_t draws,
                                std::uint64_t seed) {
    const recipe::SpreadModel model(target, supplies, solution);
    recipe::Robustness out = model.first_order();
    const std::uint64_t blocks = (draws + recipe::kDrawsPerBlock - 1) / recipe::kDrawsPerBlock;
    std::vector<recipe::SpreadModel::BlockSums> sums(blocks);
    in_parts(blocks, 0, [&](std::size_t begin, std::size_t end) {
        for (std::uint64_t b = begin; b < end; ++b) {
            const std::uint64_t left = draws - b * recipe::kDrawsPerBlock;
            sums[b] = model.draw_block(seed, b, std::min(left, recipe::kDrawsPerBlock));
        }
    });
    model.merge(sums, seed, out);
    return out;
}

recipe::Solution standing_solution(const recipe::Target& target,
                                   const std::vector<recipe::Supply>& supplies,
                                   const std::vector<double>& dose_kg_per_kg) {
    recipe::Solution out;
    out.verdict = recipe::Verdict::Solved;
    out.dose_kg_per_kg = dose_kg_per_kg;
    out.water = recipe::made_up_water(supplies, target.purified_water, dose_kg_per_kg);
    return out;
}

std::vector<works::Predicted> predicted_water(const recipe::Target& wanted,
                                              const std::vector<recipe::Supply>& supplies,
                                              const std::vector<double>& dose_kg_per_kg) {
    const recipe::Solution solution = standing_solution(wanted, supplies, dose_kg_per_kg);
    const recipe::Target target = speaking_of_all(wanted, solution.water.mol_per_kg);
    const recipe::Robustness spread = recipe::SpreadModel(target, supplies, solution).first_order();
    std::vector<works::Predicted> out;
    for (std::size_t i = 0; i < target.constituents.size(); ++i) {
        const matter::Constituent c = target.constituents[i].constituent;
        out.push_back(
            {std::string(c.symbol()), solution.water.mol_per_kg[c], spread.constituents[i].u});
    }
    return out;
}

std::vector<double> doses_of_parts(const std::vector<double>& g_per_kg_purified_water) {
    const double total = std::accumulate(g_per_kg_purified_water.begin(),
                                         g_per_kg_purified_water.end(), unit::kGramPerKg);
    std::vector<double> out;
    out.reserve(g_per_kg_purified_water.size());
    for (const double part : g_per_kg_purified_water) {
        out.push_back(part / total);
    }
    return out;
}

}  // namespace bw::service
