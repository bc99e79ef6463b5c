// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string_view>

#include "base/result.hpp"
#include "unit/quantity.hpp"

namespace bw::path {

/// The calcium carbonate that grows from a water.
enum class CarbonateSolid : std::uint8_t { Aragonite, Calcite };

/// Rate of growth on the solid's surface by one published law of data/growth.toml.
///
/// Definition   R = k (Omega - 1)^n [umol m-2 h-1]; 0 where Omega is at most 1. Between two
///              temperatures of the law ln R runs straight in temperature.
/// Inputs       law as in the table; Omega of the law's own mineral, above 0.
/// Valid        from the law's lowest to its highest temperature; a law of one temperature holds
///              there alone.
/// Accuracy     the laws of aragonite agree within 2 from Omega 5 to 30 and within 4 at Omega 3
///              (25 degC).
/// Errors       UnknownName, OutOfRange: nothing is run on in silence.
/// Source       the row's.
[[nodiscard]] Result<double> published_growth_umol_per_m2_h(std::string_view law, double omega,
                                                            unit::Celsius temperature);

inline constexpr double kMolPerMicromol = 1e-6;

/// The rates below are trusted within a factor of this.
inline constexpr double kGrowthFactor = 2;

/// Temperatures and saturations that the laws behind the recommended rates were measured at.
inline constexpr double kGrowthLowest_degC = 5, kGrowthHighest_degC = 40;
inline constexpr double kGrowthHighestOmega = 30;

/// Rate of growth of aragonite [umol m-2 h-1], the middle of the published laws.
///
/// Definition   30 (Omega - 1)^1.9 at 25 degC, with 71 kJ/mol; 0 where Omega is at most 1.
/// Inputs       Omega of aragonite. Valid 5 to 40 degC, Omega up to 30; runs on outside, where the
///              caller has to say so.
/// Accuracy     within kGrowthFactor, at 25 degC against every law in seawater from Omega 5 to 30.
/// Errors       none.
/// Source       geometric mean, rounded, of [burton-walter-1987], [romanek-2011] and
///              [zhong-mucci-1989] at 25 degC; 71 kJ/mol [romanek-2011] from memory, while its
///              rate constants give 62 (10 to 25 degC) and 72 (10 to 40 degC).
[[nodiscard]] double aragonite_growth_umol_per_m2_h(double omega, unit::Celsius temperature);

/// Rate of growth of calcite [umol m-2 h-1].
///
/// Definition   1.87 (Omega - 1)^2.2 at 25 degC with 55.3 kJ/mol in seawater, ten times that
///              where magnesium is below a twentieth of seawater's, straight in the logarithm
///              between; 0 where Omega is at most 1.
/// Inputs       Omega of calcite; magnesium as a share of seawater's at salinity 35.
/// Valid        as aragonite_growth_umol_per_m2_h.
/// Accuracy     within kGrowthFactor of the laws at 25 degC; the factor ten is an assumption, and
///              between 5 and 40 degC [lopez-2009] gives 24 to 60 kJ/mol.
/// Errors       none.
/// Source       geometric mean of [burton-walter-1987], [lopez-2009] and [zhong-mucci-1989] at
///              25 degC; temperature [kralj-1997]; the twentieth [berner-1975].
[[nodiscard]] double calcite_growth_umol_per_m2_h(double omega, unit::Celsius temperature,
                                                  double magnesium_share);

/// Volume of a mole of the solid [m3/mol]; from memory, densities 2.93 and 2.71 g/cm3.
[[nodiscard]] double molar_volume_m3(CarbonateSolid solid);

/// How fast a face moves outwards at a rate of growth [m/h].
[[nodiscard]] double face_speed_m_per_h(double umol_per_m2_h, CarbonateSolid solid);

/// How many times faster than at the other temperature, for an activation energy [J/mol].
[[nodiscard]] double quickening(unit::Celsius at, unit::Celsius than_at, double energy_J_per_mol);

}  // namespace bw::path
