// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Limits, methods and test portions. Numbers by hand unless a source is named.
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "matter/constituent.hpp"
#include "works/limits.hpp"
#include "works/method.hpp"
#include "works/test_portion.hpp"
#include "works/wanted_strength.hpp"

namespace {

using namespace bw::works;
using testing::HasSubstr;

Method method() {
    Method m;
    m.id = "M-07";
    m.title = "Emission spectrometry";
    m.analytes = {"Ca", "Mg"};
    m.unit = "mg/L";
    m.u_percent = 0.6;
    m.repeatability_percent = 0.3;
    m.source = "works manual 7";
    m.checked_until = "2026-06-30";
    return m;
}

TEST(Methods, TellWhatIsWrongWithThem) {
    EXPECT_TRUE(check(method()));
    Method m = method();
    m.id = "M";
    EXPECT_EQ(check(m).error().place.field, "id");
    m = method();
    m.source = " ";
    EXPECT_EQ(check(m).error().place.field, "source");
    m = method();
    m.analytes = {"Ca", "Xx"};
    EXPECT_EQ(check(m).error().code, bw::ProblemCode::UnknownName);
    m.analytes = {"Ca", "Ca"};
    EXPECT_EQ(check(m).error().place.field, "analytes");
    m.analytes = {};
    EXPECT_EQ(check(m).error().place.field, "analytes");
    m = method();
    m.unit = "ppm";
    EXPECT_EQ(check(m).error().code, bw::ProblemCode::BadUnit);
    for (const char* no_amount : {"degC", "%", "kg/m3"}) {
        m.unit = no_amount;
        EXPECT_EQ(check(m).error().code, bw::ProblemCode::BadUnit) << no_amount;
        EXPECT_EQ(check(m).error().place.field, "unit");
    }
    m = method();
    m.repeatability_percent = 0.7;  // above u, which holds it
    EXPECT_EQ(check(m).error().place.field, "repeatability_percent");
    m.repeatability_percent = 0;
    EXPECT_EQ(check(m).error().place.field, "repeatability_percent");
    m = method();
    m.between_runs_percent = std::sqrt(m.u_percent * m.u_percent - 0.09) - 1e-9;
    EXPECT_TRUE(check(m));
    for (const double bad : {m.between_runs_percent + 1e-6, -0.1, std::nan("")}) {
        m.between_runs_percent = bad;
        EXPECT_EQ(check(m).error().place.field, "between_runs_percent");
    }
    m.u_percent = 0;
    EXPECT_EQ(check(m).error().place.field, "u_percent");
}

TEST(Methods, TestOnlyInServiceInDateAndTheirOwnAnalytes) {
    EXPECT_TRUE(may_test(method(), "Ca", "2026-06-30"));
    EXPECT_THAT(may_test(method(), "Ca", "2026-07-01").error().message, HasSubstr("2026-06-30"));
    EXPECT_THAT(may_test(method(), "Sr", "2026-06-01").error().message, HasSubstr("Ca and Mg"));
    Method m = method();
    m.state = ServiceState::Due;
    EXPECT_TRUE(may_test(m, "Mg", "2026-06-01"));
    m.state = ServiceState::OutOfService;
    EXPECT_EQ(may_test(m, "Mg", "2026-06-01").error().code, bw::ProblemCode::Refused);
}

Limits limits() {
    Limits l;
    l.product = "Raised reef";
    l.bands = {{"Ca", 0, "", ""}, {"Sr", 10, "", ""}, {"Cu", 0, "", "0.05 umol/kg"}};
    return l;
}

TEST(LimitsOfProducts, AreTheirOwnPercentTheBandsOrWhatIsTyped) {
    ASSERT_TRUE(check(limits()));
    const auto ca = interval_of(limits(), "Ca", 0.0103);
    ASSERT_TRUE(ca);
    EXPECT_NEAR(*ca->low, 0.0103 * 0.98, 1e-15);
    EXPECT_NEAR(*ca->high, 0.0103 * 1.02, 1e-15);
    const auto sr = interval_of(limits(), "Sr", 9e-5);
    ASSERT_TRUE(sr);
    EXPECT_NEAR(*sr->high, 9.9e-5, 1e-18);
    const auto cu = interval_of(limits(), "Cu", std::nullopt);
    ASSERT_TRUE(cu);
    EXPECT_FALSE(cu->low);
    EXPECT_NEAR(*cu->high, 5e-8, 1e-20);
    EXPECT_EQ(interval_of(limits(), "Mg", 0.05).error().code, bw::ProblemCode::NotFound);
    EXPECT_EQ(interval_of(limits(), "Ca", std::nullopt).error().code, bw::ProblemCode::BadInput);
}

TEST(LimitsOfProducts, TellWhatIsWrongWithThem) {
    Limits l = limits();
    l.bands.push_back({"Ca", 0, "", ""});
    EXPECT_THAT(check(l).error().message, HasSubstr("twice"));
    l = limits();
    l.bands[0].low = "420 mg/L";  // litres need a density that limits have not
    EXPECT_EQ(check(l).error().code, bw::ProblemCode::BadUnit);
    l.bands[0].low = "420 mg/kg";
    l.bands[0].high = "400 mg/kg";
    EXPECT_THAT(check(l).error().message, HasSubstr("not below"));
    l = limits();
    l.percent = 100;
    EXPECT_EQ(check(l).error().place.field, "percent");
    l = limits();
    l.least = 0.4;
    EXPECT_EQ(check(l).error().place.field, "rule");
    l = limits();
    l.bands.clear();
    EXPECT_EQ(check(l).error().place.field, "band");
}

TEST(LimitsOfProducts, SayTheRiskOfTheirRule) {
    Limits l = limits();
    // [jcgm-106] on the guard band of 2 u: at most 2.3 %.
    EXPECT_THAT(sentence_of_rule(l), HasSubstr("2.28 %"));
    l.rule = RuleKind::Simple;
    EXPECT_THAT(sentence_of_rule(l), HasSubstr("50 %"));
    l.rule = RuleKind::Probability;
    l.joint_least = 0.9;
    EXPECT_THAT(sentence_of_rule(l), HasSubstr("at least 95 %"));
    EXPECT_THAT(sentence_of_rule(l), HasSubstr("at least 90 %"));
}

TestPortion dry() {
    TestPortion p;
    p.sample = "S26-0001-X";
    p.salt = "41.30 g";
    p.water = "1000.0 g";
    p.salt_g = 41.30;
    p.water_g = 1000;
    p.u_salt_g = u_of_last_digit("41.30 g");
    p.u_water_g = u_of_last_digit("1000.0 g");
    return p;
}

TestPortion by_conductivity() {
    TestPortion p = dry();
    p.strength_by = StrengthBy::Conductivity;
    p.salinity = "35.35";
    p.practical_salinity = 35.35;
    p.u_salinity = 0.07;
    return p;
}

TEST(TestPortions, KnowTheUncertaintyOfALastDigit) {
    // A reading and a tare, each rectangular within half a step: step sqrt(2/12).
    EXPECT_NEAR(u_of_last_digit("40.02 g"), 0.01 / std::sqrt(6.0), 1e-15);
    EXPECT_NEAR(u_of_last_digit("1000"), 1 / std::sqrt(6.0), 1e-15);
}

TEST(TestPortions, AreAsStrongAsTheirSalinityOrTheirDryMass) {
    EXPECT_NEAR(strength_of(by_conductivity(), natural_strength(35, 41.3)).ratio, 1.01, 1e-12);
    EXPECT_NEAR(strength_of(by_conductivity(), natural_strength(35, 41.3)).u_relative, 0.07 / 35.35,
                1e-12);
    // 41.3 g in 1000 g is the wanted dose: 1. With a tenth less salt, 37.17/1037.17
    // over 41.3/1041.3.
    EXPECT_NEAR(strength_of(dry(), natural_strength(35, 41.3)).ratio, 1, 1e-12);
    TestPortion less = dry();
    less.salt_g = 37.17;
    EXPECT_NEAR(strength_of(less, natural_strength(35, 41.3)).ratio, 0.0358379050 / 0.0396619610,
                1e-8);
    // d ln(s/(s+w)): w/(s+w) u_s/s and u_w/(s+w), in squares.
    const double u = std::hypot(1000 / 1041.3 * less.u_salt_g / 41.3, less.u_water_g / 1041.3);
    EXPECT_NEAR(strength_of(dry(), natural_strength(35, 41.3)).u_relative, u, 1e-12);
}

TEST(TestPortions, HaveTheDensityOfSeawaterUnlessItIsMeasured) {
    TestPortion p = by_conductivity();
    p.practical_salinity = 35;
    p.temperature_degC = 5 / 1.00024;  // 5 degC of IPTS-68, for which the value is printed
    EXPECT_NEAR(*density_of(p, natural_strength(35, 41.3)), 1.02767547,
                1e-8);  // [unesco-44], S 35, 5 degC
    p.density_kg_per_L = 1.03;
    EXPECT_EQ(*density_of(p, natural_strength(35, 41.3)), 1.03);
}

/// Seawater with a sixth more calcium and a tenth more magnesium, as chlorides [mol per kg].
bw::matter::Amounts raised_water(double strength) {
    bw::matter::Amounts out = bw::matter::reference_seawater(35.16504);
    const auto of = [](const char* symbol) { return *bw::matter::require_constituent(symbol); };
    const double calcium = out[of("Ca")] / 6;
    const double magnesium = out[of("Mg")] / 10;
    out[of("Ca")] += calcium;
    out[of("Mg")] += magnesium;
    out[of("Cl")] += 2 * (calcium + magnesium);
    out.scale(strength);
    return out;
}

TEST(WantedStrengths, OfNaturalSeawaterAreItsPracticalSalinityByEveryWay) {
    const auto sea = wanted_strength(bw::matter::reference_seawater(35.16504), 41.3);
    ASSERT_TRUE(sea);
    EXPECT_NEAR(sea->by_conductivity, 35, 0.005);
    EXPECT_NEAR(sea->by_density, 35, 1e-4);      // amounts are rounded to 7 digits [millero-2008]
    EXPECT_NEAR(sea->by_chlorinity, 35, 0.001);  // 19.374 g/kg [millero-2008]
    EXPECT_GT(sea->u_conductivity, 0);
    EXPECT_LT(sea->u_conductivity, 0.01);
}

TEST(WantedStrengths, OfRaisedSaltsDifferByTheWayAndPortionsAreBroughtToThem) {
    // A water exactly as wanted has the ratio 1, whatever it is read by; taken for seawater of the
    // salinity that its mass makes, it would be off by the difference.
    const auto wanted = wanted_strength(raised_water(1), 41.3);
    ASSERT_TRUE(wanted);
    EXPECT_GT(std::abs(wanted->by_conductivity - wanted->by_density), 0.03);
    EXPECT_GT(std::abs(wanted->by_chlorinity - wanted->by_density), 0.03);
    for (const auto by : {StrengthBy::Conductivity, StrengthBy::Density, StrengthBy::Chlorinity}) {
        for (const double strength : {0.8, 0.9, 1.0, 1.1, 1.2}) {
            const auto made = wanted_strength(raised_water(strength), 41.3);
            ASSERT_TRUE(made);
            TestPortion p = by_conductivity();
            p.strength_by = by;
            p.practical_salinity = reading(*made, by);
            EXPECT_NEAR(strength_of(p, *wanted).ratio / strength, 1, 5e-4)
                << name(by) << " at " << strength;
        }
    }
}

TEST(WantedStrengths, CarryTheUncertaintyOfTheModelBehindAReading) {
    const auto wanted = wanted_strength(raised_water(1), 41.3);
    ASSERT_TRUE(wanted);
    const TestPortion p = by_conductivity();
    EXPECT_NEAR(strength_of(p, *wanted).u_relative,
                std::hypot(0.07 / 35.35, wanted->u_conductivity), 1e-12);
    bw::matter::Amounts strong = raised_water(2);
    EXPECT_EQ(wanted_strength(strong, 82.6).error().code, bw::ProblemCode::OutOfRange);
}

TEST(TestPortions, TellWhatIsWrongWithThem) {
    EXPECT_TRUE(check(dry()));
    EXPECT_TRUE(check(by_conductivity()));
    TestPortion p = dry();
    p.salt_g = 0;
    EXPECT_EQ(check(p).error().place.field, "salt");
    p.salt_g = 1000;
    p.water_g = 41.3;
    EXPECT_THAT(check(p).error().message, HasSubstr("swapped"));
    p = dry();
    p.salinity = "35";
    EXPECT_EQ(check(p).error().place.field, "salinity");
    p = by_conductivity();
    p.salinity.clear();
    EXPECT_EQ(check(p).error().place.field, "salinity");
    p = by_conductivity();
    p.u_salinity = 0;
    EXPECT_EQ(check(p).error().place.field, "salinity_u");
    p = by_conductivity();
    p.practical_salinity = 350;
    EXPECT_EQ(check(p).error().code, bw::ProblemCode::OutOfRange);
    p = dry();
    p.density_kg_per_L = 1024;
    EXPECT_EQ(check(p).error().place.field, "density");
    p = dry();
    p.temperature_degC = 95;
    EXPECT_EQ(check(p).error().place.field, "temperature");
}

}  // namespace
