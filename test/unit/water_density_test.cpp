// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_density.hpp"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "brine/dissolved_ions.hpp"
#include "brine/nacl_brine.hpp"
#include "brine/reference_density.hpp"
#include "brine/solvent.hpp"
#include "brine/temperature_scale.hpp"
#include "figure.hpp"
#include "matter/formula.hpp"
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

// The composition's dissolved mass differs from its reference salinity by 1e-6 parts (rounded
// atomic weights), 3e-5 kg/m3 at S 42.
TEST(WaterDensity, NaturalCompositionIsNaturalSeawater) {
    double worst = 0;
    for (double t = 0; t <= 40; t += 5) {
        for (double g :
             {0.0, 1e-6, 0.1, 2.0, 5.0, 20.0, 35.16504, 42 * 35.16504 / 35, 60.0, 69.9}) {
            const auto rho = density(reference_seawater(g), Celsius(t));
            const auto reference = reference_seawater_density(GramPerKg(g), Celsius(t));
            ASSERT_TRUE(rho && reference) << g << " " << t;
            EXPECT_NEAR(rho->value, reference->value(), 1e-4) << g << " " << t;
            EXPECT_EQ(rho->extrapolated, g > 42.21);
            worst = std::fmax(worst, std::fabs(rho->value - reference->value()));
        }
    }
    constexpr double kAsked = 5e-3;
    bw::test::record(
        {"Waters",
         "density of a water of natural composition, 0 to 40 degC, against the equation "
         "of natural seawater",
         "within 0.005 kg/m3", bw::test::share_used(worst, kAsked), worst <= kAsked});
}

TEST(WaterDensity, PureWaterIsTheLimit) {
    const Amounts none;
    for (double t : {0.0, 20.0, 40.0}) {
        EXPECT_DOUBLE_EQ(density(none, Celsius(t))->value, pure_water_density(Celsius(t))->value());
        EXPECT_NEAR(density(salt_water("MgCl2", 1e-7), Celsius(t))->value,
                    pure_water_density(Celsius(t))->value(), 1e-6);
    }
}

// The volumes alone, without natural seawater to lean on: what they were said to reach.
TEST(WaterDensity, VolumesAloneNearSeawater) {
    double worst_temperate = 0;
    double worst = 0;
    for (double t = 0; t <= 40; t += 2.5) {
        for (double g : {20.0, 30.0, 35.0, 42.0}) {
            const auto by = density_by_volumes(reference_seawater(g), Celsius(t));
            const auto rho = reference_seawater_density(GramPerKg(g), Celsius(t));
            const double miss = std::fabs(*by - rho->value());
            worst = std::fmax(worst, miss);
            if (t >= 10 && t <= 30) {
                worst_temperate = std::fmax(worst_temperate, miss);
            }
        }
    }
    EXPECT_LT(worst_temperate, 0.02);
    EXPECT_LT(worst, 0.09);
}

TEST(WaterDensity, UncertaintyCoversSodiumChloride) {
    for (double t : {0.0, 5.0, 15.0, 20.0, 25.0, 40.0}) {
        for (double g : {10.0, 35.0, 50.0, 100.0, 150.0, 200.0, 250.0}) {
            const auto model = density(salt_water("NaCl", g), Celsius(t));
            const auto measured = nacl_density(GramPerKg(g), Celsius(t));
            ASSERT_TRUE(model && measured);
            EXPECT_LT(std::fabs(model->value - measured->value), 2 * model->standard_uncertainty)
                << g << " g/kg, " << t << " degC";
        }
    }
}

TEST(WaterDensity, RisesWithStrengthAndFallsWithTemperature) {
    for (const char* salt : {"NaCl", "MgCl2", "Na2SO4", "CaCl2", "KCl", "NaHCO3"}) {
        double last = 0;
        for (double g = 0; g <= 290; g += 10) {
            const double rho = density(salt_water(salt, g), Celsius(25))->value;
            EXPECT_GT(rho, last) << salt << " " << g;
            last = rho;
        }
    }
    double last = 2000;
    for (double t = 0; t <= 40; t += 1) {
        const double rho = density(reference_seawater(35), Celsius(t))->value;
        EXPECT_LT(rho, last);
        last = rho;
    }
}

