// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "brine/ion_volumes.hpp"
#include "matter/constituent.hpp"

namespace bw::brine {

/// Up to which the properties of waters are known; halite saturates at 264 g/kg.
inline constexpr double kMostDissolved_g_per_kg = 300;

/// Rounded atomic weights move the mass of a composition by 1e-6; one at a limit is within it up to
/// this part of the limit.
inline constexpr double kRoundedWeights = 1e-5;

/// What is dissolved, as the models of volume, conduction and refraction need it.
struct DissolvedIons {
    std::array<double, kIonCount> molality{};  ///< mol per kg of water
    double water_kg_per_kg = 1;                ///< kg of water per kg of solution
    double dissolved_g_per_kg = 0;             ///< per kg of solution
    double ionic_strength = 0;                 ///< mol per kg of water
    double imbalance_eq_per_kg = 0;            ///< positive less negative charge, per kg of water
    double equivalents_per_kg = 0;             ///< of the cations or anions, whichever are more
    double other_g_per_kg = 0;                 ///< mass of what no table knows, g per kg of water
    double other_mol_per_kg = 0;
    double other_volume_cm3_per_kg = 0;  ///< guessed volume of it

    [[nodiscard]] double operator[](Ion ion) const {
        return molality[static_cast<std::size_t>(ion)];
    }
    double& operator[](Ion ion) { return molality[static_cast<std::size_t>(ion)]; }
};

/// Distributes the totals of a water over dissolved forms.
///
/// Definition   B(OH)4 is 0.2428 of boron, as in Reference-Composition Seawater (pH 8.1); carbon
///              holds the rest of the alkalinity as HCO3 and CO3 by charge and mass balance, CO2
///              or OH where there is too much carbon or too little. Where no carbon is given it
///              is taken to be one mole of HCO3 per equivalent. Negative alkalinity is H+.
/// Inputs       mol (eq for alkalinity) per kg of solution.
/// Valid        dissolved mass 0 to 300 g/kg of solution.
/// Accuracy     at S 35, a tenth of the boron more as borate moves the density by 0.0004 kg/m3, all
///              carbon taken as HCO3 by 0.005 kg/m3; conductivity by 0.001 %.
/// Errors       OutOfRange for amounts that are negative or no numbers, or above 300 g/kg.
/// Source       [millero-2008] for the share; balance as [wolf-gladrow-2007].
/// Deviates     pH is not solved for. Complexity: one pass.
[[nodiscard]] Result<DissolvedIons> dissolved_ions(const matter::Amounts& mol_per_kg);

/// The same for Reference-Composition Seawater, 0 to 300 g/kg; aborts outside.
[[nodiscard]] DissolvedIons natural_ions(double g_per_kg);

/// Mass that one water has in other salts than natural seawater of the same dissolved mass:
/// half the sum of the differences [g per kg of solution].
[[nodiscard]] double displaced_g_per_kg(const matter::Amounts& mol_per_kg);

/// Volume of one mole of a dissolved form [cm3/mol], and the part that ionic strength brings.
struct IonVolume {
    double total;
    double by_strength;
};
struct Solvent;
[[nodiscard]] IonVolume ion_volume(const IonRow& ion, const Solvent& water, double ionic_strength);

/// Notices and uncertainties common to all properties: what no table knows, charge that does not
/// balance.
void note_unknown(const DissolvedIons& ions, base::Notices& notices);

}  // namespace bw::brine
