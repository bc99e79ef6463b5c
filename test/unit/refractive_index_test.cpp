// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/refractive_index.hpp"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "brine/nacl_brine.hpp"
#include "brine/practical_salinity.hpp"
#include "unit/water_of.hpp"

namespace {

using namespace bw::brine;
using bw::ProblemCode;
using bw::matter::Amounts;
using bw::matter::constituent;
using bw::matter::reference_seawater;
using bw::test::salt_water;
using bw::unit::Celsius;
using bw::unit::GramPerKg;
using bw::unit::PracticalSalinity;

// Ten-term equation of [quan-fry-1995]: other measurements of seawater, nm.
double quan_fry(double S, double t, double L) {
    return 1.31405 + (1.779e-4 - 1.05e-6 * t + 1.6e-8 * t * t) * S - 2.02e-6 * t * t +
           (15.868 + 0.01155 * S - 0.00423 * t) / L - 4382 / (L * L) + 1.1455e6 / (L * L * L);
}

double worst_difference(double step) {
    double worst = 0;
    for (double t = 0; t <= 30; t += step) {
        for (double S = 0; S <= 35; S += step) {
            const auto n = seawater_refractive_index(PracticalSalinity(S), Celsius(t));
            worst = std::fmax(worst, std::fabs(*n - quan_fry(S, t, 589.26)));
        }
    }
    return worst;
}

// Laboratories agree within 2.3e-5 on a grid of fives, 0.13 in salinity (found beforehand by an
// independent program); in between a little worse.
TEST(RefractiveIndex, TwoEquationsForSeawaterAgree) {
    EXPECT_NEAR(quan_fry(35, 20, 589.26), 1.339407, 5e-7);
    EXPECT_LT(worst_difference(5), 2.3e-5);
    EXPECT_LT(worst_difference(1), 2.5e-5);
}

TEST(RefractiveIndex, NaturalCompositionIsSeawater) {
    for (double t = 0; t <= 40; t += 10) {
        for (double S : {0.0, 1.0, 20.0, 35.0, 40.0, 100.0}) {
            const auto by_composition = refractive_index(
                reference_seawater(S * kGramPerKgPerPracticalSalinity), Celsius(t));
            const auto seawater = seawater_refractive_index(PracticalSalinity(S), Celsius(t));
            ASSERT_TRUE(by_composition && seawater);
            EXPECT_NEAR(by_composition->value, *seawater, 1e-7) << S << " " << t;
            EXPECT_EQ(by_composition->extrapolated, S > 40 || t > 30);
        }
    }
}

TEST(RefractiveIndex, UncertaintyCoversSodiumChloride) {
    for (double g : {0.0, 5.0, 20.0, 36.5, 50.0, 100.0}) {
        const auto model = refractive_index(salt_water("NaCl", g), Celsius(20));
        const auto measured = nacl_refractive_index(GramPerKg(g), Celsius(20));
        ASSERT_TRUE(model && measured);
        EXPECT_LT(std::fabs(model->value - measured->value), 2 * model->standard_uncertainty) << g;
    }
}

TEST(RefractiveIndex, RisesWithStrengthFallsWithTemperature) {
    for (const char* salt : {"NaCl", "MgSO4", "CaCl2", "NaHCO3"}) {
        double last = 1;
        for (double g = 0; g <= 290; g += 10) {
            const double n = refractive_index(salt_water(salt, g), Celsius(20))->value;
            EXPECT_GT(n, last) << salt << " " << g;
            last = n;
        }
    }
    double last = 2;
    for (double t = 0; t <= 40; t += 1) {
        const double n = refractive_index(reference_seawater(35), Celsius(t))->value;
        EXPECT_LT(n, last) << t;
        last = n;
    }
}

TEST(RefractiveIndex, RefusesWhatItDoesNotKnow) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const PracticalSalinity S(35);
    EXPECT_FALSE(seawater_refractive_index(PracticalSalinity(nan), Celsius(20)));
    EXPECT_FALSE(seawater_refractive_index(PracticalSalinity(-1e-9), Celsius(20)));
    EXPECT_FALSE(seawater_refractive_index(S, Celsius(nan)));
    EXPECT_FALSE(seawater_refractive_index(S, Celsius(40.1)));
    EXPECT_FALSE(seawater_refractive_index(S, Celsius(20), 0.49));
    EXPECT_FALSE(seawater_refractive_index(S, Celsius(20), nan));
    EXPECT_FALSE(refractive_index_of_water(nan, 298.15, 0.589));
    EXPECT_FALSE(refractive_index_of_water(997, 200, 0.589));
    EXPECT_FALSE(refractive_index_of_water(997, 298.15, 0.1));
    Amounts broken = reference_seawater(35);
    broken[constituent("K")] = nan;
    EXPECT_EQ(refractive_index(broken, Celsius(20)).error().code, ProblemCode::OutOfRange);
}

TEST(NaclBrine, IndexAndBack) {
    for (double g : {0.0, 1e-6, 10.0, 36.5, 100.0}) {
        const auto n = nacl_refractive_index(GramPerKg(g), Celsius(20));
        ASSERT_TRUE(n);
        EXPECT_FALSE(n->extrapolated);
        const auto back = nacl_of_refractive_index_20(n->value);
        ASSERT_TRUE(back) << g;
        EXPECT_NEAR(back->value(), g, 1e-8);
    }
    EXPECT_TRUE(nacl_refractive_index(GramPerKg(35), Celsius(25))->extrapolated);
}

// Three strengths imitate seawater of S 35 at 25 degC: 3.71 to 3.72 % by density, 3.30 % by
// conductivity, 3.64 % by index at 20 degC (own computation beforehand).
TEST(NaclBrine, ThreeStrengthsImitateSeawater) {
    const Celsius t(25);
    const auto sea = seawater_refractive_index(PracticalSalinity(35), Celsius(20));
    EXPECT_NEAR(nacl_of_refractive_index_20(*sea)->value(), 36.4, 0.06);
    EXPECT_LT(nacl_density(GramPerKg(37.05), t)->value, 1023.3437);
    EXPECT_GT(nacl_density(GramPerKg(37.25), t)->value, 1023.3437);
    EXPECT_LT(nacl_conductivity_mS_per_cm(GramPerKg(32.9), t)->value, 53.071);
    EXPECT_GT(nacl_conductivity_mS_per_cm(GramPerKg(33.1), t)->value, 53.071);
}

TEST(NaclBrine, RefusesWhatItDoesNotKnow) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (double g : {nan, -1e-9, 260.1}) {
        EXPECT_EQ(nacl_density(GramPerKg(g), Celsius(20)).error().code, ProblemCode::OutOfRange);
        EXPECT_FALSE(nacl_refractive_index(GramPerKg(g), Celsius(20)));
        EXPECT_FALSE(nacl_conductivity_mS_per_cm(GramPerKg(g), Celsius(20)));
    }
    for (double n : {nan, 1.0, 1.3329, 1.36}) {
        EXPECT_FALSE(nacl_of_refractive_index_20(n)) << n;
    }
    EXPECT_FALSE(nacl_density(GramPerKg(35), Celsius(41)));
}

}  // namespace
