// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Instruments forwards and backwards. Reference values of their own stand in
// test/check/instruments.toml; here is what must hold of any instrument.
#include "brine/instrument.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brine/nacl_law.hpp"
#include "brine/natural_seawater.hpp"

namespace {

using namespace bw::brine;
using bw::ProblemCode;
using bw::unit::Celsius;
using bw::unit::GramPerKg;
using bw::unit::PracticalSalinity;
using testing::HasSubstr;

std::vector<Instrument> all_instruments() {
    using enum Refractometer::Dial;
    return {ConductivityMeter{},
            ConductivityMeter{Compensation{Celsius(25), 0.0191}},
            SalinityMeter{},
            Refractometer{NaclGramPerKg},
            Refractometer{NaclGramPerLitre},
            Refractometer{NaclSpecificGravity},
            Refractometer{Seawater},
            Refractometer{Index},
            Refractometer{Seawater, false, Celsius(20)},
            Refractometer{NaclGramPerKg, false, Celsius(18)},
            Hydrometer{},
            Hydrometer{Celsius(25), Celsius(25)},
            Hydrometer{Celsius(20), std::nullopt},
            DensityMeter{},
            WeighedIn{}};
}

// Tolerance: the root is found to 1e-10 g/kg; the readings carry sixteen digits of a value up to
// 1e3, which for a relative density of slope 7.6e-4 is 3e-13.
TEST(Instrument, WhatIsShownLeadsBackToTheWater) {
    const NaturalSeawater sea;
    for (const Instrument& instrument : all_instruments()) {
        for (const double w : {5.0, 20.0, 35.16504, 41.0}) {
            for (const double t : {15.0, 20.0, 25.0, 29.0}) {
                SCOPED_TRACE(describe(instrument) + " " + std::to_string(w) + " " +
                             std::to_string(t));
                const auto shown = expected_reading(sea, instrument, GramPerKg(w), Celsius(t));
                ASSERT_TRUE(shown.has_value()) << shown.error().message;
                const auto back = dissolved_showing(sea, instrument, *shown, Celsius(t));
                ASSERT_TRUE(back.has_value()) << back.error().message;
                EXPECT_NEAR(back->value(), w, 1e-8);
            }
        }
    }
}

TEST(Instrument, GrowsWithTheSalt) {
    const NaturalSeawater sea;
    for (const Instrument& instrument : all_instruments()) {
        double before = -HUGE_VAL;
        for (double w = 0; w <= 42; w += 3) {
            const auto shown = expected_reading(sea, instrument, GramPerKg(w), Celsius(22));
            ASSERT_TRUE(shown.has_value());
            EXPECT_GT(*shown, before) << describe(instrument) << " " << w;
            before = *shown;
        }
    }
}

TEST(Instrument, BudgetAddsUpBySquares) {
    const NaturalSeawater sea;
    for (const Instrument& instrument : all_instruments()) {
        const auto shown = expected_reading(sea, instrument, GramPerKg(35), Celsius(24));
        ASSERT_TRUE(shown.has_value());
        const auto got =
            convert(sea, {instrument, *shown, Celsius(24), usual_uncertainty(instrument, *shown)});
        ASSERT_TRUE(got.has_value()) << got.error().message;
        double square = 0;
        for (const BudgetPart& part : got->budget) {
            EXPECT_GE(part.g_per_kg, 0) << describe(instrument) << " " << part.name;
            square += part.g_per_kg * part.g_per_kg;
        }
        EXPECT_NEAR(got->u_g_per_kg, std::sqrt(square), 1e-12);
        EXPECT_GT(got->u_g_per_kg, 0);
    }
}

// Sensitivities at 35 and 25 degC from an independent evaluation of the equations, per unit of
// salinity and per kelvin; printed to three digits, hence half a unit of the third. That of the
// density was taken forwards over 0.1 K, which adds half of 0.1 K times the curvature: 8e-4.
TEST(Instrument, TemperaturePartsAreTheKnownSensitivities) {
    const NaturalSeawater sea(NaturalSeawater::Composition::Reference);
    const double per_salinity = 35.16504 / 35;
    const auto part = [&](const Instrument& instrument, const char* name) {
        const auto shown = expected_reading(sea, instrument, GramPerKg(35.16504), Celsius(25));
        const auto got = convert(sea, {instrument, *shown, Celsius(25), {0, 0, 1}});
        for (const BudgetPart& p : got->budget) {
            if (p.name == name) {
                return p.g_per_kg / per_salinity;
            }
        }
        return -1.0;
    };
    EXPECT_NEAR(part(ConductivityMeter{}, "temperature"), 0.775, 5e-4);
    EXPECT_NEAR(part(DensityMeter{}, "temperature"), 0.3045 / 0.7554, 1.3e-3);
    EXPECT_NEAR(part(Hydrometer{Celsius(25), Celsius(25)}, "temperature"), 0.37, 5e-3);
    EXPECT_NEAR(
        part(Refractometer{Refractometer::Dial::Seawater, false, Celsius(20)}, "temperature"), 0.63,
        0.03);
}

TEST(Instrument, RefusesWhatItCannotShowAndSaysTheEnds) {
    const NaturalSeawater sea;
    const auto got = dissolved_showing(sea, Hydrometer{}, 1.05, Celsius(25));
    ASSERT_FALSE(got.has_value());
    EXPECT_EQ(got.error().code, ProblemCode::OutOfRange);
    EXPECT_THAT(got.error().message, HasSubstr("hydrometer marked 20/20"));
    EXPECT_THAT(got.error().message, HasSubstr("1.05"));
    EXPECT_FALSE(dissolved_showing(sea, ConductivityMeter{}, -1, Celsius(25)).has_value());
    EXPECT_FALSE(dissolved_showing(sea, ConductivityMeter{}, NAN, Celsius(25)).has_value());
    EXPECT_FALSE(
        expected_reading(sea, ConductivityMeter{}, GramPerKg(35), Celsius(36)).has_value());
    EXPECT_FALSE(expected_reading(sea, DensityMeter{}, GramPerKg(43), Celsius(25)).has_value());
}

// w = f salt / (salt + water): 0.95 * 38.0 / 1038.0.
TEST(Instrument, WeighingInIsAShareOfTheWhole) {
    const auto got = weighed_in(38, 1000, 0.95, 0, 0.003);
    ASSERT_TRUE(got.has_value());
    EXPECT_NEAR(got->shown, 950 * 38.0 / 1038.0, 1e-12);
    EXPECT_NEAR(got->u.standard, got->shown * 0.003 / 0.95, 1e-12);
    EXPECT_FALSE(weighed_in(0, 1000, 1, 0, 0).has_value());
    EXPECT_FALSE(weighed_in(38, 1000, 1.1, 0, 0).has_value());
}

// A dial for seawater shows a natural water's own salinity, whatever its water's index is.
TEST(Instrument, SeawaterDialHasNoOffset) {
    const NaturalSeawater sea;
    for (const double s : {5.0, 20.0, 35.0, 41.0}) {
        const auto shown = expected_reading(sea, Refractometer{Refractometer::Dial::Seawater},
                                            GramPerKg(s * 35.16504 / 35), Celsius(27));
        ASSERT_TRUE(shown.has_value());
        EXPECT_NEAR(*shown, s, 1e-8);
    }
}

TEST(Instrument, UncompensatedPrismReadsLowInWarmWater) {
    const NaturalSeawater sea;
    const Refractometer prism{Refractometer::Dial::NaclGramPerKg, false, Celsius(20)};
    const auto pure = expected_reading(sea, prism, GramPerKg(0), Celsius(25));
    ASSERT_TRUE(pure.has_value());
    EXPECT_LT(*pure, 0);  // the scale runs on below its zero
    EXPECT_GT(*pure, -4);
}

TEST(SaltLaw, SalinityAndDissolvedMassGoBothWays) {
    const NaturalSeawater sea;
    const NaclBrine brine;
    for (const SaltLaw* law :
         {static_cast<const SaltLaw*>(&sea), static_cast<const SaltLaw*>(&brine)}) {
        for (const double s : {1.0, 20.0, 35.0, 41.5}) {
            const auto w = dissolved_of(*law, PracticalSalinity(s));
            ASSERT_TRUE(w.has_value()) << w.error().message;
            const auto back = law->practical_salinity_of(*w);
            ASSERT_TRUE(back.has_value());
            EXPECT_NEAR(back->value(), s, 1e-8);
        }
        EXPECT_FALSE(dissolved_of(*law, PracticalSalinity(60)).has_value());
        EXPECT_FALSE(dissolved_of(*law, PracticalSalinity(-1)).has_value());
    }
}

TEST(SaltLaw, MeterSalinityIsConductivityReadBackwards) {
    for (const double t : {0.0, 15.0, 25.0, 35.0}) {
        for (const double s : {0.5, 2.0, 20.0, 35.0, 42.0}) {
            const auto kappa = meter_conductivity(PracticalSalinity(s), Celsius(t));
            ASSERT_TRUE(kappa.has_value());
            const auto back = meter_salinity(*kappa * (1 - 1e-15), Celsius(t));
            ASSERT_TRUE(back.has_value()) << s << " " << t;
            EXPECT_NEAR(back->value(), s, 1e-9);
        }
    }
    EXPECT_FALSE(meter_salinity(53, Celsius(-1)).has_value());
    EXPECT_FALSE(meter_salinity(90, Celsius(25)).has_value());
    EXPECT_FALSE(meter_salinity(-1, Celsius(25)).has_value());
}

}  // namespace
