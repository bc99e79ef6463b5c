// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_density.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "brine/dissolved_ions.hpp"
#include "brine/physical_constants.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/reference_density.hpp"
#include "brine/solvent.hpp"

namespace bw::brine {
namespace {

constexpr double kBaseGramPerKg = 70;  // range of [millero-huang-2009]
constexpr double kStrong_g_per_kg =
    42 * kGramPerKgPerPracticalSalinity;  // range of [millero-poisson-1981]
// Standard uncertainties, own comparison with [lo-surdo-1982] and between the two; see the header.
constexpr double kNatural_kg_per_m3 = 0.004;
constexpr double kPerDisplaced = 0.02;
constexpr double kPerStrong = 0.01;
constexpr double kOther_cm3_per_mol = 20;
constexpr double kStep_K = 0.1;
constexpr double kHighestCelsius = 40;

double by_volumes(const DissolvedIons& ions, const Solvent& water) {
    double cm3 = kCm3PerM3 / water.density_kg_per_m3 + ions.other_volume_cm3_per_kg;  // kg of water
    for (std::size_t i = 0; i < kIonCount; ++i) {
        if (ions.molality[i] != 0) {
            cm3 += ions.molality[i] * ion_volume(ion_table()[i], water, ions.ionic_strength).total;
        }
    }
    return kCm3PerM3 / (ions.water_kg_per_kg * cm3);
}

double uncertainty(const matter::Amounts& amounts, const DissolvedIons& ions) {
    const double displaced = kPerDisplaced * displaced_g_per_kg(amounts);
    const double strong = kPerStrong * std::max(0.0, ions.dissolved_g_per_kg - kStrong_g_per_kg);
    // cm3 per kg of solution moves the density by about 1 kg/m3
    const double other = kOther_cm3_per_mol *
                         (ions.other_mol_per_kg + std::fabs(ions.imbalance_eq_per_kg)) *
                         ions.water_kg_per_kg;
    return std::sqrt(kNatural_kg_per_m3 * kNatural_kg_per_m3 + displaced * displaced +
                     strong * strong + other * other);
}

}  // namespace

Result<Estimate> density(const matter::Amounts& mol_per_kg, unit::Celsius temperature) {
    BW_CHECK(check_temperature(temperature, "the density of a water"));
    BW_TRY(ions, dissolved_ions(mol_per_kg));
    const double base = std::min(ions.dissolved_g_per_kg, kBaseGramPerKg);
    BW_TRY(natural, reference_seawater_density(unit::GramPerKg(base), temperature));
    const Solvent water = solvent(temperature);
    Estimate out;
    out.value = natural.value() + (by_volumes(ions, water) - by_volumes(natural_ions(base), water));
    out.standard_uncertainty = uncertainty(mol_per_kg, ions);
    note_unknown(ions, out.notices);
    if (ions.dissolved_g_per_kg > kStrong_g_per_kg * (1 + kRoundedWeights)) {
        out.extrapolated = true;
        out.notices.push_back(
            {"density_strong",
             fmt::format("{:.4g} g/kg is stronger than the seawater whose density was measured (42 "
                         "g/kg); the value carries {:.2g} kg/m3.",
                         ions.dissolved_g_per_kg, out.standard_uncertainty)});
    }
    return out;
}

Result<double> density_by_volumes(const matter::Amounts& mol_per_kg, unit::Celsius temperature) {
    BW_CHECK(check_temperature(temperature, "the density of a water"));
    BW_TRY(ions, dissolved_ions(mol_per_kg));
    return by_volumes(ions, solvent(temperature));
}

Result<double> thermal_expansion_per_K(const matter::Amounts& mol_per_kg,
                                       unit::Celsius temperature) {
    BW_CHECK(check_temperature(temperature, "the expansion of a water"));
    const double t = std::clamp(temperature.value(), kStep_K, kHighestCelsius - kStep_K);
    BW_TRY(below, density(mol_per_kg, unit::Celsius(t - kStep_K)));
    BW_TRY(above, density(mol_per_kg, unit::Celsius(t + kStep_K)));
    return (below.value - above.value) / (kStep_K * (below.value + above.value));
}

Result<double> specific_gravity(const matter::Amounts& mol_per_kg, unit::Celsius t,
                                unit::Celsius t_water) {
    BW_TRY(liquid, density(mol_per_kg, t));
    BW_TRY(water, pure_water_density(t_water));
    return liquid.value / water.value();
}

Result<double> specific_gravity(unit::GramPerKg salinity, unit::Celsius t, unit::Celsius t_water) {
    BW_TRY(liquid, reference_seawater_density(salinity, t));
    BW_TRY(water, pure_water_density(t_water));
    return liquid / water;
}

}  // namespace bw::brine
