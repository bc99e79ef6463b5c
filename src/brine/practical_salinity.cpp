// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/practical_salinity.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/temperature_scale.hpp"
#include "num/bracketed_root.hpp"
#include "num/polynomial.hpp"

namespace bw::brine {
namespace {

// Coefficients of PSS-78 as printed in [unesco-44]; powers ascending, of sqrt(R_t) and of t68.
constexpr std::array kA = {0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081};
constexpr std::array kB = {0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144};
constexpr double kK = 0.0162;
constexpr double kReferenceCelsius = 15;
constexpr std::array kC = {0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9};
constexpr std::array kD = {1.0, 3.426e-2, 4.464e-4};  // pressure terms of R_p
constexpr std::array kDRatio = {4.215e-1, -3.107e-3};
constexpr std::array kE = {0.0, 2.070e-5, -6.370e-10, 3.989e-15};

// Term of [hill-1986]: a0 / (1 + 1.5 x + x^2) + b0 f / (1 + y^0.5 + y + y^1.5), x = 400 R_t,
// y = 100 R_t.
constexpr double kHillX = 400;
constexpr double kHillMiddle = 1.5;
constexpr double kHillRootY = 10;  // square root of 100
constexpr double kHillJoin = 2;    // practical salinity below which the term counts

constexpr double kHighestSalinity = 42;      // [unesco-44]
constexpr double kHighestExtrapolated = 60;  // tried against a model of composition, see header
constexpr double kHighestCelsius = 35;       // [unesco-44], on IPTS-68
constexpr double kHighestCelsiusAccepted = 40;
constexpr double kLowestCelsius = -2;
constexpr double kHighestRootRatio = 1.4;  // S about 72
constexpr double kRootTolerance = 1e-14;
constexpr double kRounding = 1e-5;  // a water at the limit but for rounding is within it

double pss78(double root_ratio, double t68) {
    const double above = t68 - kReferenceCelsius;
    return num::polynomial(kA, root_ratio) +
           above / (1 + kK * above) * num::polynomial(kB, root_ratio);
}

double hill_raw(double root_ratio, double t68) {
    const double above = t68 - kReferenceCelsius;
    const double x = kHillX * root_ratio * root_ratio;
    const double y = kHillRootY * root_ratio;
    return pss78(root_ratio, t68) - kA[0] / (1 + x * (kHillMiddle + x)) -
           kB[0] * above / (1 + kK * above) / (1 + y * (1 + y * (1 + y)));
}

double root_ratio_of(double salinity, double t68) {
    const auto root = num::bracketed_root([&](double x) { return pss78(x, t68) - salinity; }, 0,
                                          kHighestRootRatio, kRootTolerance);
    base::expect(root.has_value(), "PSS-78 does not rise through the salinity asked for");
    return *root;
}

/// Factor that makes the corrected salinity 2 where PSS-78 is 2.
double hill_factor(double t68) { return kHillJoin / hill_raw(root_ratio_of(kHillJoin, t68), t68); }

double salinity_at(double root_ratio, double t68) {
    const double plain = pss78(root_ratio, t68);
    return plain < kHillJoin ? hill_factor(t68) * hill_raw(root_ratio, t68) : plain;
}

Result<bool> temperature_extrapolated(unit::Celsius temperature) {
    const double t = temperature.value();
    if (!(t >= kLowestCelsius && t <= kHighestCelsiusAccepted)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("practical salinity is known from -2 to 40 degC, not at {} degC",
                                base::format_exact(t)));
    }
    return ipts68(temperature) > kIpts68PerIts90 * kHighestCelsius;
}

}  // namespace

double salinity_of_ratio(double ratio, double t68_degC, double pressure_dbar) {
    const double pressure_ratio =
        1 + num::polynomial(kE, pressure_dbar) /
                (num::polynomial(kD, t68_degC) + num::polynomial(kDRatio, t68_degC) * ratio);
    return pss78(std::sqrt(ratio / (pressure_ratio * num::polynomial(kC, t68_degC))), t68_degC);
}

Result<SalinityReading> salinity_of_conductivity(double conductivity_mS_per_cm,
                                                 unit::Celsius temperature) {
    BW_TRY(warm, temperature_extrapolated(temperature));
    const double t68 = ipts68(temperature);
    const double ratio =
        conductivity_mS_per_cm / (kConductivityAt35_mS_per_cm * num::polynomial(kC, t68));
    const bool sound = ratio >= 0 && ratio <= kHighestRootRatio * kHighestRootRatio;
    // At ratio 0 the terms cancel but for round-off.
    const double S = sound ? std::fmax(0, salinity_at(std::sqrt(ratio), t68)) : 0;
    if (!sound || S > kHighestExtrapolated) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a conductivity of {} mS/cm at {} degC is outside practical "
                                "salinity 0 to 60",
                                base::format_exact(conductivity_mS_per_cm),
                                base::format_exact(temperature.value())));
    }
    return SalinityReading{unit::PracticalSalinity(S),
                           warm || S > kHighestSalinity * (1 + kRounding)};
}

Result<ConductivityReading> conductivity_of_salinity(unit::PracticalSalinity salinity,
                                                     unit::Celsius temperature) {
    BW_TRY(warm, temperature_extrapolated(temperature));
    const double S = salinity.value();
    if (!(S >= 0 && S <= kHighestExtrapolated)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the conductivity of seawater is known for practical salinity 0 "
                                "to 60, not {}",
                                base::format_exact(S)));
    }
    const double t68 = ipts68(temperature);
    double root = 0;
    if (S >= kHillJoin) {
        root = root_ratio_of(S, t68);
    } else if (S > 0) {
        const double factor = hill_factor(t68);
        const auto found = num::bracketed_root(
            [&](double x) { return factor * hill_raw(x, t68) - S; }, 0, 1, kRootTolerance);
        base::expect(found.has_value(), "the low-salinity scale does not rise to 2");
        root = *found;
    }
    return ConductivityReading{kConductivityAt35_mS_per_cm * num::polynomial(kC, t68) * root * root,
                               warm || S > kHighestSalinity * (1 + kRounding)};
}

}  // namespace bw::brine
