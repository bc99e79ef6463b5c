// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/nacl_brine.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/conductivity.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/reference_density.hpp"
#include "brine/refractive_index.hpp"
#include "matter/constituent.hpp"
#include "num/polynomial.hpp"
#include "unit/factors.hpp"

namespace bw::brine {
namespace {

constexpr double kMolarMass = 58.443;  // g/mol, of the source; [ciaaw-2021] gives the same
constexpr double kStrongest = 260;
constexpr double kStrongestIndex = 100;
constexpr double kRoundOff = 1e-12;

// [lo-surdo-1982]; powers of t in degC.
constexpr std::array kA = {45.5655, -0.2341, 3.4128e-3, -2.7030e-5, 1.4037e-7};
constexpr std::array kB = {-1.8527, 5.3956e-2, -6.2635e-4};
constexpr std::array kC = {-1.6368, -9.5653e-4, 5.2829e-5};
constexpr double kD = 0.2274;
constexpr double kDensityDilute_g_per_kg = 50;
constexpr double kDensityDilute_kg_per_m3 = 0.02;
constexpr double kDensity_kg_per_m3 = 0.05;

constexpr std::array kIndex20 = {kWaterIndex20, 0.1758735,
                                 -0.00580026};  // own fit, [crc-brine-index]
constexpr double kIndexUncertainty = 2.8e-5;
constexpr double kIndexPerDegree = 1e-5;
constexpr unit::Celsius kTwenty{20};

constexpr double kConductivityPart = 0.005;
constexpr double kConductivityPartFlagged = 0.02;
constexpr double kColdest = 15;
constexpr double kWarmest = 30;

Result<void> check(unit::GramPerKg strength, double most) {
    if (!(strength.value() >= 0 && strength.value() <= most)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("solutions of NaCl are known from 0 to {} g/kg, not at {} g/kg",
                                base::format_exact(most), base::format_exact(strength.value())));
    }
    return {};
}

}  // namespace

Result<Estimate> nacl_density(unit::GramPerKg strength, unit::Celsius temperature) {
    BW_CHECK(check(strength, kStrongest));
    BW_TRY(water, pure_water_density(temperature));
    const double w = strength.value();
    const double m = w / kMolarMass / (1 - w / unit::kGramPerKg);
    const double t = temperature.value();
    Estimate out;
    out.value = water.value() + num::polynomial(kA, t) * m +
                num::polynomial(kB, t) * m * std::sqrt(m) + num::polynomial(kC, t) * m * m +
                kD * m * m * std::sqrt(m);
    out.standard_uncertainty =
        w <= kDensityDilute_g_per_kg ? kDensityDilute_kg_per_m3 : kDensity_kg_per_m3;
    return out;
}

Result<Estimate> nacl_refractive_index(unit::GramPerKg strength, unit::Celsius temperature) {
    BW_CHECK(check(strength, kStrongestIndex));
    const unit::PracticalSalinity S(strength.value() / kGramPerKgPerPracticalSalinity);
    BW_TRY(there, seawater_refractive_index(S, temperature));
    BW_TRY(at_20, seawater_refractive_index(S, kTwenty));
    Estimate out;
    out.value = num::polynomial(kIndex20, strength.value() / unit::kGramPerKg) + (there - at_20);
    const double away = std::fabs((temperature - kTwenty).value());
    out.standard_uncertainty = std::hypot(kIndexUncertainty, kIndexPerDegree * away);
    if (away > 0) {
        out.extrapolated = true;
        out.notices.push_back(
            {"nacl_index_slope",
             "The change of the refractive index of NaCl solutions with temperature is taken to be "
             "seawater's; only 20 degC was measured."});
    }
    return out;
}

Result<unit::GramPerKg> nacl_of_refractive_index_20(double index) {
    const double slope = kIndex20[1];
    const double discriminant = slope * slope - 4 * kIndex20[2] * (kIndex20[0] - index);
    const double w =
        unit::kGramPerKg * 2 * (index - kIndex20[0]) / (slope + std::sqrt(discriminant));
    if (!(w >= 0 && w <= kStrongestIndex * (1 + kRoundOff))) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("a refractive index of {} at 20 degC is not that of a solution of 0 "
                        "to 100 g/kg of NaCl",
                        base::format_exact(index)));
    }
    return unit::GramPerKg(w);
}

Result<Estimate> nacl_conductivity_mS_per_cm(unit::GramPerKg strength, unit::Celsius temperature) {
    BW_CHECK(check(strength, kStrongest));
    matter::Amounts amounts;
    amounts[matter::constituent("Na")] = strength.value() / kMolarMass;
    amounts[matter::constituent("Cl")] = strength.value() / kMolarMass;
    BW_TRY(value, conductivity_by_ions_mS_per_cm(amounts, temperature));
    Estimate out;
    out.value = value;
    const double t = temperature.value();
    out.extrapolated = strength.value() > kDensityDilute_g_per_kg || t < kColdest || t > kWarmest;
    out.standard_uncertainty =
        value * (out.extrapolated ? kConductivityPartFlagged : kConductivityPart);
    if (out.extrapolated) {
        out.notices.push_back(
            {"nacl_conductivity_extrapolated",
             "The conductivity of NaCl solutions was compared with tables from 5 to 50 g/kg and 15 "
             "to 30 degC only."});
    }
    return out;
}

}  // namespace bw::brine
