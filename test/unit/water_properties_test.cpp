// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_properties.hpp"

#include <limits>

#include <gtest/gtest.h>

#include "brine/dissolved_ions.hpp"
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
using bw::unit::KgPerM3;

TEST(SaltCurve, ScalesByPureWater) {
    const Amounts water = reference_seawater(35);
    const auto curve = SaltCurve::of(water);
    ASSERT_TRUE(curve);
    EXPECT_NEAR(curve->amounts(GramPerKg(water.dissolved_mass_g()))[constituent("Mg")],
                water[constituent("Mg")], 1e-15);
    EXPECT_NEAR(curve->amounts(GramPerKg(70)).dissolved_mass_g(), 70, 1e-12);
    // The same salt from a weak and a strong water is the same curve.
    const auto strong = SaltCurve::of(reference_seawater(120));
    EXPECT_NEAR(curve->density(GramPerKg(33), Celsius(20))->value,
                strong->density(GramPerKg(33), Celsius(20))->value, 1e-9);
}

TEST(SaltCurve, InversesReturnTheStrength) {
    for (const SaltCurve& curve : {SaltCurve::natural(), *SaltCurve::of(salt_water("NaCl", 30)),
                                   *SaltCurve::of(salt_water("MgCl2", 30))}) {
        for (double t : {0.0, 20.0, 25.0, 40.0}) {
            for (double g : {0.0, 0.01, 5.0, 35.16504, 42.3, 80.0, 100.0, 120.6, 150.0}) {
                const GramPerKg w(g);
                const Celsius T(t);
                const auto rho = curve.density(w, T);
                const auto kappa = curve.conductivity_mS_per_cm(w, T);
                const auto n = curve.refractive_index(w, T);
                ASSERT_TRUE(rho && kappa && n) << g << " " << t;
                // The density of 1000 kg/m3 has 1e-13 in its last digit, 1.5e-13 g/kg.
                EXPECT_NEAR(curve.strength_of_density(KgPerM3(rho->value), T)->value(), g, 2e-9);
                EXPECT_NEAR(curve.strength_of_conductivity(kappa->value, T)->value(), g, 2e-9);
                EXPECT_NEAR(curve.strength_of_refractive_index(n->value, T)->value(), g, 2e-9);
            }
        }
    }
}

TEST(SaltCurve, RefusesWhatNoStrengthHas) {
    const SaltCurve sea = SaltCurve::natural();
    const Celsius t(25);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (double rho : {nan, 990.0, 1300.0}) {
        const auto w = sea.strength_of_density(KgPerM3(rho), t);
        ASSERT_FALSE(w) << rho;
        EXPECT_EQ(w.error().code, ProblemCode::OutOfRange);
    }
    for (double kappa : {nan, -0.1, 500.0}) {
        EXPECT_FALSE(sea.strength_of_conductivity(kappa, t)) << kappa;
    }
    for (double n : {nan, 1.3, 1.5}) {
        EXPECT_FALSE(sea.strength_of_refractive_index(n, t)) << n;
    }
    EXPECT_FALSE(sea.strength_of_density(KgPerM3(1020), Celsius(nan)));
    EXPECT_FALSE(sea.density(GramPerKg(-1), t));
    EXPECT_FALSE(sea.density(GramPerKg(300.1), t));
    EXPECT_TRUE(sea.density(GramPerKg(300), t));
    EXPECT_FALSE(SaltCurve::of(Amounts()));
}

TEST(WaterProperties, NaturalWaterHasOneSalinity) {
    for (double S : {5.0, 20.0, 35.0, 40.0}) {
        for (double t : {0.0, 25.0, 35.0}) {
            const auto p = water_properties(reference_seawater(S * 35.16504 / 35), Celsius(t));
            ASSERT_TRUE(p);
            EXPECT_NEAR(p->salinity_by_mass.value(), S, 1e-4);
            EXPECT_NEAR(p->salinity_by_density->value(), S, 1e-4);
            EXPECT_NEAR(p->salinity_by_conductivity->value(), S, 2e-4);
            EXPECT_NEAR(p->salinity_by_refractive_index->value(), S, 1e-3);
            EXPECT_NEAR(p->gram_per_kg_by_conductivity, 35.16504 / 35, 1e-4);
        }
    }
}

