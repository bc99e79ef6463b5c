// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/conductivity.hpp"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "brine/practical_salinity.hpp"
#include "figure.hpp"
#include "unit/water_of.hpp"

namespace {

using namespace bw::brine;
using bw::ProblemCode;
using bw::matter::Amounts;
using bw::matter::constituent;
using bw::matter::reference_seawater;
using bw::test::salt_water;
using bw::unit::Celsius;
using bw::unit::PracticalSalinity;

Amounts seawater(double S) { return reference_seawater(S * kGramPerKgPerPracticalSalinity); }

// Reference salinity and the mass of the composition differ by 1e-6 parts.
TEST(Conductivity, NaturalCompositionFollowsTheScale) {
    double worst = 0;
    for (double t = 0; t <= 35; t += 5) {
        for (double S : {0.2, 1.0, 5.0, 10.0, 20.0, 35.0, 42.0, 59.0}) {
            const auto model = conductivity_mS_per_cm(seawater(S), Celsius(t));
            const auto scale = conductivity_of_salinity(PracticalSalinity(S), Celsius(t));
            ASSERT_TRUE(model && scale) << S << " " << t;
            EXPECT_NEAR(model->value, scale->kappa_mS_per_cm, 2e-4) << S << " " << t;
            EXPECT_EQ(model->extrapolated, S > 42) << S;
            worst = std::fmax(worst, std::fabs(model->value - scale->kappa_mS_per_cm));
        }
    }
    constexpr double kAsked = 1e-3;
    bw::test::record({"Waters",
                      "conductivity of a water of natural composition, 0 to 35 degC, against the "
                      "practical salinity scale",
                      "within 0.001 mS/cm", bw::test::share_used(worst, kAsked), worst <= kAsked});
}

// At infinite dilution NaCl conducts 126.4 S cm2/mol at 25 degC [robinson-stokes-2002]; the law of
// the square root takes 89 sqrt(c) off. The ratio to seawater at S 0.1 may be 1.5 % off.
TEST(Conductivity, VeryDiluteWaters) {
    const double mol = 1e-5;
    const double limiting = (126.4 - 89 * std::sqrt(mol)) * mol * 0.997;
    const auto model =
        conductivity_by_ions_mS_per_cm(salt_water("NaCl", mol * 58.443), Celsius(25));
    EXPECT_NEAR(*model, limiting, 0.01 * limiting);
    const auto ratio = conductivity_mS_per_cm(salt_water("NaCl", mol * 58.443), Celsius(25));
    EXPECT_NEAR(ratio->value, limiting, 0.025 * limiting);
    EXPECT_EQ(conductivity_mS_per_cm(Amounts(), Celsius(25))->value, 0);
    EXPECT_EQ(conductivity_by_ions_mS_per_cm(salt_water("H3BO3", 1), Celsius(25)).value(), 0);
}

TEST(Conductivity, RisesWithStrengthAndTemperature) {
    for (const char* salt : {"NaCl", "KCl", "MgCl2", "Na2SO4", "NaHCO3"}) {
        double last = -1;
        for (double g = 0; g <= 120; g += 2) {
            const auto kappa = conductivity_mS_per_cm(salt_water(salt, g), Celsius(25));
            ASSERT_TRUE(kappa) << salt << " " << g;
            EXPECT_GT(kappa->value, last) << salt << " " << g;
            EXPECT_TRUE(std::isfinite(kappa->standard_uncertainty));
            last = kappa->value;
        }
    }
    double last = 0;
    for (double t = 0; t <= 40; t += 1) {
        const double kappa = conductivity_mS_per_cm(seawater(35), Celsius(t))->value;
        EXPECT_GT(kappa, last);
        last = kappa;
    }
}

TEST(Conductivity, NoStepWhereTheNaturalWaterEnds) {
    for (double S : {0.1, 60.0}) {
        const auto below = conductivity_mS_per_cm(seawater(S * (1 - 1e-7)), Celsius(25));
        const auto above = conductivity_mS_per_cm(seawater(S * (1 + 1e-7)), Celsius(25));
        EXPECT_NEAR(below->value, above->value, 1e-5 * above->value);
    }
}

TEST(Conductivity, SaysWhatItDoesNotKnow) {
    const auto strong = conductivity_mS_per_cm(seawater(80), Celsius(25));
    EXPECT_TRUE(strong->extrapolated);
    EXPECT_EQ(strong->notices.at(0).code, "conductivity_strong");
    Amounts charged = seawater(35);
    charged[constituent("Na")] += 0.05;
    const auto kappa = conductivity_mS_per_cm(charged, Celsius(25));
    EXPECT_EQ(kappa->notices.at(0).code, "property_charge");
    EXPECT_GT(kappa->standard_uncertainty, 1);
    EXPECT_TRUE(conductivity_mS_per_cm(seawater(35), Celsius(38))->extrapolated);
}

TEST(Conductivity, RefusesWhatIsNoWater) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    Amounts broken = seawater(35);
    broken[constituent("SO4")] = nan;
    EXPECT_EQ(conductivity_mS_per_cm(broken, Celsius(25)).error().code, ProblemCode::OutOfRange);
    broken[constituent("SO4")] = -1e-9;
    EXPECT_EQ(conductivity_by_ions_mS_per_cm(broken, Celsius(25)).error().code,
              ProblemCode::OutOfRange);
    for (double t : {nan, -0.1, 40.1}) {
        EXPECT_EQ(conductivity_mS_per_cm(seawater(35), Celsius(t)).error().code,
                  ProblemCode::OutOfRange);
    }
}

}  // namespace
