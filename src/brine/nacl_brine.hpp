// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "brine/estimate.hpp"
#include "unit/quantity.hpp"

/// Solutions of sodium chloride, with which instruments are set. Strength in g of NaCl per kg of
/// solution.
namespace bw::brine {

/// Density at one atmosphere [kg/m3].
///
/// Definition   rho = rho_w + A m + B m^1.5 + C m^2 + D m^2.5, m in mol per kg of water.
/// Inputs       g NaCl per kg of solution, temperature in degC.
/// Valid        0 to 260 g/kg (6 mol/kg), 0 to 40 degC; fitted from 0.1 mol/kg, weaker solutions
///              by the same curve, which ends at pure water.
/// Accuracy     0.02 kg/m3 at 25 degC up to 50 g/kg (against [krumgalz-1996]), at 20 degC within
///              the rounding of [crc-brine-index]; 0.05 else.
/// Errors       OutOfRange.
/// Source       [lo-surdo-1982], coefficients from memory, proved against the two others.
/// Deviates     water by [feistel-2003]. Complexity closed form.
[[nodiscard]] Result<Estimate> nacl_density(unit::GramPerKg strength, unit::Celsius temperature);

/// That of water at 20 degC, in the table of solutions [crc-brine-index].
inline constexpr double kWaterIndex20 = 1.33299;

/// Refractive index in air at 589 nm.
///
/// Definition   n = n20(w) + (t - 20) times seawater's slope at the same dissolved mass; n20 a
///              parabola through the rows of 0 to 10 % of [crc-brine-index].
/// Inputs       as above. Valid 0 to 100 g/kg, 0 to 40 degC; flagged unless t is 20 degC, for no
///              trustworthy measurement of the slope of NaCl solutions was found.
/// Accuracy     2.8e-5 (rms) at 20 degC; away from it 1e-5 per degC is added.
/// Errors       OutOfRange. Source [crc-brine-index]; slope [millard-seaver-1990].
/// Deviates     the slope is seawater's. Complexity closed form.
[[nodiscard]] Result<Estimate> nacl_refractive_index(unit::GramPerKg strength,
                                                     unit::Celsius temperature);

/// Strength that has a refractive index at 20 degC: inverse of the parabola [g/kg].
///
/// Valid 1.33299 to the index of 100 g/kg. Accuracy 0.16 g/kg. Errors OutOfRange.
[[nodiscard]] Result<unit::GramPerKg> nacl_of_refractive_index_20(double index);

/// Conductivity at one atmosphere [mS/cm].
///
/// Definition   conductivity_by_ions_mS_per_cm of NaCl alone, without the scaling to seawater: its
///              coefficients were fitted to such solutions.
/// Inputs       as above. Valid 0 to 260 g/kg, 0 to 40 degC; flagged above 50 g/kg and outside 15
///              to 30 degC. Accuracy 0.5 % flagged 2 %; published equations differ by 2.6 % at 33
///              g/kg.
/// Errors       OutOfRange. Source [appelo-2017]. Deviates none. Complexity one pass.
[[nodiscard]] Result<Estimate> nacl_conductivity_mS_per_cm(unit::GramPerKg strength,
                                                           unit::Celsius temperature);

}  // namespace bw::brine
