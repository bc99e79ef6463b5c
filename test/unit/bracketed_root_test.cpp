// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "num/bracketed_root.hpp"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace {

using bw::num::bracketed_root;

TEST(BracketedRoot, FindsRootsOfKindAndUnkindFunctions) {
    EXPECT_NEAR(*bracketed_root([](double x) { return x * x - 2; }, 0, 2, 1e-14), std::sqrt(2.0),
                1e-14);
    EXPECT_NEAR(*bracketed_root([](double x) { return std::cbrt(x - 0.3); }, -5, 7, 1e-12), 0.3,
                1e-11);
    EXPECT_NEAR(*bracketed_root([](double x) { return x < 1.7 ? -1.0 : 1.0; }, 0, 10, 1e-12), 1.7,
                1e-11);
    EXPECT_NEAR(*bracketed_root([](double x) { return std::pow(x - 1, 9); }, 0, 3, 1e-12), 1, 0.03);
    EXPECT_NEAR(*bracketed_root([](double x) { return std::exp(20 * x) - 1; }, -3, 5, 1e-12), 0,
                1e-11);
}

TEST(BracketedRoot, TakesARootAtAnEnd) {
    EXPECT_EQ(*bracketed_root([](double x) { return x; }, 0, 1, 1e-9), 0);
    EXPECT_EQ(*bracketed_root([](double x) { return x - 1; }, 0, 1, 1e-9), 1);
}

TEST(BracketedRoot, RefusesWithoutABracket) {
    EXPECT_FALSE(bracketed_root([](double x) { return x + 2; }, 0, 1, 1e-9));
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(bracketed_root([&](double) { return nan; }, 0, 1, 1e-9));
    EXPECT_FALSE(
        bracketed_root([&](double x) { return x > 0.2 && x < 0.8 ? nan : x - 0.5; }, 0, 1, 1e-9));
}

TEST(BracketedRoot, NeedsFewEvaluations) {
    int calls = 0;
    const auto root = bracketed_root(
        [&](double x) {
            ++calls;
            return std::exp(x) - 5;
        },
        0, 10, 1e-12);
    EXPECT_NEAR(*root, std::log(5.0), 1e-12);
    EXPECT_LE(calls, 20);
}

}  // namespace
