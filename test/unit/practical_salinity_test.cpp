// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/practical_salinity.hpp"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace {

using namespace bw::brine;
using bw::ProblemCode;
using bw::unit::Celsius;
using bw::unit::PracticalSalinity;

TEST(PracticalSalinity, ConductivityAndBack) {
    for (double t : {-2.0, 0.0, 12.3, 25.0, 35.0, 40.0}) {
        for (double S : {0.0, 0.001, 0.1, 1.0, 1.9999, 2.0, 2.0001, 10.0, 35.0, 42.0, 60.0}) {
            const auto kappa = conductivity_of_salinity(PracticalSalinity(S), Celsius(t));
            ASSERT_TRUE(kappa) << S << " " << t;
            const auto back =
                salinity_of_conductivity(kappa->kappa_mS_per_cm * (1 - 1e-15), Celsius(t));
            ASSERT_TRUE(back) << S << " " << t << back.error().message;
            EXPECT_NEAR(back->salinity.value(), S, 1e-10) << t;
        }
    }
}

TEST(PracticalSalinity, NoStepWhereTheLowTermEnds) {
    for (double t : {0.0, 15.0, 25.0, 35.0}) {
        const auto below = conductivity_of_salinity(PracticalSalinity(2 - 1e-9), Celsius(t));
        const auto above = conductivity_of_salinity(PracticalSalinity(2), Celsius(t));
        ASSERT_TRUE(below && above);
        EXPECT_NEAR(below->kappa_mS_per_cm, above->kappa_mS_per_cm, 1e-8);
        EXPECT_LT(below->kappa_mS_per_cm, above->kappa_mS_per_cm);
    }
}

TEST(PracticalSalinity, RisesWithConductivity) {
    for (double t : {0.0, 25.0, 40.0}) {
        double last = -1;
        for (double kappa = 0; kappa < 46; kappa += 0.25) {
            const auto S = salinity_of_conductivity(kappa, Celsius(t));
            ASSERT_TRUE(S) << kappa << " " << t;
            EXPECT_GT(S->salinity.value(), last);
            last = S->salinity.value();
        }
    }
}

// The plain scale is high by 0.0032 at S 0.1 and by 0.0003 at S 1, both at 25 degC (own
// computation beforehand, to the last digit).
TEST(PracticalSalinity, SizeOfTheLowTerm) {
    const Celsius t(25);
    for (const auto& [S, high] : {std::pair{0.1, 0.0032}, std::pair{1.0, 0.0003}}) {
        const auto kappa = conductivity_of_salinity(PracticalSalinity(S), t);
        ASSERT_TRUE(kappa);
        const double plain = salinity_of_ratio(kappa->kappa_mS_per_cm / kConductivityAt35_mS_per_cm,
                                               25 * 1.00024, 0);
        EXPECT_NEAR(plain - S, high, 6e-5);
    }
}

TEST(PracticalSalinity, FlagsWhatTheScaleDoesNotReach) {
    const auto at = [](double S, double t) {
        return conductivity_of_salinity(PracticalSalinity(S), Celsius(t))->extrapolated;
    };
    EXPECT_FALSE(at(42, 35));
    EXPECT_TRUE(at(42.1, 20));
    EXPECT_TRUE(at(35, 35.1));
    EXPECT_FALSE(at(0.5, 0));
    EXPECT_TRUE(salinity_of_conductivity(70, Celsius(25))->extrapolated);
}

TEST(PracticalSalinity, RefusesWhatIsNoReading) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    for (double kappa : {nan, inf, -inf, -1e-9, 150.0}) {
        const auto S = salinity_of_conductivity(kappa, Celsius(25));
        ASSERT_FALSE(S) << kappa;
        EXPECT_EQ(S.error().code, ProblemCode::OutOfRange);
    }
    for (double S : {nan, inf, -1e-9, 60.001}) {
        const auto kappa = conductivity_of_salinity(PracticalSalinity(S), Celsius(25));
        ASSERT_FALSE(kappa) << S;
        EXPECT_EQ(kappa.error().code, ProblemCode::OutOfRange);
    }
    for (double t : {nan, -2.001, 40.001, inf}) {
        EXPECT_EQ(salinity_of_conductivity(30, Celsius(t)).error().code, ProblemCode::OutOfRange);
        EXPECT_EQ(conductivity_of_salinity(PracticalSalinity(30), Celsius(t)).error().code,
                  ProblemCode::OutOfRange);
    }
}

}  // namespace
