// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cmath>
#include <cstddef>

namespace bw::brine {

/// The integral J(x) of the mixing of ions of like sign and unlike charge, and x dJ/dx.
template <class Scalar>
struct MixingIntegral {
    Scalar j;
    Scalar x_slope;  ///< x dJ/dx
};

/// J by the closed form x / (4 + C1 x^-C2 exp(-C3 x^C4)).
///
/// Valid      x > 0.
/// Accuracy   0.7 % of J at x = 1 against the integral itself; the seawater set was fitted with it.
/// Source     [pitzer-1975] eq. 47.
template <class Scalar>
[[nodiscard]] MixingIntegral<Scalar> mixing_integral_closed(const Scalar& x) {
    using std::exp;
    using std::log;
    constexpr double kC1 = 4.581;  // [pitzer-1975] eq. 47
    constexpr double kC2 = 0.7237;
    constexpr double kC3 = 0.0120;
    constexpr double kC4 = 0.528;
    const Scalar ln_x = log(x);
    const Scalar inner = kC3 * exp(kC4 * ln_x);
    const Scalar term = kC1 * exp(-kC2 * ln_x - inner);
    const Scalar below = 4.0 + term;
    const Scalar j = x / below;
    return {j, j * (1.0 + term * (kC2 + kC4 * inner) / below)};
}

/// J by two Chebyshev series, for x up to 1 and beyond; several x at once, whose sums then run side
/// by side.
///
/// Valid      x > 0.
/// Accuracy   3e-10 + 1e-9 J for 0.01 <= x <= 100, against the integral itself: 4e-6 of J at 0.01,
///            3e-7 from 0.05 on (test/unit/ion_interaction_test).
/// Source     [harvie-1981]; coefficients checked against quadrature of Pitzer's integral.
template <class Scalar, std::size_t N>
[[nodiscard]] std::array<MixingIntegral<Scalar>, N> mixing_integral_series(
    const std::array<Scalar, N>& x) {
    using std::exp;
    using std::log;
    constexpr std::size_t kTerms = 21;
    constexpr std::array<double, kTerms> kSmall{
        1.925154014814667, -.060076477753119, -.029779077456514, -.007299499690937,
        0.000388260636404, 0.000636874599598, 0.000036583601823, -.000045036975204,
        -.000004537895710, 0.000002937706971, 0.000000396566462, -.000000202099617,
        -.000000025267769, 0.000000013522610, 0.000000001229405, -.000000000821969,
        -.000000000050847, 0.000000000046333, 0.000000000001943, -.000000000002563,
        -.000000000010991};
    constexpr std::array<double, kTerms> kLarge{
        0.628023320520852, 0.462762985338493, 0.150044637187895, -.028796057604906,
        -.036552745910311, -.001668087945272, 0.006519840398744, 0.001130378079086,
        -.000887171310131, -.000242107641309, 0.000087294451594, 0.000034682122751,
        -.000004583768938, -.000003548684306, -.000000250453880, 0.000000216991779,
        0.000000080779570, 0.000000004558555, -.000000006944757, -.000000002849257,
        0.000000000237816};
    // z maps (0, 1] to (-2, 2] by 4 x^0.2 - 2, and [1, inf) to [2, -2) by (40 x^-0.1 - 22) / 9.
    constexpr double kSmallPower = 0.2;
    constexpr double kLargePower = -0.1;
    constexpr double kLargeScale = 40.0 / 9.0;
    constexpr double kLargeShift = 22.0 / 9.0;
    std::array<const double*, N> terms;
    std::array<Scalar, N> z, x_dz, b0, b1, b2, d0, d1, d2;
    for (std::size_t i = 0; i < N; ++i) {
        const bool small = !(x[i] > 1.0);
        terms[i] = (small ? kSmall : kLarge).data();
        const double power = small ? kSmallPower : kLargePower;
        const Scalar stretched = (small ? 4.0 : kLargeScale) * exp(power * log(x[i]));
        z[i] = stretched - (small ? 2.0 : kLargeShift);
        x_dz[i] = power * stretched;  // x dz/dx
        b0[i] = b1[i] = b2[i] = d0[i] = d1[i] = d2[i] = z[i] * 0.0;
    }
    for (std::size_t k = kTerms; k-- > 0;) {
        for (std::size_t i = 0; i < N; ++i) {
            b2[i] = b1[i];
            b1[i] = b0[i];
            d2[i] = d1[i];
            d1[i] = d0[i];
            b0[i] = z[i] * b1[i] - b2[i] + terms[i][k];
            d0[i] = b1[i] + z[i] * d1[i] - d2[i];
        }
    }
    std::array<MixingIntegral<Scalar>, N> out;
    for (std::size_t i = 0; i < N; ++i) {
        out[i] = {x[i] / 4.0 - 1.0 + 0.5 * (b0[i] - b2[i]),
                  x[i] / 4.0 + 0.5 * x_dz[i] * (d0[i] - d2[i])};
    }
    return out;
}

template <class Scalar>
[[nodiscard]] MixingIntegral<Scalar> mixing_integral_series(const Scalar& x) {
    return mixing_integral_series(std::array<Scalar, 1>{x})[0];
}

}  // namespace bw::brine
