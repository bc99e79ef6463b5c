// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/exposure.hpp"

#include <cmath>

#include <gtest/gtest.h>

namespace bw::path {
namespace {

Moment at(double h, std::string_view key, double omega) {
    Moment m;
    m.h = h;
    m.water.ln_omega.assign(ref::minerals().size(), -100);
    m.water.ln_omega[ref::mineral_place(key)] = std::log(omega);
    return m;
}

const Exposure& of(const std::vector<Exposure>& all, std::string_view key) {
    return *std::ranges::find_if(all, [&](const Exposure& e) { return e.solid->key == key; });
}

// ln Omega of gypsum from 0 to 2 in an hour and back: at level s the time is (2 - s), so the score
// is the largest s (2 - s) on the points looked at: 1 x 1 h at s = 1.
TEST(Exposure, ScoreIsTheLargestLevelTimesItsTime) {
    const std::vector<Moment> course{at(0, "gypsum", 1), at(0.5, "gypsum", std::exp(1.0)),
                                     at(1, "gypsum", std::exp(2.0)), at(2, "gypsum", 1)};
    const auto all = exposures(course);
    const Exposure& e = of(all, "gypsum");
    EXPECT_EQ(all.front().solid->key, "gypsum");
    EXPECT_NEAR(e.peak_omega, std::exp(2.0), 1e-12);
    EXPECT_EQ(e.peak_at_h, 1);
    EXPECT_NEAR(e.hours_over, 2, 1e-12);
    EXPECT_NEAR(e.score, 1 * (0.5 + 0.5), 1e-12);
}

TEST(Exposure, AragoniteCountsFromFive) {
    const std::vector<Moment> below{at(0, "aragonite", 4.9), at(10, "aragonite", 4.9)};
    const auto quiet = exposures(below);
    EXPECT_EQ(of(quiet, "aragonite").score, 0);
    EXPECT_EQ(of(quiet, "aragonite").hours_over, 0);
    const std::vector<Moment> above{at(0, "aragonite", 10), at(3, "aragonite", 10)};
    EXPECT_NEAR(of(exposures(above), "aragonite").score, 3 * std::log(2.0), 1e-12);
}

TEST(Exposure, SolidsThatNeverFormAreLeftOut) {
    for (const Exposure& e : exposures(std::vector<Moment>{at(0, "dolomite", 100)})) {
        EXPECT_NE(e.solid->key, "dolomite");
        EXPECT_NE(e.solid->key, "calcite");
        EXPECT_NE(e.solid->key, "vaterite");
    }
}

// Barite takes days where it is a few times supersaturated; thousands of times it does not.
TEST(Exposure, FarBeyondTrustASolidFallsSooner) {
    const ref::MineralRow& barite = ref::minerals()[ref::mineral_place("barite")];
    ASSERT_EQ(barite.forming, ref::Forming::Days);
    EXPECT_EQ(soon_at(barite, 0.5, 1.5), ref::Forming::Days);
    EXPECT_EQ(soon_at(barite, 14, 1.5), ref::Forming::Days);
    EXPECT_EQ(soon_at(barite, 16, 1.5), ref::Forming::Hours);
    EXPECT_EQ(soon_at(barite, 14'000, 1.5), ref::Forming::Minutes);
    const ref::MineralRow& gypsum = ref::minerals()[ref::mineral_place("gypsum")];
    EXPECT_EQ(soon_at(gypsum, 1e6, 1.1), ref::Forming::Minutes);
}

TEST(Exposure, MomentsWithoutWaterAreLeftOut) {
    std::vector<Moment> course{Moment{}, at(1, "gypsum", 2)};
    EXPECT_EQ(of(exposures(course), "gypsum").hours_over, 0);
    EXPECT_TRUE(exposures(std::vector<Moment>{Moment{}}).empty());
}

}  // namespace
}  // namespace bw::path
