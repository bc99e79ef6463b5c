// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <span>
#include <string_view>

namespace bw::ref {

/// Coefficients of one dissolved form, from data/ions.toml.
///
/// Volume [cm3/mol], [appelo-2014]: 41.84 (0.1 a1 + 100 a2/(2600 + p) + a3/(T - 228)
///   + 1e4 a4/(2600 + p)/(T - 228) - 1e5 W Q) + z^2/2 A_V sqrt(I)/(1 + a0 B sqrt(I))
///   + (i1 + i2/(T - 228) + i3 (T - 228)) I^i4, p in bar, T in K. Order: a1 a2 a3 a4 W a0 i1 i2 i3
///   i4. Where only a volume at 25 degC is known it is `fixed_volume`, taken as constant.
/// Mobility, [appelo-2017]: tracer diffusion coefficient at 25 degC [m2/s], its temperature
///   coefficient [K] beside the viscosity of water, ion size a [angstrom], exponent of the volume
///   change in the size, exponent of the viscosity of the solution.
/// Viscosity of the solution, [appelo-2017]: b0 b1 b2 d1 d2 d3, and the factor of an anion's
/// volume. Refraction: molar Lorentz-Lorenz refraction at 589 nm [cm3/mol], sodium taken as 0.
struct IonRow {
    std::string_view symbol;
    int charge;
    std::array<double, 10> volume;
    double fixed_volume;
    std::array<double, 5> mobility;
    std::array<double, 7> viscosity;
    double refraction;
    std::string_view volume_source, mobility_source, refraction_source, at;
};
/// In the order of brine::Ion.
[[nodiscard]] std::span<const IonRow> ions();

}  // namespace bw::ref
