// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/reference_density.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/practical_salinity.hpp"
#include "num/polynomial.hpp"

namespace bw::brine {
namespace {

constexpr double kHighestCelsius = 40;     // [millero-poisson-1981], range of the measurements
constexpr double kHighestGramPerKg = 120;  // [iapws-r13-08], range at one atmosphere

// Specific volume at 101325 Pa in 1e-8 m3/kg, powers of t / 40 degC ascending: the derivative of
// the Gibbs function of [feistel-2003] (water) and [feistel-2008] (saline), taken at p = 0 dbar.
constexpr double kVolumeUnit = 1e-8;
constexpr double kCelsiusUnit = 40;
constexpr std::array kWater = {100015.695367145, -270.983805184062, 1455.0364540468,
                               -672.50778314507, 397.968445406972,  -194.618310617595,
                               63.5113936641785, -9.63108119393062};
// Saline part: x^2 times the sum over x^j of these, x^2 = salinity / (40 * 35.16504 / 35).
constexpr double kSalinityUnit = 40 * kGramPerKgPerPracticalSalinity;  // g/kg, [feistel-2008]
constexpr std::array kSaline0 = {-3310.49154044839, 729.116529735046, -860.764303783977,
                                 694.244814133268, -297.728741987187};
constexpr std::array kSaline1 = {199.459603073901, -175.292041186547, 383.058066002476,
                                 -460.319931801257, 234.565187611355};
constexpr std::array kSaline2 = {-54.7919133532887, -22.6683558512829};
constexpr double kSaline3 = 36.0284195611086;

unit::KgPerM3 density(double salinity, double t) {
    const double y = t / kCelsiusUnit;
    const double x2 = salinity / kSalinityUnit;
    const double x = std::sqrt(x2);
    const double saline =
        num::polynomial(kSaline0, y) +
        x * (num::polynomial(kSaline1, y) + x * (num::polynomial(kSaline2, y) + x * kSaline3));
    return unit::KgPerM3(1 / (kVolumeUnit * (num::polynomial(kWater, y) + x2 * saline)));
}

}  // namespace

Result<void> check_temperature(unit::Celsius temperature, std::string_view what) {
    const double t = temperature.value();
    if (!(t >= 0 && t <= kHighestCelsius)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} is known from 0 to 40 degC, not at {} degC", what,
                                base::format_exact(t)));
    }
    return {};
}

Result<unit::KgPerM3> reference_seawater_density(unit::GramPerKg salinity,
                                                 unit::Celsius temperature) {
    if (!(salinity.value() >= 0 && salinity.value() <= kHighestGramPerKg)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the density of natural seawater is known for 0 to 120 g/kg of "
                                "salt, not for {} g/kg",
                                base::format_exact(salinity.value())));
    }
    BW_CHECK(check_temperature(temperature, "the density of seawater"));
    return density(salinity.value(), temperature.value());
}

Result<unit::KgPerM3> pure_water_density(unit::Celsius temperature) {
    BW_CHECK(check_temperature(temperature, "the density of water"));
    return density(0, temperature.value());
}

}  // namespace bw::brine
