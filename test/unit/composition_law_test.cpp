// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/composition_law.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "brine/natural_seawater.hpp"
#include "unit/water_of.hpp"

namespace {

using namespace bw::brine;
using bw::ProblemCode;
using bw::matter::Amounts;
using bw::matter::reference_seawater;
using bw::test::salt_water;
using bw::unit::Celsius;
using bw::unit::GramPerKg;
using bw::unit::PracticalSalinity;

TEST(CompositionLaw, IsTheCurveOfItsSalt) {
    Amounts water = reference_seawater(35);
    water.add(salt_water("MgCl2", 5), 1);
    const auto law = CompositionLaw::of(water, "raised");
    const auto curve = SaltCurve::of(water);
    ASSERT_TRUE(law && curve);
    EXPECT_EQ(law->name(), "raised");
    for (const double g : {1.0, 20.0, 35.0, 50.0}) {
        for (const double t : {5.0, 25.0}) {
            const GramPerKg w(g);
            const Celsius T(t);
            EXPECT_EQ(*law->density_kg_per_m3(w, T), curve->density(w, T)->value);
            EXPECT_EQ(*law->conductivity_mS_per_cm(w, T),
                      curve->conductivity_mS_per_cm(w, T)->value);
            EXPECT_EQ(*law->refractive_index(w, T), curve->refractive_index(w, T)->value);
        }
    }
    // Only the proportions of the salt count, not the strength at which it was stated.
    Amounts strong = water;
    strong.scale(1.3);
    const auto same = CompositionLaw::of(strong, "raised");
    ASSERT_TRUE(same);
    EXPECT_NEAR(*same->density_kg_per_m3(GramPerKg(33), Celsius(20)),
                *law->density_kg_per_m3(GramPerKg(33), Celsius(20)), 1e-9);
}

TEST(CompositionLaw, OfSeawaterIsNaturalSeawaterWithinItsDoubt) {
    const auto law = CompositionLaw::of(reference_seawater(35), "the sea");
    ASSERT_TRUE(law);
    const NaturalSeawater sea(NaturalSeawater::Composition::Reference);
    const LawUncertainty formula = law->formula();
    const LawUncertainty more = law->composition();
    constexpr double kTwice = 2;  // of a standard uncertainty
    for (const double g : {10.0, 35.0, 40.0}) {
        for (const double t : {10.0, 25.0}) {
            const GramPerKg w(g);
            const Celsius T(t);
            EXPECT_NEAR(*law->density_kg_per_m3(w, T), *sea.density_kg_per_m3(w, T),
                        kTwice * (formula.density_kg_per_m3 + more.density_kg_per_m3))
                << g << ' ' << t;
            const double kappa = *sea.conductivity_mS_per_cm(w, T);
            EXPECT_NEAR(*law->conductivity_mS_per_cm(w, T), kappa,
                        kTwice * kappa * (formula.conductivity_part + more.conductivity_part))
                << g << ' ' << t;
            EXPECT_NEAR(*law->refractive_index(w, T), *sea.refractive_index(w, T),
                        kTwice * (formula.refractive_index + more.refractive_index))
                << g << ' ' << t;
        }
    }
    EXPECT_NEAR(law->practical_salinity_of(GramPerKg(35.16504))->value(), 35,
                kTwice * 35 * (formula.conductivity_part + more.conductivity_part));
}

TEST(CompositionLaw, DoubtsAreWhatTheModelsAddToTheFormulas) {
    const auto sea = CompositionLaw::of(reference_seawater(35), "sea");
    const auto odd = CompositionLaw::of(salt_water("MgSO4", 35), "odd");
    ASSERT_TRUE(sea && odd);
    const auto curve = SaltCurve::of(salt_water("MgSO4", 35));
    const auto all = curve->density(GramPerKg(35), Celsius(25));
    ASSERT_TRUE(all);
    EXPECT_NEAR(std::hypot(odd->composition().density_kg_per_m3, odd->formula().density_kg_per_m3),
                std::max(all->standard_uncertainty, odd->formula().density_kg_per_m3), 1e-12);
    EXPECT_GE(sea->composition().density_kg_per_m3, 0);
    EXPECT_GT(odd->composition().conductivity_part, sea->composition().conductivity_part);
    EXPECT_EQ(sea->formula().density_kg_per_m3, NaturalSeawater().formula().density_kg_per_m3);
}

TEST(CompositionLaw, SalinityIsReadBackwards) {
    const auto law = CompositionLaw::of(salt_water("NaCl", 30), "salt");
    ASSERT_TRUE(law);
    for (const double g : {5.0, 20.0, 30.0}) {
        const auto shown = law->practical_salinity_of(GramPerKg(g));
        ASSERT_TRUE(shown) << g;
        const auto back = dissolved_of(*law, *shown);
        ASSERT_TRUE(back) << g;
        EXPECT_NEAR(back->value(), g, 1e-6);
    }
    EXPECT_EQ(law->highest().value(), 50);
}

TEST(CompositionLaw, RefusesWaterWithoutSaltAndStrengthsOutOfRange) {
    const auto none = CompositionLaw::of({}, "none");
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, ProblemCode::OutOfRange);
    const auto law = CompositionLaw::of(reference_seawater(35), "sea");
    ASSERT_TRUE(law);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double g : {-1.0, 400.0, nan}) {
        EXPECT_FALSE(law->density_kg_per_m3(GramPerKg(g), Celsius(25))) << g;
        EXPECT_FALSE(law->conductivity_mS_per_cm(GramPerKg(g), Celsius(25))) << g;
        EXPECT_FALSE(law->refractive_index(GramPerKg(g), Celsius(25))) << g;
        EXPECT_FALSE(law->practical_salinity_of(GramPerKg(g))) << g;
    }
    EXPECT_FALSE(law->density_kg_per_m3(GramPerKg(35), Celsius(60)));
}

}  // namespace
