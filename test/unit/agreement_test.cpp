// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Readings that agree, readings that do not, and whether the fault that was put in is found.
#include "brine/agreement.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brine/calibration_fluid.hpp"
#include "brine/natural_seawater.hpp"

namespace {

using namespace bw::brine;
using bw::unit::Celsius;
using bw::unit::GramPerKg;
using bw::unit::PracticalSalinity;
using testing::HasSubstr;

constexpr double kTrue = 35.16504;  // g/kg

Reading faultless(const Instrument& really, const Instrument& stated, double t = 25,
                  double stated_t = -1) {
    const NaturalSeawater sea;
    const auto shown = expected_reading(sea, really, GramPerKg(kTrue), Celsius(t));
    EXPECT_TRUE(shown.has_value());
    Reading out{stated, *shown, Celsius(stated_t < 0 ? t : stated_t), {}};
    out.u = usual_uncertainty(stated, *shown);
    return out;
}
Reading faultless(const Instrument& instrument, double t = 25) {
    return faultless(instrument, instrument, t);
}

Agreement combined(const std::vector<Reading>& readings) {
    auto out = combine(NaturalSeawater(), readings);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().message);
    return out.value_or(Agreement{});
}

// Upper points of chi-square in every textbook's table, printed to three decimals.
TEST(Agreement, ChiSquareHasTheTabulatedPoints) {
    EXPECT_NEAR(chi_square_exceeded(3.841, 1), 0.05, 2e-5);
    EXPECT_NEAR(chi_square_exceeded(5.991, 2), 0.05, 2e-5);
    EXPECT_NEAR(chi_square_exceeded(7.815, 3), 0.05, 2e-5);
    EXPECT_NEAR(chi_square_exceeded(9.488, 4), 0.05, 2e-5);
    EXPECT_NEAR(chi_square_exceeded(18.307, 10), 0.05, 2e-5);
    EXPECT_NEAR(chi_square_exceeded(19.675, 11), 0.05, 2e-5);
    EXPECT_EQ(chi_square_exceeded(0, 3), 1);
}

// The example of one water on three instruments: 36.4 on a dial for sodium chloride, 1.0261 on its
// other side, 53.07 mS/cm.
TEST(Agreement, ThreeUnlikeReadingsAreOneWater) {
    const Agreement got =
        combined({faultless(Refractometer{}),
                  faultless(Refractometer{Refractometer::Dial::NaclSpecificGravity}),
                  faultless(ConductivityMeter{})});
    EXPECT_TRUE(got.consistent);
    EXPECT_NEAR(got.dissolved.value(), kTrue, 1e-7);
    EXPECT_NEAR(got.practical_salinity.value(), 35, 1e-7);
    EXPECT_TRUE(got.causes.empty());
    EXPECT_LT(got.u_g_per_kg, got.converted[2].u_g_per_kg);
}

TEST(Agreement, OneReadingIsItself) {
    const Agreement got = combined({faultless(DensityMeter{})});
    EXPECT_TRUE(got.consistent);
    EXPECT_EQ(got.degrees_of_freedom, 0);
    EXPECT_NEAR(got.u_g_per_kg, got.converted[0].u_g_per_kg, 1e-15);
    EXPECT_FALSE(combine(NaturalSeawater(), {}).has_value());
}

// Two readings apart by d with uncertainties u: chi-square d^2 / (2 u^2), Birge ratio its root.
TEST(Agreement, WidensByTheBirgeRatio) {
    Reading one = faultless(DensityMeter{});
    Reading other = one;
    other.shown += 0.6;
    const Agreement got = combined({one, other});
    const double d = got.residual_g_per_kg[1] - got.residual_g_per_kg[0];
    const double square = got.converted[0].u_g_per_kg * got.converted[0].u_g_per_kg +
                          got.converted[1].u_g_per_kg * got.converted[1].u_g_per_kg;
    EXPECT_NEAR(got.chi_square, d * d / square, 1e-9);
    EXPECT_NEAR(got.u_g_per_kg, got.u_internal_g_per_kg * std::sqrt(got.chi_square), 1e-12);
    EXPECT_FALSE(got.consistent);
}

struct Fault {
    const char* code;
    const char* says;
    Reading wrong;
    double t;
};

