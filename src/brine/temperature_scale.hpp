// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "unit/quantity.hpp"

namespace bw::brine {

inline constexpr double kIpts68PerIts90 = 1.00024;      // [saunders-1990], -2 to 40 degC to 1 mK
inline constexpr double kKelvinAtZeroCelsius = 273.15;  // exact, definition of the degree Celsius
inline constexpr double kTwentyFive_K = 298.15;

/// Temperature on the scale of 1968 of a temperature on that of 1990 [degC].
///
/// Valid     -2 to 40 degC. Accuracy 1 mK. Source [saunders-1990]. Errors none.
[[nodiscard]] constexpr double ipts68(unit::Celsius t90) { return kIpts68PerIts90 * t90.value(); }

[[nodiscard]] constexpr double kelvin(unit::Celsius t90) {
    return kKelvinAtZeroCelsius + t90.value();
}

/// Exact, by definition.
[[nodiscard]] constexpr unit::Celsius from_fahrenheit(double degrees) {
    return unit::Celsius((degrees - 32) / 1.8);
}
inline constexpr unit::Celsius kSixtyFahrenheit = from_fahrenheit(60);

}  // namespace bw::brine
