// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/prediction.hpp"

#include <numeric>

#include "recipe/evaluate.hpp"
#include "recipe/robustness.hpp"
#include "unit/factors.hpp"

namespace bw::service {

std::vector<works::Predicted> predicted_water(const recipe::Target& target,
                                              const std::vector<recipe::Supply>& supplies,
                                              const std::vector<double>& dose_kg_per_kg) {
    recipe::Solution solution;
    solution.verdict = recipe::Verdict::Solved;
    solution.dose_kg_per_kg = dose_kg_per_kg;
    solution.water = recipe::made_up_water(supplies, target.purified_water, dose_kg_per_kg);
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
    for (const double part : g_per_kg_purified_water) {
        out.push_back(part / total);
    }
    return out;
}

}  // namespace bw::service
