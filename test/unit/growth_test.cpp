// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/growth.hpp"

#include <array>
#include <cmath>
#include <set>
#include <string>

#include <gtest/gtest.h>

#include "path/crystals.hpp"
#include "ref/growth_table.hpp"

namespace bw::path {
namespace {

constexpr unit::Celsius kWarm{25};

double published(std::string_view law, double omega, double celsius) {
    const auto rate = published_growth_umol_per_m2_h(law, omega, unit::Celsius(celsius));
    EXPECT_TRUE(rate.has_value()) << law << " at " << celsius;
    return rate.value_or(-1);
}

TEST(Growth, EveryLawGivesItsRowsAndNothingBelowSaturation) {
    std::set<std::string_view> laws;
    for (const auto& row : ref::growth_rates()) {
        laws.insert(row.law);
        EXPECT_NEAR(published(row.law, 2, row.celsius), row.k_umol_per_m2_h, 1e-12);
        EXPECT_NEAR(published(row.law, 11, row.celsius),
                    row.k_umol_per_m2_h * std::pow(10, row.order), 1e-9);
        EXPECT_EQ(published(row.law, 1, row.celsius), 0);
        EXPECT_EQ(published(row.law, 0.5, row.celsius), 0);
    }
    EXPECT_EQ(laws.size(), 7U);
}

TEST(Growth, BetweenTwoTemperaturesTheLogarithmRunsStraight) {
    const double cold = published("romanek_aragonite", 6, 10);
    const double warm = published("romanek_aragonite", 6, 25);
    EXPECT_NEAR(published("romanek_aragonite", 6, 20), cold * std::pow(warm / cold, 2.0 / 3),
                1e-9 * warm);
}

TEST(Growth, NoLawIsRunOnPastItsTemperatures) {
    for (const auto& [law, celsius] : {std::pair{"burton_walter_aragonite", 4.9},
                                       {"burton_walter_aragonite", 37.1},
                                       {"romanek_aragonite", 9.0},
                                       {"zhong_mucci_aragonite", 24.0}}) {
        const auto rate = published_growth_umol_per_m2_h(law, 5, unit::Celsius(celsius));
        ASSERT_FALSE(rate.has_value()) << law;
        EXPECT_EQ(rate.error().code, ProblemCode::OutOfRange);
    }
    EXPECT_EQ(published_growth_umol_per_m2_h("nobody", 5, kWarm).error().code,
              ProblemCode::UnknownName);
    EXPECT_EQ(published_growth_umol_per_m2_h("romanek_aragonite", NAN, kWarm).error().code,
              ProblemCode::OutOfRange);
}

TEST(Growth, TheMiddleOfAragoniteIsWithinItsFactorOfEveryLaw) {
    for (const double omega : {5.0, 7.0, 10.0, 20.0, 30.0}) {
        const double middle = aragonite_growth_umol_per_m2_h(omega, kWarm);
        for (const auto* law :
             {"burton_walter_aragonite", "romanek_aragonite", "zhong_mucci_aragonite"}) {
            EXPECT_LE(std::abs(std::log(middle / published(law, omega, 25))),
                      std::log(kGrowthFactor))
                << law << " " << omega;
        }
    }
}

TEST(Growth, TheMiddleOfAragoniteInFigures) {
    EXPECT_NEAR(aragonite_growth_umol_per_m2_h(3, kWarm), 112, 0.5);
    EXPECT_NEAR(aragonite_growth_umol_per_m2_h(5, kWarm), 418, 0.5);
    EXPECT_NEAR(aragonite_growth_umol_per_m2_h(10, kWarm), 1951, 0.5);
    EXPECT_NEAR(aragonite_growth_umol_per_m2_h(20, kWarm), 8068, 0.5);
    EXPECT_EQ(aragonite_growth_umol_per_m2_h(1, kWarm), 0);
    const double speed =
        face_speed_m_per_h(aragonite_growth_umol_per_m2_h(10, kWarm), CarbonateSolid::Aragonite);
    EXPECT_NEAR(speed, 67e-9, 0.5e-9);
}

/// Two of the laws have more than one temperature; Burton and Walter's order of 0.4 at 5 degC is
/// odd.
TEST(Growth, TheMiddleOfAragoniteFollowsRomanekInTemperature) {
    for (const double celsius : {10.0, 40.0}) {
        for (const double omega : {5.0, 10.0}) {
            const double ours = aragonite_growth_umol_per_m2_h(omega, unit::Celsius(celsius)) /
                                aragonite_growth_umol_per_m2_h(omega, kWarm);
            const double theirs = published("romanek_aragonite", omega, celsius) /
                                  published("romanek_aragonite", omega, 25);
            EXPECT_LE(std::abs(std::log(ours / theirs)), std::log(kGrowthFactor)) << celsius;
        }
    }
}

TEST(Growth, QuickensWithTheActivationEnergy) {
    const auto against_22 = [](double celsius) {
        return quickening(unit::Celsius(celsius), unit::Celsius(22), 71e3);
    };
    EXPECT_NEAR(against_22(20), 0.82, 0.005);
    EXPECT_NEAR(against_22(25), 1.34, 0.005);
    EXPECT_NEAR(against_22(28), 1.78, 0.005);
    EXPECT_NEAR(against_22(30), 2.15, 0.005);
}

TEST(Growth, TheMiddleOfCalciteIsTheGeometricMeanOfTheLaws) {
    for (const double omega : {3.0, 5.0, 10.0}) {
        double ln_mean = 0;
        for (const auto* law : {"burton_walter_calcite", "lopez_calcite", "zhong_mucci_calcite"}) {
            const double one = published(law, omega, 25);
            ln_mean += std::log(one) / 3;
            EXPECT_LE(std::abs(std::log(calcite_growth_umol_per_m2_h(omega, kWarm, 1) / one)),
                      std::log(kGrowthFactor))
                << law << " " << omega;
        }
        EXPECT_NEAR(std::log(calcite_growth_umol_per_m2_h(omega, kWarm, 1)), ln_mean, 0.01);
    }
}

TEST(Growth, MagnesiumHoldsCalciteBack) {
    const double sea = calcite_growth_umol_per_m2_h(6, kWarm, 1);
    EXPECT_DOUBLE_EQ(calcite_growth_umol_per_m2_h(6, kWarm, 1.4), sea);
    EXPECT_NEAR(calcite_growth_umol_per_m2_h(6, kWarm, 0), 10 * sea, 1e-9 * sea);
    EXPECT_NEAR(calcite_growth_umol_per_m2_h(6, kWarm, 0.05), 10 * sea, 1e-9 * sea);
    EXPECT_NEAR(calcite_growth_umol_per_m2_h(6, kWarm, 0.525), std::sqrt(10) * sea, 1e-9 * sea);
}

TEST(Crystals, ASeedHasTheMassAndAreaThatWereStated) {
    const Crystals c = seed(1e-6, 2, CarbonateSolid::Aragonite);
    EXPECT_NEAR(c.area_m2_per_kg(), 2e-3, 1e-12);
    EXPECT_NEAR(c.mol_per_kg(CarbonateSolid::Aragonite), 1e-3 / 100.087, 1e-15);
    EXPECT_NEAR(c.radius_m / c.number, 0.512e-6, 0.001e-6);
    EXPECT_EQ(seed(0, 2, CarbonateSolid::Aragonite).number, 0);
}

/// The closed form against a step-by-step sum of the slopes, and the mass against the uptake.
TEST(Crystals, GrowAsTheirSlopesSayAndTakeWhatTheyGain) {
    const Crystals start = seed(1e-7, 2, CarbonateSolid::Aragonite);
    const double rate = aragonite_growth_umol_per_m2_h(8.7, kWarm);
    const double speed = face_speed_m_per_h(rate, CarbonateSolid::Aragonite);
    constexpr int kSteps = 20'000;
    constexpr double kHours = 40;
    constexpr double kStep = kHours / kSteps;
    Crystals c = start;
    double taken = 0;
    for (int i = 0; i < kSteps; ++i) {  // midpoint rule
        const Crystals middle = grown(c, speed * kStep / 2);
        const Crystals d = slopes(middle, speed);
        taken += uptake_mol_per_kg_h(middle, rate) * kStep;
        c = {c.number, c.radius_m + kStep * d.radius_m, c.radius_m2 + kStep * d.radius_m2,
             c.radius_m3 + kStep * d.radius_m3};
    }
    const Crystals closed = grown(start, speed * kHours);
    EXPECT_NEAR(c.radius_m / closed.radius_m, 1, 1e-9);
    EXPECT_NEAR(c.radius_m2 / closed.radius_m2, 1, 1e-7);
    EXPECT_NEAR(c.radius_m3 / closed.radius_m3, 1, 1e-7);
    const double gained =
        closed.mol_per_kg(CarbonateSolid::Aragonite) - start.mol_per_kg(CarbonateSolid::Aragonite);
    EXPECT_NEAR(taken / gained, 1, 1e-7);
}

TEST(Crystals, BirthsAddNumberAndNothingElse) {
    const Crystals d = slopes({1, 2, 3, 4}, 0, 7);
    EXPECT_EQ(d.number, 7);
    EXPECT_EQ(d.radius_m + d.radius_m2 + d.radius_m3, 0);
}

}  // namespace
}  // namespace bw::path