// Expansion of S_A 35.16504 at 25 degC, one atmosphere: 2.9759518e-4 /K by the Gibbs function
// (independent library, in-situ temperature).
TEST(WaterDensity, ThermalExpansion) {
    const Amounts natural = reference_seawater(35.16504);
    EXPECT_NEAR(*thermal_expansion_per_K(natural, Celsius(25)), 2.9759518e-4, 1e-8);
    EXPECT_TRUE(thermal_expansion_per_K(natural, Celsius(0)));
    EXPECT_TRUE(thermal_expansion_per_K(natural, Celsius(40)));
    EXPECT_LT(*thermal_expansion_per_K(Amounts(), Celsius(1)), 0);  // water shrinks below 4 degC
    EXPECT_FALSE(thermal_expansion_per_K(natural, Celsius(40.1)));
}

TEST(WaterDensity, SpecificGravityIsTheSameBothWays) {
    const auto by_composition =
        specific_gravity(reference_seawater(35.16504), kSixtyFahrenheit, kSixtyFahrenheit);
    const auto by_salinity =
        specific_gravity(GramPerKg(35.16504), kSixtyFahrenheit, kSixtyFahrenheit);
    EXPECT_NEAR(*by_composition, *by_salinity, 1e-7);
    EXPECT_NEAR(*by_salinity, 1.02686, 1.2e-5);
}

// What the fixed split of borate and carbonate decides: far below any instrument.
TEST(WaterDensity, SplitOfAlkalinityHardlyMatters) {
    Amounts water = reference_seawater(35.16504);
    const double as_is = *density_by_volumes(water, Celsius(25));
    DissolvedIons ions = *dissolved_ions(water);
    const Solvent solvent_25 = solvent(Celsius(25));
    const auto volume = [&](Ion ion) {
        return ion_volume(row_of(ion), solvent_25, ions.ionic_strength).total;
    };
    // A tenth of the boron from acid to borate, its charge from HCO3 to CO2: cm3 per kg of water.
    const double moved = 0.1 * (ions[Ion::BOH3] + ions[Ion::BOH4]);
    const double change =
        moved * (volume(Ion::BOH4) - volume(Ion::BOH3) + volume(Ion::CO2) - volume(Ion::HCO3));
    EXPECT_LT(std::fabs(change * as_is / 1000), 0.005);
    // All carbon as HCO3, no carbonate: the alkalinity loses one equivalent per mole of carbonate.
    const double carbonate =
        ions[Ion::CO3] * (2 * volume(Ion::HCO3) - volume(Ion::CO3) - volume(Ion::CO2));
    EXPECT_LT(std::fabs(carbonate * as_is / 1000), 0.005);
}

TEST(WaterDensity, SaysWhatItDoesNotKnow) {
    Amounts water = reference_seawater(35.16504);
    water[constituent("tris")] = 0.04;
    water[constituent("Cl")] += 0.04;
    const auto rho = density(water, Celsius(25));
    ASSERT_TRUE(rho);
    ASSERT_EQ(rho->notices.size(), 1U);
    EXPECT_EQ(rho->notices[0].code, "property_unknown_ions");
    EXPECT_GT(rho->standard_uncertainty, 0.5);
    Amounts charged = reference_seawater(35.16504);
    charged[constituent("Na")] += 0.05;
    EXPECT_EQ(density(charged, Celsius(25))->notices[0].code, "property_charge");
    const auto strong = density(salt_water("NaCl", 200), Celsius(25));
    EXPECT_TRUE(strong->extrapolated);
    EXPECT_EQ(strong->notices[0].code, "density_strong");
}

TEST(WaterDensity, RefusesWhatIsNoWater) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    Amounts broken = reference_seawater(35);
    for (double amount : {nan, -1e-12, std::numeric_limits<double>::infinity(), 100.0}) {
        broken[constituent("Mg")] = amount;
        const auto rho = density(broken, Celsius(25));
        ASSERT_FALSE(rho) << amount;
        EXPECT_EQ(rho.error().code, ProblemCode::OutOfRange);
        EXPECT_FALSE(rho.error().message.empty());
    }
    for (double t : {nan, -0.001, 40.001}) {
        EXPECT_EQ(density(reference_seawater(35), Celsius(t)).error().code,
                  ProblemCode::OutOfRange);
        EXPECT_EQ(pure_water_density(Celsius(t)).error().code, ProblemCode::OutOfRange);
    }
    EXPECT_FALSE(density(reference_seawater(301), Celsius(25)));
    EXPECT_FALSE(reference_seawater_density(GramPerKg(nan), Celsius(25)));
    EXPECT_FALSE(reference_seawater_density(GramPerKg(-1e-9), Celsius(25)));
}

}  // namespace
