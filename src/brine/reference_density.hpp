// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "base/result.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Density of Reference-Composition Seawater at one atmosphere, TEOS-10.
///
/// Definition   1 / rho = dg/dp at 101325 Pa of the Gibbs function g(salinity, t, p).
/// Inputs       reference salinity in g per kg of seawater, temperature in degC (ITS-90).
/// Valid        0 to 120 g/kg, 0 to 40 degC.
/// Accuracy     0.004 kg/m3 to 42 g/kg, as EOS-80, from which it differs by up to 0.009 (at 42,
///              0 degC); 0.0063 to 70 g/kg [millero-huang-2009]; not stated beyond.
/// Errors       OutOfRange.
/// Source       water part [feistel-2003], saline part [feistel-2008]; check values
///              [iapws-r13-08] table 8a.
/// Deviates     from [iapws-r13-08] by up to 2e-5 kg/m3, for the water part is the one made for
///              oceanography.
/// Complexity   closed form.
[[nodiscard]] Result<unit::KgPerM3> reference_seawater_density(unit::GramPerKg salinity,
                                                               unit::Celsius temperature);

/// Density of pure water of seawater's isotopes at one atmosphere: the above at salinity 0.
///
/// Definition, inputs, source, deviations: as above.
/// Valid        0 to 40 degC. Accuracy 0.001 kg/m3 (differs from EOS-80's water by up to 0.0018).
/// Errors       OutOfRange.
[[nodiscard]] Result<unit::KgPerM3> pure_water_density(unit::Celsius temperature);

/// OutOfRange when the temperature is not 0 to 40 degC; `what` names the property in the message.
[[nodiscard]] Result<void> check_temperature(unit::Celsius temperature, std::string_view what);

}  // namespace bw::brine
