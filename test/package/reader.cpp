// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Seawater of salinity 35 at 25 degC, once by itself and a thousand times as a batch on two threads.
#include <cmath>
#include <cstdio>
#include <vector>

#include <brine/reference_totals.hpp>
#include <brine/water.hpp>
#include <brine/water_batch.hpp>

int main() {
    using namespace bw;
    const auto model = brine::WaterModel::at(unit::Celsius(25));
    if (!model) {
        return 1;
    }
    constexpr double kGramPerKg = 35.16504;
    brine::WaterInput water;
    water.mol_per_kg = matter::reference_seawater(kGramPerKg);
    const brine::ReferenceTotals totals = brine::reference_totals(35);
    water.closing = {{{brine::Closure::Alkalinity, totals.alkalinity_eq_per_kg},
                      {brine::Closure::Carbon, totals.carbon_mol_per_kg}}};
    const auto one = model->state(water);

    constexpr std::size_t kMany = 1000;
    std::vector<std::vector<double>> amounts;
    brine::WaterBatch batch;
    batch.count = kMany;
    for (const double amount : totals.mol_per_kg) {
        amounts.emplace_back(kMany, amount);
    }
    for (std::size_t t = 0; t < amounts.size(); ++t) {
        batch.mol_per_kg[t] = amounts[t];
    }
    const std::vector<double> alkalinity(kMany, totals.alkalinity_eq_per_kg);
    const std::vector<double> carbon(kMany, totals.carbon_mol_per_kg);
    batch.closing_value = {alkalinity, carbon};
    std::vector<double> ph(kMany);
    brine::WaterBatchResults results;
    results.ph_total = ph;
    if (!one || !brine::solve_batch(*model, batch, results, 2)) {
        return 1;
    }
    std::printf("%.4f %.4f\n", one->ph_total, ph.back());
    constexpr double kSame = 1e-9;
    return std::abs(one->ph_total - ph.back()) < kSame ? 0 : 1;
}
