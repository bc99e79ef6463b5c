// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <vector>

#include "blend/bag_salts.hpp"

namespace bw::blend {

/// What a bag holds that can react, and the water that it makes.
struct BagContents {
    double bicarbonate_mol = 0, calcium_mol = 0, sulfate_mol = 0, carbonate_mol = 0;
    double finished_kg = 0;  ///< water that the bag makes
    double celsius = 25;
};

/// Carbonates that met calcium in a film: 2 NaHCO3 + CaCl2 -> CaCO3 + 2 NaCl + CO2 + H2O and
/// Na2CO3 + CaCl2 -> CaCO3 + 2 NaCl.
struct CarbonateLoss {
    double loss = 0;  ///< share of hydrogencarbonate and carbonate that reacted
    double co2_L = 0;
    double calcium_carbonate_g = 0;
    double seed_mg_per_kg_water = 0;
    double alkalinity_lost_mmol_per_kg_water = 0;
    double calcium_lost_mmol_per_kg_water = 0;
};

inline constexpr std::array<double, 7> kLosses{0.001, 0.003, 0.01, 0.02, 0.03, 0.05, 0.10};

/// Amounts for one loss; more than the calcium allows is cut there.
///
/// Definition   half a mol of CO2 and of CaCO3 per mol of hydrogencarbonate, one mol of CaCO3 per
///              mol of carbonate, both losing the same share; gas ideal at one atmosphere.
/// Inputs       contents, none negative; loss 0 to 1.
/// Accuracy     of the gas law, 1 %. What the loss will be is not known: no rate is.
/// Errors       none. Source stoichiometry.
[[nodiscard]] CarbonateLoss carbonate_loss(const BagContents& bag, double loss);

/// Gypsum from calcium and sulfate that met.
struct GypsumMade {
    double share = 0;  ///< of the scarcer of the two
    double gypsum_g = 0;
    double mg_per_kg_water = 0;
};
[[nodiscard]] GypsumMade gypsum_made(const BagContents& bag, double share);

/// Partial pressure of CO2 over hydrogencarbonate and carbonate [bar].
///
/// Definition   2 NaHCO3 = Na2CO3 + CO2 + H2O: p(CO2) p(H2O) = K, K of 25 degC carried to the
///              temperature with a constant enthalpy.
/// Inputs       degC; water vapour [bar], above 0. Valid 0 to 60 degC. Accuracy a factor of 1.5.
/// Source       [extended-uniquac]
[[nodiscard]] double decarbonation_pressure_bar(double celsius, double water_vapour_bar);

}  // namespace bw::blend
