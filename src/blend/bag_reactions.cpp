// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/bag_reactions.hpp"

#include <algorithm>
#include <cmath>

#include "base/result.hpp"
#include "brine/temperature_function.hpp"
#include "ref/dry_bag_tables.hpp"

namespace bw::blend {
namespace {

constexpr double kZeroCelsius = 273.15;
constexpr double kLitreAtmPerMolK = 0.0820574;
constexpr double kCalciumCarbonateGPerMol = 100.086;
constexpr double kGypsumGPerMol = 172.17;
constexpr double kMilli = 1000;

}  // namespace

CarbonateLoss carbonate_loss(const BagContents& bag, double loss) {
    const double wanted = (bag.bicarbonate_mol / 2 + bag.carbonate_mol) * loss;
    const double made = std::min(wanted, bag.calcium_mol);
    const double of_bicarbonate = wanted > 0 ? bag.bicarbonate_mol / 2 * loss / wanted : 0;
    CarbonateLoss out;
    out.loss = loss;
    out.co2_L = made * of_bicarbonate * kLitreAtmPerMolK * (bag.celsius + kZeroCelsius);
    out.calcium_carbonate_g = made * kCalciumCarbonateGPerMol;
    if (bag.finished_kg > 0) {
        out.seed_mg_per_kg_water = out.calcium_carbonate_g * kMilli / bag.finished_kg;
        out.alkalinity_lost_mmol_per_kg_water = 2 * made * kMilli / bag.finished_kg;
        out.calcium_lost_mmol_per_kg_water = made * kMilli / bag.finished_kg;
    }
    return out;
}

GypsumMade gypsum_made(const BagContents& bag, double share) {
    const double grams = std::min(bag.calcium_mol, bag.sulfate_mol) * share * kGypsumGPerMol;
    return {share, grams, bag.finished_kg > 0 ? grams * kMilli / bag.finished_kg : 0};
}

double decarbonation_pressure_bar(double celsius, double water_vapour_bar) {
    const auto rows = ref::bag_reactions();
    const auto row = std::find_if(rows.begin(), rows.end(),
                                  [](const auto& r) { return r.key == "decarbonation"; });
    base::expect(row != rows.end(), "the table of the dry bag lacks the decarbonation");
    using brine::temperature::kGasConstant_kJ_per_mol_K;
    using brine::temperature::kT25;
    const double kelvin = celsius + kZeroCelsius;
    const double ln_k = -row->gibbs_kJ / (kGasConstant_kJ_per_mol_K * kT25) -
                        row->heat_kJ / kGasConstant_kJ_per_mol_K * (1 / kelvin - 1 / kT25);
    return std::exp(ln_k) / water_vapour_bar;
}

}  // namespace bw::blend