TEST(WaterProperties, PureWaterAndStrongBrine) {
    const auto pure = water_properties(Amounts(), Celsius(25));
    ASSERT_TRUE(pure);
    EXPECT_EQ(pure->salinity_by_conductivity->value(), 0);
    EXPECT_EQ(pure->gram_per_kg_by_conductivity, 0);
    EXPECT_NEAR(pure->salinity_by_density->value(), 0, 1e-9);
    const auto brine = water_properties(salt_water("NaCl", 250), Celsius(25));
    ASSERT_TRUE(brine);
    EXPECT_FALSE(brine->salinity_by_conductivity);
    EXPECT_TRUE(brine->salinity_by_density);
    EXPECT_TRUE(brine->density_kg_per_m3.extrapolated);
}

TEST(DissolvedIons, SplitOfNaturalSeawaterIsTheReferenceComposition) {
    const DissolvedIons ions = natural_ions(35.16504);
    // Mole fractions of [millero-2008] times the molality of sea salt, 1.1605813 mol/kg.
    const double total = 1.1605813;
    EXPECT_NEAR(ions[Ion::BOH4] / total, 0.0000900, 1e-9);
    EXPECT_NEAR(ions[Ion::BOH3] / total, 0.0002807, 1e-9);
    EXPECT_NEAR(ions[Ion::HCO3] / total, 0.0015340, 2e-5);  // CO2 and OH are not held apart
    EXPECT_NEAR(ions[Ion::CO3] / total, 0.0002134, 2e-6);
    EXPECT_NEAR(ions[Ion::Na] / total, 0.4188071, 1e-6);
    EXPECT_NEAR(ions.ionic_strength, 0.7225, 5e-4);
    EXPECT_NEAR(ions.imbalance_eq_per_kg, 0, 1e-6);
}

TEST(DissolvedIons, AlkalinityBalances) {
    Amounts water;
    water[constituent("Na")] = 0.01;
    water[constituent("alkalinity")] = 0.01;
    EXPECT_NEAR((*dissolved_ions(water))[Ion::HCO3], 0.01, 1e-5);  // no carbon given
    water[constituent("carbon")] = 0.004;
    const DissolvedIons basic = *dissolved_ions(water);
    EXPECT_NEAR(basic[Ion::CO3] * basic.water_kg_per_kg, 0.004, 1e-15);
    EXPECT_NEAR(basic[Ion::OH] * basic.water_kg_per_kg, 0.002, 1e-15);
    EXPECT_EQ(basic[Ion::HCO3], 0);
    water[constituent("carbon")] = 0.03;
    EXPECT_NEAR((*dissolved_ions(water))[Ion::CO2], 0.02, 1e-4);
    EXPECT_NEAR(basic.imbalance_eq_per_kg, 0, 1e-15);
    Amounts acid;
    acid[constituent("Cl")] = 0.01;
    acid[constituent("alkalinity")] = -0.01;
    const DissolvedIons with_acid = *dissolved_ions(acid);
    EXPECT_NEAR(with_acid[Ion::H] * with_acid.water_kg_per_kg, 0.01, 1e-15);
    EXPECT_NEAR(with_acid.imbalance_eq_per_kg, 0, 1e-15);
}

TEST(DissolvedIons, NaturalSaltIsNotDisplaced) {
    EXPECT_NEAR(displaced_g_per_kg(reference_seawater(35)), 0, 1e-12);
    EXPECT_NEAR(displaced_g_per_kg(Amounts()), 0, 0);
    EXPECT_NEAR(displaced_g_per_kg(salt_water("NaCl", 35)), 5, 0.2);
}

}  // namespace
