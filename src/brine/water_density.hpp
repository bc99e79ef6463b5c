// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "brine/estimate.hpp"
#include "matter/constituent.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Density of a water of any composition at one atmosphere [kg/m3].
///
/// Definition   rho = rho_natural(w, t) + [rho_model(composition) - rho_model(natural of w)], w the
///              dissolved mass; rho_model = mass / (volume of water + sum of ionic volumes). Above
///              70 g/kg the natural water is that of 70 g/kg: NaCl solutions show the volumes to be
///              better there than the equation of seawater run on.
/// Inputs       mol (eq for alkalinity) per kg of solution; temperature in degC.
/// Valid        dissolved mass 0 to 300 g/kg, 0 to 40 degC; flagged above 42.2 g/kg.
/// Accuracy     natural composition: as reference_seawater_density. Else the standard uncertainty
///              is returned: 0.004 kg/m3, 0.02 for each g/kg in which the salt differs from
///              natural (0.1 for pure NaCl of 35 g/kg; found 0.08 below [krumgalz-1996]), 0.01 for
///              each g/kg above 42.2, and 20 cm3 for each mole of constituents without a volume.
/// Errors       OutOfRange.
/// Source       [appelo-2014] for volumes; [feistel-2008] for natural seawater.
/// Deviates     alkalinity and boron are split as in dissolved_ions.hpp.
/// Complexity   two passes over the ions.
[[nodiscard]] Result<Estimate> density(const matter::Amounts& mol_per_kg,
                                       unit::Celsius temperature);

/// Density by the ionic volumes alone [kg/m3]: what the above takes differences of.
///
/// Definition, inputs, range, source as above. Accuracy: natural seawater of 20 to 42 g/kg within
/// 0.02 kg/m3 at 10 to 30 degC, within 0.09 at 0 to 40 degC. Errors OutOfRange.
[[nodiscard]] Result<double> density_by_volumes(const matter::Amounts& mol_per_kg,
                                                unit::Celsius temperature);

/// Thermal expansion -(1/rho) d rho/dt of the density above [1/K].
///
/// Definition   central difference over +-0.1 K, at the ends of the range moved inside it by 0.1 K.
/// Inputs, valid, errors, source: as density. Accuracy: 1e-6 /K for natural seawater inside 0.1 to
/// 39.9 degC (difference against [teos10-manual-2010] below 1e-7).
[[nodiscard]] Result<double> thermal_expansion_per_K(const matter::Amounts& mol_per_kg,
                                                     unit::Celsius temperature);

/// Specific gravity t/t_water: density of the liquid at t over that of pure water at t_water.
///
/// Both temperatures must be said, e.g. 25/25, 20/20, 60 degF/60 degF; 4 degC water for 20/4.
/// Valid, errors, source: as density. Accuracy: that of the density, divided by 1000.
[[nodiscard]] Result<double> specific_gravity(const matter::Amounts& mol_per_kg, unit::Celsius t,
                                              unit::Celsius t_water);

/// The same for natural seawater of a reference salinity, 0 to 120 g/kg.
[[nodiscard]] Result<double> specific_gravity(unit::GramPerKg salinity, unit::Celsius t,
                                              unit::Celsius t_water);

}  // namespace bw::brine