TEST(Agreement, FindsTheFaultThatWasPutIn) {
    using enum Refractometer::Dial;
    const Celsius twenty_five(25);
    const Celsius sixty((60 - 32) / 1.8);
    const Compensation two{twenty_five, 0.02};
    std::vector<Fault> faults{
        {"hydrometer_marks_differ", "marked 20/20",
         faultless(Hydrometer{}, Hydrometer{twenty_five, twenty_five}), 25},
        {"hydrometer_marks_differ", "marked 60F/60F",
         faultless(Hydrometer{sixty, sixty}, Hydrometer{twenty_five, twenty_five}), 25},
        {"meter_is_uncompensated", "does not compensate",
         faultless(ConductivityMeter{}, ConductivityMeter{two}, 18), 18},
        {"compensation_coefficient", "2.2 %/K",
         faultless(ConductivityMeter{Compensation{twenty_five, 0.022}}, ConductivityMeter{two}, 12),
         12},
    };
    Reading dial = faultless(Refractometer{NaclGramPerKg}, Refractometer{Seawater}, 20);
    dial.u = {0.2, 0.1, 0.2};
    faults.push_back({"dial_is_nacl", "sodium chloride", dial, 20});
    Reading litre = faultless(Refractometer{NaclGramPerLitre}, Refractometer{NaclGramPerKg}, 20);
    litre.u = {0.05, 0.05, 0.2};
    faults.push_back({"dial_is_per_litre", "per litre", litre, 20});
    for (const Fault& f : faults) {
        SCOPED_TRACE(f.says);
        const Agreement got =
            combined({f.wrong, faultless(DensityMeter{}, f.t), faultless(WeighedIn{})});
        ASSERT_FALSE(got.causes.empty() && !got.consistent);
        if (got.consistent) {  // a fault smaller than the instruments' doubt is not named
            EXPECT_TRUE(got.causes.empty());
            EXPECT_STREQ(f.code, "dial_is_per_litre");
            continue;
        }
        EXPECT_EQ(got.causes[0].code, f.code);
        EXPECT_THAT(got.causes[0].text, HasSubstr(f.says));
        EXPECT_EQ(got.causes[0].reading, 0U);
        EXPECT_TRUE(got.causes[0].reconciles);
        EXPECT_NEAR(got.causes[0].dissolved.value(), kTrue, 0.02);
    }
}

// The meter shows too much by 53.07 / 52.30 when the fluid was taken for 35 at 25 degC.
TEST(Agreement, FindsAMeterSetInPotassiumChloride) {
    const Celsius t(25);
    const auto fluid = kcl_conductivity_mS_per_cm(GramPerKg(32.4356), t);
    const auto sea = meter_conductivity(PracticalSalinity(35), t);
    ASSERT_TRUE(fluid.has_value() && sea.has_value());
    Reading meter = faultless(ConductivityMeter{});
    meter.shown *= *sea / *fluid;
    meter.u = {0.05, 0.05, 0.05};
    const Agreement got = combined({meter, faultless(DensityMeter{}), faultless(WeighedIn{})});
    ASSERT_FALSE(got.consistent);
    ASSERT_FALSE(got.causes.empty());
    EXPECT_EQ(got.causes[0].code, "meter_set_with_kcl");
    EXPECT_NEAR(got.causes[0].dissolved.value(), kTrue, 1e-6);
}

// uS/cm for mS/cm: the meter is then the surest of the three and drags the mean to nothing, so that
// blaming the two others in turn would do "nearly as well".
TEST(Agreement, NamesAUnitThatIsWrongByAThousandFirst) {
    struct Slip {
        Instrument instrument;
        double factor;
        std::string_view says;
    };
    for (const Slip& slip :
         {Slip{ConductivityMeter{}, 1e-3, "mS/cm"}, Slip{Refractometer{}, 1e-3, "g/kg"},
          Slip{SalinityMeter{}, 1e-3, "it is 35"}}) {
        SCOPED_TRACE(slip.says);
        Reading wrong = faultless(slip.instrument);
        wrong.shown *= slip.factor;
        wrong.u = usual_uncertainty(wrong.instrument, wrong.shown);
        const Agreement got = combined({faultless(DensityMeter{}), wrong, faultless(Hydrometer{})});
        ASSERT_FALSE(got.consistent);
        ASSERT_FALSE(got.causes.empty());
        EXPECT_EQ(got.causes[0].code, "unit_by_a_thousand");
        EXPECT_EQ(got.causes[0].reading, 1U);
        EXPECT_THAT(got.causes[0].text, HasSubstr(std::string(slip.says)));
        EXPECT_TRUE(got.causes[0].reconciles);
        EXPECT_NEAR(got.causes[0].dissolved.value(), kTrue, 0.1);
    }
}

