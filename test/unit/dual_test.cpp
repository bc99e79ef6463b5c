// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "num/dual.hpp"

#include <cmath>
#include <complex>

#include <gtest/gtest.h>

namespace {

using bw::num::Dual;
using Two = Dual<2>;
using Complex = std::complex<double>;

constexpr double kStep =
    1e-30;  // of the complex step: no difference is taken, so none is too small

/// Uses every operation once.
template <class T>
T everything(const T& x, const T& y) {
    using std::exp;
    using std::log;
    using std::log10;
    using std::pow;
    using std::sqrt;
    T sum = exp(x * y) + log(x) / y - sqrt(y) * log10(x) + pow(x, 1.7) + pow(y, x);
    sum += 3.0 - x;
    sum -= 2.0 / y;
    sum *= x / 2.0 + 0.25 * y;
    sum /= 1.0 + x * x - 0.5;
    sum += 0.5;
    sum *= 2.0;
    sum -= y;
    sum /= 3.0;
    return -sum;
}

TEST(Dual, DerivativesAreThoseOfTheComplexStep) {
    for (const double x : {0.2, 1.0, 2.7, 11.0}) {
        for (const double y : {0.3, 1.0, 1.9}) {
            const Two found = everything(Two::variable(x, 0), Two::variable(y, 1));
            EXPECT_NEAR(found.v, everything(x, y), 1e-14 * std::abs(found.v));
            const double by_x = everything(Complex(x, kStep), Complex(y)).imag() / kStep;
            const double by_y = everything(Complex(x), Complex(y, kStep)).imag() / kStep;
            EXPECT_NEAR(found.g[0], by_x, 1e-13 * std::abs(by_x)) << x << ' ' << y;
            EXPECT_NEAR(found.g[1], by_y, 1e-13 * std::abs(by_y)) << x << ' ' << y;
        }
    }
}

TEST(Dual, ConstantHasNoDerivatives) {
    const Two c = 4.0;
    EXPECT_EQ(c.v, 4);
    EXPECT_EQ(c.g[0], 0);
    EXPECT_EQ(c.g[1], 0);
}

TEST(Dual, ProductAndQuotientOfItself) {
    const Two x = Two::variable(3, 0);
    Two square = x;
    square *= square;
    EXPECT_EQ(square.v, 9);
    EXPECT_EQ(square.g[0], 6);
    Two one = x;
    const Two& same = one;
    one /= same;
    EXPECT_EQ(one.v, 1);
    EXPECT_EQ(one.g[0], 0);
}

TEST(Dual, ComparesByValue) {
    EXPECT_TRUE(Two::variable(1, 0) == Two::variable(1, 1));
    EXPECT_LT(Two::variable(1, 0), Two(2.0));
    EXPECT_EQ(bw::num::value_of(Two::variable(7, 1)), 7);
    EXPECT_EQ(bw::num::value_of(7.0), 7);
}

TEST(Dual, RootAtZeroKeepsDerivativesOfWhatDoesNotEnter) {
    const Two root = sqrt(Two::variable(0, 0));
    EXPECT_EQ(root.v, 0);
    EXPECT_TRUE(std::isinf(root.g[0]));
    EXPECT_EQ(root.g[1], 0);
}

TEST(Dual, OutsideTheDomainIsNotANumber) {
    EXPECT_TRUE(std::isnan(log(Two::variable(-1, 0)).v));
    EXPECT_TRUE(std::isnan(sqrt(Two::variable(-1, 0)).v));
}

}  // namespace
