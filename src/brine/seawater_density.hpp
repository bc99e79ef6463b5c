// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Density of natural seawater at one atmosphere, EOS-80.
///
/// Definition   rho = rho_w(t) + A(t) S + B(t) S^1.5 + C S^2, t on IPTS-68; t68 = 1.00024 t90.
/// Inputs       practical salinity, temperature in degC (ITS-90).
/// Valid        0 <= S <= 42, 0 <= t <= 40 degC.
/// Accuracy     fits its data within 0.0036 kg/m3 (one standard deviation); reproduces the printed
/// check values
///              to their last digit (test/check/density.toml).
/// Errors       OutOfRange.
/// Source       [millero-poisson-1981]; [unesco-44] page 17 and its check values on page 19.
/// Deviates     none.
/// Complexity   closed form.
[[nodiscard]] Result<unit::KgPerM3> seawater_density(unit::PracticalSalinity salinity,
                                                     unit::Celsius temperature);

}  // namespace bw::brine
