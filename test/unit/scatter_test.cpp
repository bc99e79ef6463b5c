// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/scatter.hpp"

#include <cmath>
#include <numbers>
#include <random>

#include <gtest/gtest.h>

#include "blend/mixing.hpp"
#include "figure.hpp"

namespace {

using namespace bw;
using blend::Bounded;
using blend::GrainPart;
using blend::GrainSizes;
using matter::Grain;

Bounded exactly(double value) { return {value, value, value}; }

// A log-normal distribution by mass: d10 and d90 at -+1.2816 of ln sg, mean cube d50^3 exp(9/2 ln^2
// sg).
TEST(GrainSizes, LogNormalGrainsHaveTheirMeanCube) {
    for (const double sg : {1.0001, 1.2, 1.5, 2.0}) {
        const double d50 = 4e-4, s = std::log(sg);
        const double z = 1.2815515655446004;
        const auto sizes = GrainSizes::of({d50 * std::exp(-z * s), d50, d50 * std::exp(z * s)});
        ASSERT_TRUE(sizes) << sizes.error().text();
        const Bounded cube = sizes->mean_cube_m3();
        EXPECT_NEAR(cube.expected / (d50 * d50 * d50 * std::exp(4.5 * s * s)), 1, 1e-9);
        EXPECT_LE(cube.low, cube.expected);
        EXPECT_GE(cube.high, cube.expected);
        EXPECT_NEAR(sizes->size_m(0.5), d50, 1e-12);
        EXPECT_NEAR(sizes->size_m(0.9), d50 * std::exp(z * s), 1e-9);
    }
}

// The same by numbers: 4e6 draws of the piecewise line, with a top that is cut off.
TEST(GrainSizes, ASieveTableHasTheMeanCubeOfItsLine) {
    Grain grain;
    grain.sieve = {{1e-4, 0.05}, {2e-4, 0.3}, {5e-4, 0.8}, {8e-4, 1}};
    const auto sizes = GrainSizes::of(grain);
    ASSERT_TRUE(sizes) << sizes.error().text();
    double sum = 0;
    constexpr int kSteps = 400000;
    for (int i = 0; i < kSteps; ++i) {
        sum += std::pow(sizes->size_m((i + 0.5) / kSteps), 3);
    }
    EXPECT_NEAR(sizes->mean_cube_m3().expected / (sum / kSteps), 1, 1e-4);  // the sum's own steps
    EXPECT_NEAR(sizes->size_m(0.9999), 8e-4, 1e-15);
    EXPECT_LE(sizes->mean_cube_m3().high, 5.12e-10);  // nothing is above 0.8 mm
}

TEST(GrainSizes, RefusesWhatNoSieveGives) {
    EXPECT_FALSE(GrainSizes::of({2e-4, 1e-4, 3e-4}));
    EXPECT_FALSE(GrainSizes::of({0, 1e-4, 3e-4}));
    Grain one;
    one.sieve = {{1e-4, 0.5}, {2e-4, 1}};
    EXPECT_FALSE(GrainSizes::of(one));
    one.sieve = {{1e-4, 0.5}, {2e-4, 0.4}};
    EXPECT_FALSE(GrainSizes::of(one));
}

/// Relative standard deviation of the first constituent among portions that a brute draw of 1e7
/// grains makes, and how many portions there were.
struct Drawn {
    double relative_sd = 0;
    int portions = 0;
};
Drawn draw_grains(const std::vector<GrainPart>& parts, double portion_g) {
    std::vector<double> numbers;  // grains per gram of blend
    for (const GrainPart& p : parts) {
        numbers.push_back(p.share / p.grain_g.expected);
    }
    std::mt19937_64 random(35);
    std::discrete_distribution<std::size_t> which(numbers.begin(), numbers.end());
    std::vector<double> contents;
    double mass = 0, content = 0;
    for (int i = 0; i < 10000000; ++i) {
        const GrainPart& p = parts[which(random)];
        mass += p.grain_g.expected;
        content += p.grain_g.expected * p.content[0];
        if (mass >= portion_g) {
            contents.push_back(content / mass);
            mass = content = 0;
        }
    }
    double mean = 0, square = 0;
    for (const double c : contents) {
        mean += c / static_cast<double>(contents.size());
    }
    for (const double c : contents) {
        square += (c - mean) * (c - mean) / static_cast<double>(contents.size() - 1);
    }
    return {std::sqrt(square) / mean, static_cast<int>(contents.size())};
}

void expect_drawn(const std::string& blend_of, const std::vector<GrainPart>& parts,
                  double portion_g) {
    const auto scatter = blend::scatter_of(parts);
    ASSERT_TRUE(scatter) << scatter.error().text();
    const Drawn drawn = draw_grains(parts, portion_g);
    ASSERT_GT(drawn.portions, 300);
    const double expected = scatter->front().relative_sd(portion_g, 1e12).expected;
    // Three times the sampling error of a standard deviation, 1/sqrt(2 n).
    const double allowed = 3 / std::sqrt(2.0 * drawn.portions);
    const double off = std::abs(drawn.relative_sd / expected - 1);
    EXPECT_LE(off, allowed) << drawn.portions << " portions";
    test::record({"Blends",
                  "scatter among portions by formula, against 10 000 000 grains drawn one by one: "
                  "blend of " +
                      blend_of,
                  fmt::format("within {:.1f} %, three sampling errors of a standard deviation",
                              100 * allowed),
                  test::share_used(off, allowed), off <= allowed});
}

TEST(Scatter, IsThatOfTenMillionGrainsDrawnOneByOne) {
    expect_drawn("two salts of equal grains",
                 {{"a", 0.3, exactly(1e-3), {1}}, {"b", 0.7, exactly(1e-3), {0}}}, 5);
    expect_drawn("three salts with grains of three sizes",
                 {{"a", 0.2, exactly(4e-3), {0.5}},
                  {"b", 0.5, exactly(1e-3), {0.1}},
                  {"c", 0.3, exactly(0.2e-3), {0.9}}},
                 5);
    expect_drawn("0.06 % of a trace salt and the rest",
                 {{"trace", 6e-4, exactly(1e-3), {1}}, {"rest", 0.9994, exactly(0.5e-3), {0}}}, 15);
}

TEST(Scatter, FallsWithTheRootOfMassAndIsNothingForTheWholeLot) {
    const std::vector<GrainPart> parts{{"carrier", 0.01, exactly(0.001), {1}},
                                       {"rest", 0.99, exactly(0), {0}}};
    const auto s = blend::scatter_of(parts)->front();
    EXPECT_NEAR(s.relative_sd(10, 1e9).expected, 0.1 * std::sqrt(0.99 * 0.99), 1e-9);
    EXPECT_NEAR(s.relative_sd(1000, 1e12).expected, s.relative_sd(10, 1e12).expected / 10, 1e-9);
    EXPECT_EQ(s.relative_sd(10, 10).expected, 0);
    EXPECT_NEAR(s.least_portion_g(0.01), 0.01 * 0.001 * 99 * 99 / 1e-4, 1e-6);
    EXPECT_FALSE(blend::check_portion(11, 10));
    EXPECT_FALSE(blend::check_portion(0, 10));
    EXPECT_TRUE(blend::check_portion(10, 10));
}

TEST(Scatter, NamesTheSizeThatIsSmallEnough) {
    std::vector<GrainPart> parts{{"trace", 1e-3, exactly(1e-3), {1}},
                                 {"rest", 0.999, exactly(1e-5), {0}}};
    const auto before = blend::scatter_of(parts)->front();
    const auto factor = blend::size_factor_for(before, 0, 0.02, 50, 1e6);
    ASSERT_TRUE(factor);
    EXPECT_LT(*factor, 1);
    parts[0].grain_g = exactly(1e-3 * std::pow(*factor, 3));
    EXPECT_NEAR(blend::scatter_of(parts)->front().relative_sd(50, 1e6).expected, 0.02, 1e-9);
    EXPECT_FALSE(blend::size_factor_for(before, 1, 0.02, 50, 1e6));  // the trace alone is too much
}

TEST(Scatter, APartBoundToAnotherScattersAsItsCarrier) {
    const std::vector<GrainPart> parts{{"trace", 1e-3, exactly(1e-3), {1, 0}},
                                       {"salt", 0.899, exactly(1e-5), {0, 2}},
                                       {"other", 0.1, exactly(1e-4), {0, 0}}};
    const auto bound = blend::bound_to(parts, 0, 1);
    ASSERT_EQ(bound.size(), 2U);
    const auto scatter = blend::scatter_of(bound);
    ASSERT_TRUE(scatter);
    EXPECT_NEAR((*scatter)[0].content, 1e-3, 1e-15);
    EXPECT_NEAR((*scatter)[0].relative_sd(50, 1e9).expected,
                (*scatter)[1].relative_sd(50, 1e9).expected, 1e-12);
    EXPECT_LT((*scatter)[0].relative_sd(50, 1e9).expected, 0.002);
}

// Tables of Poisson's distribution, and of the normal one for many grains.
TEST(Scatter, FewGrainsScatterAsPoissonSays) {
    EXPECT_NEAR(blend::chance_outside(1 / std::sqrt(25), 0.5), 0.0125, 0.001);  // N <= 12, >= 38
    EXPECT_NEAR(blend::chance_outside(0.01, 0.02), 0.0455, 0.001);  // two standard deviations
    EXPECT_EQ(blend::chance_outside(1 / std::sqrt(0.4), 0.1), 1);   // no whole number lies inside
    EXPECT_NEAR(blend::chance_outside(1e-4, 1.96e-4), 0.05, 1e-4);
    EXPECT_EQ(blend::chance_outside(0, 0.1), 0);
}

TEST(Scatter, RefusesWhatIsNoBlend) {
    const GrainPart half{"a", 0.5, exactly(1e-3), {1}};
    EXPECT_FALSE(blend::scatter_of(std::vector<GrainPart>{half}));
    EXPECT_FALSE(blend::scatter_of(std::vector<GrainPart>{}));
    GrainPart bad = half;
    bad.content = {1, 2};
    EXPECT_FALSE(blend::scatter_of(std::vector<GrainPart>{half, bad}));
    bad = half;
    bad.grain_g = {1, 2, 3};
    EXPECT_FALSE(blend::scatter_of(std::vector<GrainPart>{half, bad}));
}

// Lacey's limits of a binary of equal grains, relative to p: s0^2 = (1-p)/p, sR^2 = (1-p)/(p n).
TEST(Mixing, LaceysIndexIsZeroUnmixedAndOneAtRandom) {
    constexpr double kMinor = 0.3, kGrain_g = 1e-3, kPortion_g = 1;
    const std::vector<GrainPart> parts{{"minor", kMinor, exactly(kGrain_g), {1}},
                                       {"rest", 1 - kMinor, exactly(kGrain_g), {0}}};
    const double unmixed = blend::unmixed_variances(parts)->at(0);
    EXPECT_NEAR(unmixed, (1 - kMinor) / kMinor, 1e-12);
    const double sd = blend::scatter_of(parts)->at(0).relative_sd(kPortion_g, 1e12).expected;
    EXPECT_NEAR(sd * sd, unmixed / 1000, 1e-9);
    const double none = *blend::lacey_index(unmixed, sd * sd, unmixed);
    const double best = *blend::lacey_index(unmixed, sd * sd, sd * sd);
    EXPECT_NEAR(none, 0, 1e-12);
    EXPECT_NEAR(best, 1, 1e-12);
    test::record(
        {"Blends", "Lacey's index of mixing for two salts of equal grains, at its limits",
         "0 unmixed and 1 mixed as well as can be, within 1e-12",
         fmt::format("{:.0f} and {:.0f}; {}", std::abs(none), best,
                     test::share_used(std::max(std::abs(none), std::abs(best - 1)), 1e-12)),
         std::abs(none) < 1e-12 && std::abs(best - 1) < 1e-12});
    EXPECT_LT(*blend::lacey_index(unmixed, sd * sd, 2 * unmixed), 0);
    EXPECT_FALSE(blend::lacey_index(0.1, 0.2, 0.1));
    EXPECT_FALSE(blend::lacey_index(0.2, 0.1, -1));
    EXPECT_FALSE(blend::unmixed_variances(std::vector<GrainPart>{parts[0]}));
}

TEST(Mixing, SamplesProveAPromise) {
    const auto plan = blend::samples_to_prove(0.0066, 0.02);
    ASSERT_TRUE(plan);
    EXPECT_LE(plan->factor * 0.0066, 0.02);
    // k for 95 % content with 95 % confidence: 3.03 for 14 samples, 3.10 for 13 (ISO 16269-6,
    // two-sided).
    EXPECT_EQ(plan->samples, 14);
    EXPECT_FALSE(blend::samples_to_prove(0.0103, 0.02));  // 1.96 times it is above the promise
    EXPECT_EQ(*blend::increments_needed(0.05, 0.01), 25);
    EXPECT_EQ(*blend::increments_needed(0.01, 0.01), 10);
    EXPECT_NEAR(blend::provable_sd(0.02), 0.0102043, 1e-7);  // 0.02/1.959964
    // What is allowed beside a repeatability adds about a twentieth to it.
    EXPECT_NEAR(std::hypot(0.01, blend::scatter_allowed_beside(0.01)), 0.01054, 1e-5);
}

}  // namespace
