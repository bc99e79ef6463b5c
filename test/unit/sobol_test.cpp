// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "stat/sobol.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include <gtest/gtest.h>

#include "figure.hpp"
#include "stat/draw.hpp"

namespace {

using bw::stat::DrawStream;
using bw::stat::SobolIndex;
using bw::stat::SobolSums;
using Point = std::vector<double>;

/// Indices of a function of uniform variables from 0 to 1, by blocks.
std::vector<SobolIndex> indices_of(std::size_t variables, double expectation,
                                   const std::function<double(const Point&)>& f) {
    constexpr int kBlocks = 200, kDraws = 1000;
    SobolSums all(variables);
    for (int block = 0; block < kBlocks; ++block) {
        DrawStream stream(7, static_cast<std::uint64_t>(block));
        SobolSums sums(variables);
        Point a(variables), b(variables);
        std::vector<double> ab(variables);
        for (int i = 0; i < kDraws; ++i) {
            stream.between_0_and_1(a);
            stream.between_0_and_1(b);
            for (std::size_t g = 0; g < variables; ++g) {
                Point mixed = a;
                mixed[g] = b[g];
                ab[g] = f(mixed) - expectation;
            }
            sums.add(f(a) - expectation, f(b) - expectation, ab);
        }
        all.merge(sums);
    }
    return all.indices();
}

void expect_indices(const std::string& function, const std::vector<SobolIndex>& found,
                    const std::vector<double>& first, const std::vector<double>& total) {
    constexpr double kErrors = 4;  // of the estimate
    double worst = 0;              // in errors of the estimate
    for (std::size_t i = 0; i < found.size(); ++i) {
        EXPECT_NEAR(found[i].first, first[i], kErrors * found[i].first_standard_error) << i;
        EXPECT_NEAR(found[i].total, total[i], kErrors * found[i].total_standard_error) << i;
        EXPECT_LT(found[i].first_standard_error, 0.02) << i;
        worst =
            std::max({worst, std::abs(found[i].first - first[i]) / found[i].first_standard_error,
                      std::abs(found[i].total - total[i]) / found[i].total_standard_error});
    }
    bw::test::record(
        {"Blends",
         fmt::format("shares of the variance, alone and in all, of the {} inputs of {} "
                     "against their closed forms, 200 000 draws",
                     found.size(), function),
         "within 4 standard errors of the estimate", bw::test::share_used(worst, kErrors),
         worst <= kErrors});
}

// sin x1 + a sin^2 x2 + b x3^4 sin x1 over -pi to pi [ishigami-1990]: closed forms of the parts of
// the variance, V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V13 = 8 b^2 pi^8/225.
TEST(Sobol, FindsTheIndicesOfIshigamisFunction) {
    constexpr double kA = 7, kB = 0.1;
    const double pi4 = std::pow(std::numbers::pi, 4);
    const double v1 = std::pow(1 + kB * pi4 / 5, 2) / 2, v2 = kA * kA / 8,
                 v13 = 8 * kB * kB * pi4 * pi4 / 225;
    const double all = v1 + v2 + v13;
    const auto found = indices_of(3, kA / 2, [](const Point& u) {
        const auto x = [&](std::size_t i) { return std::numbers::pi * (2 * u[i] - 1); };
        return std::sin(x(0)) + kA * std::pow(std::sin(x(1)), 2) +
               kB * std::pow(x(2), 4) * std::sin(x(0));
    });
    expect_indices("Ishigami's function", found, {v1 / all, v2 / all, 0},
                   {(v1 + v13) / all, v2 / all, v13 / all});
}

// prod (|4 x - 2| + a)/(1 + a) [sobol-1993]: V_i = 1/(3 (1 + a_i)^2), V = prod (1 + V_i) - 1,
// VT_i = V_i prod_(j != i) (1 + V_j).
TEST(Sobol, FindsTheIndicesOfTheGFunction) {
    const std::array<double, 4> a{0, 1, 4.5, 9};
    std::vector<double> part;
    double product = 1;
    for (const double each : a) {
        part.push_back(1 / (3 * (1 + each) * (1 + each)));
        product *= 1 + part.back();
    }
    std::vector<double> first, total;
    for (const double each : part) {
        first.push_back(each / (product - 1));
        total.push_back(each * product / (1 + each) / (product - 1));
    }
    const auto found = indices_of(4, 1, [&](const Point& x) {
        double out = 1;
        for (std::size_t i = 0; i < a.size(); ++i) {
            out *= (std::abs(4 * x[i] - 2) + a[i]) / (1 + a[i]);
        }
        return out;
    });
    expect_indices("Sobol's g function", found, first, total);
}

TEST(Sobol, NothingVariesNothingIsShared) {
    SobolSums sums(2);
    sums.add(1, 1, std::array<double, 2>{1, 1});
    sums.add(1, 1, std::array<double, 2>{1, 1});
    for (const SobolIndex& index : sums.indices()) {
        EXPECT_EQ(index.first, 0);
        EXPECT_EQ(index.total, 0);
    }
}

}  // namespace
