// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Vats: mass and salt are conserved whatever is done. Worked values stand in
// test/check/instruments.toml.
#include "brine/vat.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brine/natural_seawater.hpp"

namespace {

using namespace bw::brine;
using bw::ProblemCode;
using bw::unit::Celsius;
using bw::unit::GramPerKg;
using testing::HasSubstr;

const NaturalSeawater kSea;

GramPerKg of_practical(double s) { return GramPerKg(s * 35.16504 / 35); }

TEST(Vat, PlanConservesMassAndSalt) {
    for (const double f : {1.0, 0.95, 0.853}) {
        for (const double solids : {0.0, 0.03}) {
            const Vat wanted{1000, of_practical(35), Celsius(22)};
            const auto p = plan(kSea, wanted, {f, 0.003}, {Celsius(15), GramPerKg(solids)}, 0.001);
            ASSERT_TRUE(p.has_value()) << p.error().message;
            EXPECT_NEAR(p->blend_kg + p->water_kg, 1000, 1e-9);
            EXPECT_NEAR(p->blend_kg * f + p->water_kg * solids / 1000, of_practical(35).value(),
                        1e-9);
            EXPECT_NEAR(p->bound_water_kg, p->blend_kg * (1 - f), 1e-9);
            EXPECT_NEAR(p->finished_L * p->density_kg_per_m3 / 1000, 1000, 1e-9);
            EXPECT_NEAR(p->u_blend_kg, p->blend_kg * 0.003 / (f - solids / 1000), 1e-9);
            const auto again = plan_for_water(kSea, p->water_kg, wanted.dissolved, Celsius(22),
                                              {f, 0.003}, {Celsius(15), GramPerKg(solids)}, 0.001);
            ASSERT_TRUE(again.has_value());
            EXPECT_NEAR(again->blend_kg, p->blend_kg, 1e-9);
        }
    }
}

TEST(Vat, UncertaintyOfTheBlendIsItsShareOfTheSalt) {
    const auto p = plan(kSea, {1000, of_practical(35), Celsius(25)}, {0.95, 0.0095}, {}, 0);
    ASSERT_TRUE(p.has_value());
    EXPECT_NEAR(p->u_dissolved_g_per_kg, of_practical(35).value() * 0.01, 1e-12);
}

TEST(Vat, MendingConservesMassAndSalt) {
    const auto vat = vat_of_volume(kSea, 1000, of_practical(33), Celsius(25));
    ASSERT_TRUE(vat.has_value());
    for (const auto& [target, added] :
         {std::pair{35.0, 0.95}, {35.0, 0.15}, {30.0, 0.0}, {30.0, 2e-5}}) {
        SCOPED_TRACE(std::to_string(target) + " " + std::to_string(added));
        const GramPerKg wanted = of_practical(target);
        const auto growing = mend_growing(kSea, *vat, 0, wanted, {added, 0});
        const auto in_place = mend_in_place(kSea, *vat, 0, wanted, {added, 0});
        ASSERT_TRUE(growing.has_value() && in_place.has_value());
        const double w0 = vat->dissolved.value() / 1000;
        const double w1 = wanted.value() / 1000;
        EXPECT_NEAR(vat->mass_kg * w0 + growing->add_kg * added, growing->after.mass_kg * w1, 1e-9);
        EXPECT_NEAR((vat->mass_kg - in_place->drain_kg) * w0 + in_place->add_kg * added,
                    in_place->after.mass_kg * w1, 1e-9);
        EXPECT_NEAR(in_place->after_L, 1000, 1e-9);
        EXPECT_GT(in_place->drain_kg, 0);
        EXPECT_GT(growing->after_L, 1000);
    }
}

TEST(Vat, UncertaintyOfAMendingIsThatOfTheVat) {
    const Vat vat{1000, GramPerKg(33), Celsius(25)};
    const auto mid = mend_growing(kSea, vat, 0.2, GramPerKg(35), {0.95, 0});
    const auto off =
        mend_growing(kSea, {1000, GramPerKg(33.2), Celsius(25)}, 0.2, GramPerKg(35), {0.95, 0});
    ASSERT_TRUE(mid.has_value() && off.has_value());
    EXPECT_NEAR(mid->u_add_kg, mid->add_kg - off->add_kg, 1e-9);
    // In place the slope is not constant: to second order in 0.2 g/kg.
    const auto mid_place = mend_in_place(kSea, vat, 1e-4, GramPerKg(35), {0.95, 0});
    const auto off_place = mend_in_place(kSea, {1000, GramPerKg(33 + 1e-4), Celsius(25)}, 1e-4,
                                         GramPerKg(35), {0.95, 0});
    ASSERT_TRUE(mid_place.has_value() && off_place.has_value());
    const double same_volume =
        off_place->add_kg * mid_place->after.mass_kg / off_place->after.mass_kg;
    EXPECT_NEAR(mid_place->u_add_kg, mid_place->add_kg - same_volume, 1e-7);
}

TEST(Vat, RefusesWhatCannotBe) {
    const Vat vat{1000, GramPerKg(33), Celsius(25)};
    const auto weak = mend_growing(kSea, vat, 0, GramPerKg(35), {0.034, 0});
    ASSERT_FALSE(weak.has_value());
    EXPECT_THAT(weak.error().message, HasSubstr("cannot bring"));
    EXPECT_FALSE(mend_in_place(kSea, vat, 0, GramPerKg(30), {0.034, 0}).has_value());
    EXPECT_FALSE(mend_growing(kSea, vat, 0, GramPerKg(33), {0.95, 0}).has_value());
    EXPECT_FALSE(plan(kSea, vat, {0.02, 0}, {}, 0).has_value());
    EXPECT_FALSE(plan(kSea, vat, {1.2, 0}, {}, 0).has_value());
    EXPECT_FALSE(plan(kSea, {0, GramPerKg(33), Celsius(25)}, {}, {}, 0).has_value());
    EXPECT_FALSE(plan(kSea, vat, {}, {Celsius(25), GramPerKg(40)}, 0).has_value());
    EXPECT_FALSE(vat_of_volume(kSea, -1, GramPerKg(33), Celsius(25)).has_value());
    EXPECT_FALSE(evaporate(vat, 980).has_value());
    EXPECT_FALSE(evaporate(vat, -1).has_value());
    EXPECT_FALSE(mix(kSea, {{vat}}).has_value());
}

TEST(Vat, TopUpUndoesEvaporation) {
    const Vat vat{1000, of_practical(35), Celsius(25)};
    const auto after = evaporate(vat, 20);
    ASSERT_TRUE(after.has_value());
    const auto back = mend_growing(kSea, *after, 0, vat.dissolved, {0, 0});
    ASSERT_TRUE(back.has_value());
    EXPECT_NEAR(back->add_kg, 20, 1e-9);
}

TEST(Vat, MixingKeepsSaltAndMassAndAveragesHeat) {
    const auto got =
        mix(kSea, {{{600, GramPerKg(30), Celsius(20)}}, {{300, GramPerKg(39), Celsius(26)}}});
    ASSERT_TRUE(got.has_value());
    EXPECT_NEAR(got->vat.mass_kg, 900, 1e-12);
    EXPECT_NEAR(got->vat.dissolved.value(), 33, 1e-12);
    EXPECT_NEAR(got->vat.temperature.value(), 22, 1e-12);
}

}  // namespace
