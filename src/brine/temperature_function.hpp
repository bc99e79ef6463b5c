// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cmath>
#include <numbers>

#include "brine/physical_constants.hpp"
#include "ref/brine_tables.hpp"

namespace bw::brine {

namespace temperature {
inline constexpr double kT25 = 298.15;  // K
inline constexpr double kT30 = 303.15;  // K
inline constexpr double kT55 = 328.15;  // K
inline constexpr double kGasConstant_kJ_per_mol_K = kGasConstant_J_per_mol_K / 1000;
}  // namespace temperature

/// Value of a coefficient or constant at a temperature.
///
/// Definition   by form, written out in docs/reference/data.md; T in K, Tr = 298.15 K.
/// Inputs       the function of a row; temperature [K]. Scalar may be double, std::complex<double>
///              or a dual number: + - * / with itself and double, construction from double, and
///              log and exp found beside it.
/// Valid        the row's low_degC to high_degC; in any case above 263 K, where the Moller form has
///              a pole, and below 647 K.
/// Accuracy     round-off.
/// Errors       none; at a pole the result is not finite.
/// Source       of each form with its rows in data/interaction_*.toml.
/// Deviates     PabalanPitzer stands at 1.01325 bar only.
/// Complexity   closed form.
template <class Scalar>
[[nodiscard]] Scalar evaluate(const ref::TemperatureFunction& function, Scalar kelvin);

/// log10 K of a part of a reaction's constant, times its factor. As evaluate().
template <class Scalar>
[[nodiscard]] Scalar evaluate_log10(const ref::LogK& part, Scalar kelvin) {
    const Scalar value = evaluate(part.function, kelvin);
    return value * (part.natural_log ? part.times / std::numbers::ln10 : part.times);
}

/// log10 K of a reaction, the sum of its parts.
template <class Scalar>
[[nodiscard]] Scalar evaluate_log10(const ref::ReactionRow& reaction, Scalar kelvin) {
    Scalar sum(0.0);
    for (const auto& part : reaction.log_k) {
        if (part.times != 0) {
            sum = sum + evaluate_log10(part, kelvin);
        }
    }
    return sum;
}

namespace temperature {

/// Moller (1988): poles at 263, 680 and 227 K.
template <class Scalar>
Scalar moller(const std::array<double, ref::kMostTemperatureCoefficients>& c, const Scalar& T) {
    using std::log;
    constexpr double kPoles[] = {263, 680, 227};
    Scalar sum = c[0] + c[1] * T + c[2] / T + c[3] * log(T) + c[5] * T * T;
    // No part in a row that has no such term, so that a pole does not spoil it.
    if (c[4] != 0) {
        sum = sum + c[4] / (T - kPoles[0]);
    }
    if (c[6] != 0) {
        sum = sum + c[6] / (kPoles[1] - T);
    }
    if (c[7] != 0) {
        sum = sum + c[7] / (T - kPoles[2]);
    }
    return sum;
}

/// Phutela & Pitzer (1986): integrals of a heat capacity in powers of T.
template <class Scalar>
Scalar phutela_pitzer(const std::array<double, ref::kMostTemperatureCoefficients>& c,
                      const Scalar& T) {
    constexpr double kR = kT25;
    constexpr double kR2 = kR * kR;
    const Scalar t2 = T * T;
    const Scalar ratio = T / kR;
    const Scalar fifth = ratio * ratio * ratio * ratio * ratio;
    return c[0] * (T / 2.0 + kR2 / (2.0 * T) - kR) +
           c[1] * (t2 / 6.0 + kR2 * kR / (3.0 * T) - kR2 / 2.0) +
           c[2] * (t2 * T / 12.0 + kR2 * kR2 / (4.0 * T) - kR2 * kR / 3.0) +
           c[3] * (fifth + 4.0 - 5.0 * ratio) * (kR2 * kR2 * kR / 20.0) / T +
           c[4] * (kR - kR2 / T) + c[5];
}

/// Pabalan & Pitzer (1987), NaOH, at 1.01325 bar.
template <class Scalar>
Scalar pabalan_pitzer(const std::array<double, ref::kMostTemperatureCoefficients>& c,
                      const Scalar& T) {
    using std::log;
    constexpr double kBar = kAtmosphere_bar;
    constexpr double kPoles[] = {227, 647};
    return (c[0] + c[1] * kBar) + (c[2] + c[3] * kBar) / T + c[4] * log(T) +
           (c[5] + c[6] * kBar) * T + (c[7] + c[8] * kBar) * T * T + c[9] / (T - kPoles[0]) +
           (c[10] + c[11] * kBar) / (kPoles[1] - T);
}

/// c0 and the two terms that Millero & Pierrot (1998) and Silvester & Pitzer (1978) share.
template <class Scalar>
Scalar enthalpy_terms(double c0, double c1, double c2, const Scalar& T) {
    constexpr double kR = kT25;
    return c0 + (c1 * kR * kR * kR / 3.0 + c2 * kR * kR) * (1.0 / T - 1.0 / kR) +
           (c1 / 6.0) * (T * T - kR * kR);
}

}  // namespace temperature

template <class Scalar>
Scalar evaluate(const ref::TemperatureFunction& function, Scalar kelvin) {
    using ref::TemperatureForm;
    using std::log;
    constexpr double kR = temperature::kT25;
    const auto& c = function.c;
    const Scalar& T = kelvin;
    const Scalar d = T - kR;
    switch (function.form) {
        case TemperatureForm::Constant:
            return Scalar(c[0]);
        case TemperatureForm::Quadratic:
            return c[0] + c[1] * T + c[2] * T * T;
        case TemperatureForm::QuadraticFrom25:
            return c[0] + c[1] * d + c[2] * d * d;
        case TemperatureForm::QuadraticFrom30:
            return c[0] + c[1] * (T - temperature::kT30) * (T - temperature::kT30);
        case TemperatureForm::Moller:
            return temperature::moller(c, T);
        case TemperatureForm::MilleroPierrot:
            return temperature::enthalpy_terms(c[0], c[1] * 1e-5, c[2] * -1e-4, T);
        case TemperatureForm::SilvesterPitzer:
            return temperature::enthalpy_terms(c[0], c[1], c[2], T);
        case TemperatureForm::HeMorse:
            return c[0] + c[1] * T + c[2] * T * T + c[3] / T + c[4] * log(T);
        case TemperatureForm::CleggRardPitzer: {
            const Scalar t = T - temperature::kT55;
            return c[0] + 1e-3 * t * (c[1] + t * (c[2] / 2.0 + t * (c[3] / 6.0)));
        }
        case TemperatureForm::InverseFrom25:
            return c[0] + c[1] * (1.0 / T - 1.0 / kR);
        case TemperatureForm::PhutelaPitzer:
            return temperature::phutela_pitzer(c, T);
        case TemperatureForm::PabalanPitzer:
            return temperature::pabalan_pitzer(c, T);
        case TemperatureForm::PeiperPitzer:
            return c[0] + d * (c[1] - kR * c[2]) + (c[2] / 2.0) * (T * T - kR * kR);
        case TemperatureForm::SixTermFrom25:
            return c[0] + c[1] * (1.0 / T - 1.0 / kR) + c[2] * log(T / kR) + c[3] * d +
                   c[4] * (T * T - kR * kR) + c[5] * (1.0 / (T * T) - 1.0 / (kR * kR));
        case TemperatureForm::LogTen:
            return c[0] + c[1] * T + c[2] / T + (c[3] / std::numbers::ln10) * log(T) +
                   c[4] / (T * T) + c[5] * T * T;
        case TemperatureForm::NaturalLog:
            return c[0] + c[1] / T + c[2] * log(T) + c[3] * T;
        case TemperatureForm::VantHoff:
            return c[0] - (c[1] / (temperature::kGasConstant_kJ_per_mol_K * std::numbers::ln10)) *
                              (1.0 / T - 1.0 / kR);
    }
    return Scalar(0.0);
}

extern template double evaluate(const ref::TemperatureFunction&, double);

}  // namespace bw::brine
