// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/seawater_density.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/temperature_scale.hpp"
#include "num/polynomial.hpp"

namespace bw::brine {
namespace {

// Coefficients of [millero-poisson-1981] as printed in [unesco-44]; powers of t68 ascending.
constexpr std::array kWater = {999.842594,  6.793952e-2,  -9.095290e-3,
                               1.001685e-4, -1.120083e-6, 6.536332e-9};
constexpr std::array kLinear = {8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9};
constexpr std::array kThreeHalves = {-5.72466e-3, 1.0227e-4, -1.6546e-6};
constexpr double kSquare = 4.8314e-4;

constexpr double kHighestSalinity = 42;
constexpr double kHighestCelsius = 40;

}  // namespace

Result<unit::KgPerM3> seawater_density(unit::PracticalSalinity salinity,
                                       unit::Celsius temperature) {
    const double S = salinity.value();
    const double t = temperature.value();
    if (!(S >= 0 && S <= kHighestSalinity)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("the density of seawater is known for practical salinity 0 to 42, not {}",
                        base::format_exact(S)));
    }
    if (!(t >= 0 && t <= kHighestCelsius)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("the density of seawater is known from 0 to 40 degC, not at {} degC",
                        base::format_exact(t)));
    }
    const double t68 = ipts68(temperature);
    return unit::KgPerM3(num::polynomial(kWater, t68) + num::polynomial(kLinear, t68) * S +
                         num::polynomial(kThreeHalves, t68) * S * std::sqrt(S) + kSquare * S * S);
}

}  // namespace bw::brine
