// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace bw::num {

/// A number with its exact first derivatives by N independent variables (forward
/// differentiation): v + sum_i g_i e_i with e_i e_j = 0.
///
/// Definition  f(v + g e) = f(v) + f'(v) g e for every elementary function below, so that an
/// expression
///             written once for `double` gives its value and gradient without truncation error.
/// Valid       where the function is differentiable. A variable that does not enter keeps the
///             derivative 0 even where f' is infinite (the square root at 0).
/// Accuracy    round-off; tested against the complex step (test/unit/dual_test.cpp).
/// Errors      none; outside the domain the result is NaN or infinite as for `double`.
/// Comparison  by value alone.
template <int N>
struct Dual {
    static_assert(N > 0);
    static constexpr std::size_t kSize = static_cast<std::size_t>(N);

    double v = 0;
    std::array<double, kSize> g{};

    constexpr Dual() = default;
    // NOLINTNEXTLINE(google-explicit-constructor): a constant is a number without derivatives
    constexpr Dual(double value) : v(value) {}

    /// The independent variable number `index`.
    [[nodiscard]] static constexpr Dual variable(double value, int index) {
        Dual out(value);
        out.g.at(static_cast<std::size_t>(index)) = 1;
        return out;
    }

    constexpr Dual& operator+=(const Dual& b) {
        v += b.v;
        for (std::size_t i = 0; i < kSize; ++i) {
            g[i] += b.g[i];
        }
        return *this;
    }
    constexpr Dual& operator-=(const Dual& b) {
        v -= b.v;
        for (std::size_t i = 0; i < kSize; ++i) {
            g[i] -= b.g[i];
        }
        return *this;
    }
    constexpr Dual& operator*=(const Dual& b) {
        for (std::size_t i = 0; i < kSize; ++i) {
            g[i] = g[i] * b.v + v * b.g[i];
        }
        v *= b.v;
        return *this;
    }
    constexpr Dual& operator/=(const Dual& b) {
        const double quotient = v / b.v;
        for (std::size_t i = 0; i < kSize; ++i) {
            g[i] = (g[i] - quotient * b.g[i]) / b.v;
        }
        v = quotient;
        return *this;
    }
    constexpr Dual& operator+=(double b) {
        v += b;
        return *this;
    }
    constexpr Dual& operator-=(double b) {
        v -= b;
        return *this;
    }
    constexpr Dual& operator*=(double b) {
        v *= b;
        for (double& d : g) {
            d *= b;
        }
        return *this;
    }
    constexpr Dual& operator/=(double b) {
        v /= b;
        for (double& d : g) {
            d /= b;
        }
        return *this;
    }

    friend constexpr Dual operator+(Dual a, const Dual& b) { return a += b; }
    friend constexpr Dual operator-(Dual a, const Dual& b) { return a -= b; }
    friend constexpr Dual operator*(Dual a, const Dual& b) { return a *= b; }
    friend constexpr Dual operator/(Dual a, const Dual& b) { return a /= b; }
    friend constexpr Dual operator+(Dual a, double b) { return a += b; }
    friend constexpr Dual operator-(Dual a, double b) { return a -= b; }
    friend constexpr Dual operator*(Dual a, double b) { return a *= b; }
    friend constexpr Dual operator/(Dual a, double b) { return a /= b; }
    friend constexpr Dual operator+(double a, Dual b) { return b += a; }
    friend constexpr Dual operator*(double a, Dual b) { return b *= a; }
    friend constexpr Dual operator-(double a, const Dual& b) { return -b += a; }
    friend constexpr Dual operator/(double a, const Dual& b) { return Dual(a) /= b; }
    friend constexpr Dual operator-(Dual a) { return a *= -1.0; }
    friend constexpr bool operator==(const Dual& a, const Dual& b) { return a.v == b.v; }
    friend constexpr auto operator<=>(const Dual& a, const Dual& b) { return a.v <=> b.v; }

    /// f(a) from f and f' at a.v.
    [[nodiscard]] static constexpr Dual chain(const Dual& a, double f, double slope) {
        Dual out(f);
        for (std::size_t i = 0; i < kSize; ++i) {
            out.g[i] = a.g[i] == 0 ? 0 : slope * a.g[i];
        }
        return out;
    }
};

template <int N>
[[nodiscard]] Dual<N> exp(const Dual<N>& a) {
    const double f = std::exp(a.v);
    return Dual<N>::chain(a, f, f);
}

template <int N>
[[nodiscard]] Dual<N> log(const Dual<N>& a) {
    return Dual<N>::chain(a, std::log(a.v), 1 / a.v);
}

template <int N>
[[nodiscard]] Dual<N> log10(const Dual<N>& a) {
    return Dual<N>::chain(a, std::log10(a.v), 1 / (a.v * std::numbers::ln10));
}

template <int N>
[[nodiscard]] Dual<N> sqrt(const Dual<N>& a) {
    const double f = std::sqrt(a.v);
    return Dual<N>::chain(a, f, 0.5 / f);
}

/// a^b for a constant exponent; a may be negative where std::pow allows it.
template <int N>
[[nodiscard]] Dual<N> pow(const Dual<N>& a, double b) {
    return Dual<N>::chain(a, std::pow(a.v, b), b * std::pow(a.v, b - 1));
}

/// a^b for a > 0.
template <int N>
[[nodiscard]] Dual<N> pow(const Dual<N>& a, const Dual<N>& b) {
    const double f = std::pow(a.v, b.v);
    return Dual<N>::chain(a, f, b.v * std::pow(a.v, b.v - 1)) +
           (Dual<N>::chain(b, f, f * std::log(a.v)) - f);
}

/// The value without its derivatives; the number itself for `double`.
[[nodiscard]] constexpr double value_of(double a) { return a; }
template <int N>
[[nodiscard]] constexpr double value_of(const Dual<N>& a) {
    return a.v;
}

}  // namespace bw::num
