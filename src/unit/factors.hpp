// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once

/// Factors between units, exact.
namespace bw::unit {

inline constexpr double kPercent = 100;  ///< of one
inline constexpr double kGramPerKg = 1000;
inline constexpr double kKgPerTonne = 1000;
inline constexpr double kLitrePerM3 = 1000;

}  // namespace bw::unit
