// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/onset.hpp"

#include <array>
#include <cmath>

#include <gtest/gtest.h>

#include "brine/reference_totals.hpp"

namespace bw::path {
namespace {

Onset at(double omega, double celsius = 22) {
    OnsetWater water;
    water.omega_aragonite = omega;
    water.temperature = unit::Celsius(celsius);
    return onset(water);
}

TEST(Onset, LessSaturatedIsLater) {
    double last = 0;
    for (double omega = 40; omega > 1.05; omega -= 0.5) {
        EXPECT_GT(at(omega).hours, last) << omega;
        last = at(omega).hours;
    }
}

TEST(Onset, InFigures) {
    EXPECT_NEAR(at(8).hours, 600, 10);
    EXPECT_NEAR(at(10).hours, 126, 1);
    EXPECT_NEAR(at(13).hours, 33, 0.5);
    EXPECT_NEAR(at(20).hours, 7.5, 0.05);
    EXPECT_NEAR(at(30).hours, 3, 0.05);
    EXPECT_NEAR(at(10, 28).hours, at(10).hours / 1.78, 0.5);
}

TEST(Onset, NeverAtOrBelowSaturation) {
    for (const double omega : {1.0, 0.3, 0.0}) {
        EXPECT_TRUE(std::isinf(at(omega).hours));
        EXPECT_FALSE(at(omega).within_a_year);
    }
}

TEST(Onset, BeyondAYearIsSaid) {
    EXPECT_FALSE(at(5).within_a_year);
    EXPECT_GT(at(5).hours, 10 * kHoursPerYear);
    EXPECT_FALSE(at(6.1).within_a_year);
    EXPECT_TRUE(at(6.2).within_a_year);
}

TEST(Onset, WhereTheEvidenceEnds) {
    EXPECT_TRUE(at(8).in_evidence);
    EXPECT_FALSE(at(4.9).in_evidence);
    EXPECT_FALSE(at(31).in_evidence);
    EXPECT_FALSE(at(8, 28).in_evidence);
}

TEST(Onset, ParticlesDivideAndUnknownOnesWidenTheFactor) {
    OnsetWater water;
    water.omega_aragonite = 9;
    const double clean = onset(water).hours;
    water.particles = 10;
    EXPECT_NEAR(onset(water).hours, clean / 10, 1e-9 * clean);
    EXPECT_EQ(onset(water).factor, 5);
    water.particles_known = false;
    EXPECT_EQ(onset(water).factor, 10);
}

TEST(Onset, CalciteFallsWhereMagnesiumIsShort) {
    OnsetWater water;
    water.omega_aragonite = 9;
    EXPECT_EQ(onset(water).solid, CarbonateSolid::Aragonite);
    water.magnesium_per_calcium = 1.9;
    EXPECT_EQ(onset(water).solid, CarbonateSolid::Calcite);
}

TEST(Onset, DelayRunsStraightInTheLogarithmAndCountsUpToSeawater) {
    EXPECT_DOUBLE_EQ(delay(0, 0), 1);
    EXPECT_NEAR(delay(0.5, 0), std::sqrt(29.2), 1e-12);
    EXPECT_NEAR(delay(1, 0.5), std::sqrt(29.2 * 39.8), 1e-9);
    EXPECT_DOUBLE_EQ(delay(3, 1.2), delay(1, 1));
}

TEST(Onset, SharesOfSeawaterAreOne) {
    const auto sea = brine::reference_totals(35);
    const double water = 1 - sea.dissolved_kg_per_kg;
    EXPECT_NEAR(magnesium_share(sea.mol_per_kg[brine::index(brine::Total::Mg)] / water), 1, 1e-12);
    EXPECT_NEAR(sulfate_share(sea.mol_per_kg[brine::index(brine::Total::SO4)] / water), 1, 1e-12);
}

TEST(OnsetHour, OfAConstantRateIsOneOverIt) {
    const std::array<double, 3> hours{0, 3, 50};
    const std::array<double, 3> rate{0.1, 0.1, 0.1};
    EXPECT_NEAR(onset_hour(hours, rate).value_or(-1), 10, 1e-12);
}

TEST(OnsetHour, OfARateThatRunsStraightIsExact) {
    const std::array<double, 2> hours{2, 12};
    const std::array<double, 2> rising{0, 1};  // integral: (t - 2)^2 / 20
    EXPECT_NEAR(onset_hour(hours, rising).value_or(-1), 2 + std::sqrt(20), 1e-12);
    const std::array<double, 2> falling{1, 0};  // 1 at 10 - sqrt(80) from the start
    EXPECT_NEAR(onset_hour(hours, falling).value_or(-1), 2 + 10 - std::sqrt(80), 1e-12);
}

TEST(OnsetHour, NothingWhenTheTimeIsTooShort) {
    const std::array<double, 2> hours{0, 9.9};
    const std::array<double, 2> rate{0.1, 0.1};
    EXPECT_FALSE(onset_hour(hours, rate).has_value());
    EXPECT_FALSE(onset_hour({}, {}).has_value());
}

TEST(CrystalsAtOnset, AreTheLossThatCanBeDetected) {
    const Crystals c = crystals_at_onset(CarbonateSolid::Aragonite);
    EXPECT_NEAR(c.mol_per_kg(CarbonateSolid::Aragonite) * 100.087, 0.3e-3, 1e-9);
}

}  // namespace
}  // namespace bw::path