// It is no cause of readings that are off by less.
TEST(Agreement, AUnitIsNotBlamedForALittle) {
    Reading low = faultless(ConductivityMeter{});
    low.shown -= 3;
    const Agreement got = combined({faultless(DensityMeter{}), low, faultless(Hydrometer{})});
    ASSERT_FALSE(got.causes.empty());
    for (const Cause& c : got.causes) {
        EXPECT_NE(c.code, "unit_by_a_thousand") << c.text;
    }
}

TEST(Agreement, FindsWaterThatWasWarmerThanSaid) {
    Reading density = faultless(DensityMeter{}, DensityMeter{}, 26.5, 25);
    density.u.temperature = 0.05;
    const Agreement got =
        combined({density, faultless(Hydrometer{}), faultless(ConductivityMeter{})});
    ASSERT_FALSE(got.consistent);
    // A meter that is off by as much fits as well: both are named, and nothing is decided.
    ASSERT_GE(got.causes.size(), 2U);
    const bool first = got.causes[0].code == "temperature";
    const Cause& warm = got.causes[first ? 0 : 1];
    EXPECT_EQ(warm.code, "temperature");
    EXPECT_EQ(got.causes[first ? 1 : 0].code, kInstrumentItself);
    EXPECT_EQ(warm.reading, 0U);
    EXPECT_TRUE(warm.reconciles);
    EXPECT_NEAR(warm.chi_square, got.causes[first ? 1 : 0].chi_square, 1);
}

// A meter that shows 3 mS/cm too little beside two faultless ones.
TEST(Agreement, NamesTheReadingThatStandsOut) {
    Reading low = faultless(ConductivityMeter{});
    low.shown -= 3;
    const Agreement got = combined({faultless(DensityMeter{}), low, faultless(Hydrometer{})});
    ASSERT_FALSE(got.consistent);
    ASSERT_EQ(got.without.size(), 3U);
    ASSERT_TRUE(got.odd_one);
    EXPECT_EQ(*got.odd_one, 1U);
    EXPECT_NEAR(got.without[1].dissolved.value(), kTrue, 1e-6);
    EXPECT_TRUE(got.without[1].consistent);
    EXPECT_LT(got.without[1].u_g_per_kg, got.u_g_per_kg);
    ASSERT_FALSE(got.causes.empty());
    EXPECT_EQ(got.causes[0].code, kInstrumentItself);
    EXPECT_EQ(got.causes[0].reading, 1U);
    EXPECT_THAT(got.causes[0].text, HasSubstr("too little"));
    EXPECT_FALSE(got.decisive);
}

TEST(Agreement, TwoReadingsNameNone) {
    Reading low = faultless(ConductivityMeter{});
    low.shown -= 3;
    const Agreement got = combined({faultless(DensityMeter{}), low});
    ASSERT_FALSE(got.consistent);
    EXPECT_TRUE(got.without.empty());
    EXPECT_FALSE(got.odd_one);
}

// Two readings off, each its own way: no one alone is the cause.
TEST(Agreement, NamesNoneWhereTwoStandOut) {
    Reading low = faultless(ConductivityMeter{});
    low.shown -= 3;
    Reading high = faultless(Hydrometer{});
    high.shown += 0.004;
    const Agreement got = combined({faultless(DensityMeter{}), low, high});
    ASSERT_FALSE(got.consistent);
    EXPECT_FALSE(got.odd_one);
}

// Two readings that contradict one another without a third: either may be at fault.
TEST(Agreement, DoesNotDecideBetweenTwoEquallyGoodCauses) {
    const Agreement got = combined({faultless(Hydrometer{}, Hydrometer{Celsius(25), Celsius(25)}),
                                    faultless(Hydrometer{}, Hydrometer{Celsius(20), Celsius(4)})});
    ASSERT_FALSE(got.consistent);
    ASSERT_GE(got.causes.size(), 2U);
    EXPECT_FALSE(got.decisive);
}

}  // namespace
