// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/nacl_law.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/natural_seawater.hpp"
#include "brine/seawater_density.hpp"

namespace bw::brine {
namespace {

constexpr double kHighestGramPerKg = 55;
constexpr double kMolarMassNaCl = 22.98976928 + 35.45;  // [ciaaw-2021]
constexpr double kGramPerKg = 1000;

// Density, [losurdo-1982]: powers of t ascending.
constexpr std::array kDensityA = {45.5655, -.2341, 3.4128e-3, -2.7030e-5, 1.4037e-7};
constexpr std::array kDensityB = {-1.8527, 5.3956e-2, -6.2635e-4};
constexpr std::array kDensityC = {-1.6368, -9.5653e-4, 5.2829e-5};
constexpr double kDensityD = 0.2274;

// Index at 20 degC less that of water, of the mass fraction: fitted to the rows 0 to 10 % of
// [crc-102], rms 2.8e-5.
constexpr double kIndexLinear = 0.1758735;
constexpr double kIndexSquare = -0.00580026;

// Conductivity over g/kg, mS/cm: powers of sqrt(w / 10 g/kg) ascending in a row, rows of powers of
// (t - 25) / 10. Fitted within 0.05 % to 102 values that the transport model of [appelo-2017] gives
// (computed with [parkhurst-appelo-2013]), 0.5 to 55 g/kg, 10 to 35 degC.
constexpr std::array<std::array<double, 5>, 3> kConductivity = {{
    {2.141724, -5.848947e-01, 2.822998e-01, -8.596684e-02, 1.037857e-02},
    {4.374201e-01, -1.319402e-01, 6.315886e-02, -1.995523e-02, 2.504595e-03},
    {1.092250e-02, -5.498163e-03, 2.868214e-03, -9.692473e-04, 1.334653e-04},
}};

template <std::size_t N>
double polynomial(const std::array<double, N>& coefficients, double x) {
    double value = 0;
    for (std::size_t i = N; i-- > 0;) {
        value = value * x + coefficients[i];
    }
    return value;
}

Result<void> check(unit::GramPerKg dissolved, unit::Celsius temperature, double lowest,
                   double highest, std::string_view what) {
    const double w = dissolved.value();
    const double t = temperature.value();
    if (!(w >= 0 && w <= kHighestGramPerKg)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("sodium chloride brine is known from 0 to 55 g/kg, not at {} g/kg",
                                base::format_significant(w, 6)));
    }
    if (!(t >= lowest && t <= highest)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the {} of sodium chloride brine is known from {} to {} degC, not "
                                "at {} degC",
                                what, base::format_exact(lowest), base::format_exact(highest),
                                base::format_exact(t)));
    }
    return {};
}

}  // namespace

double nacl_index_increment_20(unit::GramPerKg dissolved) {
    const double w = dissolved.value() / kGramPerKg;
    return (kIndexLinear + kIndexSquare * w) * w;
}

Result<double> NaclBrine::density_kg_per_m3(unit::GramPerKg dissolved,
                                            unit::Celsius temperature) const {
    constexpr double kHighestCelsius = 40;
    BW_CHECK(check(dissolved, temperature, 0, kHighestCelsius, "density"));
    BW_TRY(water, seawater_density(unit::PracticalSalinity(0), temperature));
    const double t = temperature.value();
    const double w = dissolved.value();
    const double m = w / kMolarMassNaCl / (1 - w / kGramPerKg);
    return water.value() + m * (polynomial(kDensityA, t) + polynomial(kDensityB, t) * std::sqrt(m) +
                                polynomial(kDensityC, t) * m + kDensityD * m * std::sqrt(m));
}

Result<double> NaclBrine::conductivity_mS_per_cm(unit::GramPerKg dissolved,
                                                 unit::Celsius temperature) const {
    constexpr double kLowestCelsius = 10;
    constexpr double kHighestCelsius = 35;
    BW_CHECK(check(dissolved, temperature, kLowestCelsius, kHighestCelsius, "conductivity"));
    const double root = std::sqrt(dissolved.value() / 10);
    const double warm = (temperature.value() - 25) / 10;
    double value = 0;
    for (std::size_t i = kConductivity.size(); i-- > 0;) {
        value = value * warm + polynomial(kConductivity[i], root);
    }
    return value * dissolved.value();
}

Result<double> NaclBrine::refractive_index(unit::GramPerKg dissolved,
                                           unit::Celsius temperature) const {
    constexpr double kHighestCelsius = 30;
    BW_CHECK(check(dissolved, temperature, 0, kHighestCelsius, "refractive index"));
    const NaturalSeawater sea;
    const unit::GramPerKg usual(35);
    const unit::Celsius twenty(20);
    BW_TRY(water, sea.refractive_index(unit::GramPerKg(0), temperature));
    BW_TRY(sea_here, sea.refractive_index(usual, temperature));
    BW_TRY(water_20, sea.refractive_index(unit::GramPerKg(0), twenty));
    BW_TRY(sea_20, sea.refractive_index(usual, twenty));
    return water + nacl_index_increment_20(dissolved) * (sea_here - water) / (sea_20 - water_20);
}

Result<unit::PracticalSalinity> NaclBrine::practical_salinity_of(unit::GramPerKg dissolved) const {
    const unit::Celsius usual(25);
    BW_TRY(kappa, conductivity_mS_per_cm(dissolved, usual));
    return meter_salinity(kappa, usual);
}

unit::GramPerKg NaclBrine::highest() const {
    constexpr double kSalinity42 = 39;  // g/kg; above, practical salinity ends
    return unit::GramPerKg(kSalinity42);
}

LawUncertainty NaclBrine::formula() const {
    constexpr double kDensity = 0.02;
    constexpr double kConductivityPart = 0.005;
    constexpr double kIndex = 3e-5;
    return {kDensity, kConductivityPart, kIndex};
}

}  // namespace bw::brine
