// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "brine/estimate.hpp"
#include "matter/constituent.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

inline constexpr double kSodiumLine_um = 0.58926;  // mean of the two sodium lines, [iapws-r9-97]

/// Refractive index of seawater in air at one atmosphere.
///
/// Definition   the terms without pressure of the 27-term equation of Millard and Seaver.
/// Inputs       practical salinity, temperature in degC, wavelength in um.
/// Valid        S 0 to 40, 0 to 30 degC, 0.5 to 0.7 um. Run on to S 120 and 40 degC without
///              error; callers flag that.
/// Accuracy     4.7e-6 (one standard deviation) to its data, 4e-7 in pure water; 2.5e-5 from
///              [quan-fry-1995] (0.14 in S); pure water 3.3e-6 from refractive_index_of_water
///              over air at 0 to 30 degC, 1.1e-5 at 40.
/// Errors       OutOfRange.
/// Source       [millard-seaver-1990]; the coefficient of t^3 with the wavelength is
///              -1.705881e-9, for -1.705881e-10, also in circulation, is 2.4e-5 off at 30 degC.
/// Deviates     temperature scale is taken as ITS-90 (below 1e-6). Complexity closed form.
[[nodiscard]] Result<double> seawater_refractive_index(unit::PracticalSalinity salinity,
                                                       unit::Celsius temperature,
                                                       double wavelength_um = kSodiumLine_um);

/// Refractive index of water in vacuum.
///
/// Definition   Lorentz-Lorenz refraction as a function of density, temperature and wavelength.
/// Inputs       density in kg/m3, temperature in K, wavelength in um.
/// Valid        0 to 1060 kg/m3, 261.15 to 773.15 K, 0.2 to 1.1 um.
/// Accuracy     1.5e-5 for liquid at one atmosphere up to 60 degC in visible light, after the
/// source. Errors       OutOfRange. Source [iapws-r9-97]. Deviates none. Complexity closed form.
[[nodiscard]] Result<double> refractive_index_of_water(double density_kg_per_m3, double t_K,
                                                       double wavelength_um);

/// Refractive index of dry air near 589 nm at one atmosphere: 1.000277 at 15 degC, by the gas law
/// else. Accuracy 1e-6. Source [icumsa-sps3]. Errors none.
[[nodiscard]] double refractive_index_of_air(unit::Celsius temperature);

/// Refractive index of a water of any composition in air at 589 nm.
///
/// Definition   n = n_seawater(S of the same dissolved mass) + [n_LL(composition) - n_LL(natural)],
///              (n_LL^2 - 1)/(n_LL^2 + 2) = rho sum of molar refractions per kg, rho by ionic
///              volumes, refraction of the water such that pure water has its own index.
/// Inputs       mol (eq for alkalinity) per kg of solution; temperature in degC.
/// Valid        dissolved mass 0 to 300 g/kg, 0 to 40 degC; flagged above 40.19 g/kg (S 40) and
///              above 30 degC. Above 120 g/kg the natural water is that of 120 g/kg.
/// Accuracy     natural composition: as above. Else the standard uncertainty is returned: 1.8e-5
///              (0.1 in S), 2.2e-5 for each g/kg in which the salt differs from natural (pure
///              NaCl of 36.5 g/kg comes out 1.1e-4 below its table, the known disagreement of
///              laboratories), 1e-5 for each g/kg above 40, 1e-5 outside 30 degC.
/// Errors       OutOfRange.
/// Source       [millard-seaver-1990]; molar refractions from [crc-brine-index] at 20 degC.
/// Deviates     refractions do not change with temperature. Complexity two passes over the ions.
[[nodiscard]] Result<Estimate> refractive_index(const matter::Amounts& mol_per_kg,
                                                unit::Celsius temperature);

}  // namespace bw::brine
