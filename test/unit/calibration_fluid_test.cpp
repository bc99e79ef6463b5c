// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/calibration_fluid.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brine/nacl_law.hpp"
#include "brine/natural_seawater.hpp"

namespace {

using namespace bw::brine;
using bw::unit::Celsius;
using bw::unit::GramPerKg;
using testing::HasSubstr;

const NaturalSeawater kSea;
const GramPerKg kThirtyFive(35.16504);

// In its fluid an instrument shows what it shows in the water. Tolerance: the root's 1e-10 g/kg.
TEST(CalibrationFluid, ShowsWhatTheWaterShows) {
    const NaclBrine brine;
    for (const Instrument& instrument :
         {Instrument(Refractometer{}), Instrument(Hydrometer{}), Instrument(DensityMeter{}),
          Instrument(ConductivityMeter{Compensation{Celsius(25), 0.02}})}) {
        const auto fluid =
            calibration_fluid(kSea, instrument, kThirtyFive, Celsius(22), {}, 1000, 0.001);
        ASSERT_TRUE(fluid.has_value()) << fluid.error().message;
        const auto shown = expected_reading(brine, instrument, fluid->strength, Celsius(22));
        ASSERT_TRUE(shown.has_value());
        EXPECT_NEAR(*shown, fluid->shows, 1e-8 * fluid->shows) << describe(instrument);
        EXPECT_NEAR(fluid->salt_g + fluid->water_g, 1000, 1e-9);
        EXPECT_NEAR(fluid->salt_g, fluid->strength.value(), 1e-9);
    }
}

// More is weighed of a salt that is not all sodium chloride: 1 / (0.995 * 0.997).
TEST(CalibrationFluid, AllowsForAssayAndMoisture) {
    WeighedSalt salt;
    salt.assay = 0.995;
    salt.u_assay = 0.002;
    salt.moisture = 0.003;
    const auto pure =
        calibration_fluid(kSea, Refractometer{}, kThirtyFive, Celsius(20), {}, 500, 0);
    const auto real =
        calibration_fluid(kSea, Refractometer{}, kThirtyFive, Celsius(20), salt, 500, 0);
    ASSERT_TRUE(pure.has_value() && real.has_value());
    EXPECT_NEAR(real->salt_g / pure->salt_g, 1 / (0.995 * 0.997), 1e-12);
    EXPECT_NEAR(real->u_strength_g_per_kg, real->strength.value() * 0.002 / 0.995, 1e-12);
    EXPECT_LT(real->buoyancy_g_per_kg, 0);
}

TEST(CalibrationFluid, WarnsThatNoFluidServesAllInstruments) {
    const auto fluid = calibration_fluid(kSea, ConductivityMeter{}, kThirtyFive, Celsius(25),
                                         {FluidSalt::PotassiumChloride, 1, 0, 0, 0}, 1000, 0.001);
    ASSERT_TRUE(fluid.has_value());
    std::string all;
    for (const auto& n : fluid->notices) {
        all += n.text + "\n";
    }
    EXPECT_THAT(all, HasSubstr("this kind of instrument only"));
    EXPECT_THAT(all, HasSubstr("32.4356 g/kg"));
    EXPECT_GT(fluid->strength.value(), 32.4356 * 1.01);  // at 25 degC more is needed
}

// 35 at 15 degC of IPTS-68, which is 14.9964 degC of ITS-90: below the table, so 15 degC is taken.
TEST(CalibrationFluid, KnowsTheStandardOfPracticalSalinity) {
    const WeighedSalt kcl{FluidSalt::PotassiumChloride, 1, 0, 0, 0};
    const auto note = [&](double g_per_kg) {
        const auto fluid = calibration_fluid(kSea, ConductivityMeter{}, GramPerKg(g_per_kg),
                                             Celsius(15), kcl, 1000, 0.001);
        std::string all;
        if (fluid) {
            for (const auto& n : fluid->notices) {
                all += n.text + "\n";
            }
        }
        return all;
    };
    EXPECT_THAT(note(35.16504),
                HasSubstr("This is the potassium chloride standard of practical salinity."));
    EXPECT_THAT(note(35.3), HasSubstr("It is not this fluid."));
}

TEST(CalibrationFluid, RefusesWhatCannotBe) {
    const WeighedSalt kcl{FluidSalt::PotassiumChloride, 1, 0, 0, 0};
    const auto refused = [&](const Instrument& instrument, const WeighedSalt& salt, double t,
                             double grams) {
        return !calibration_fluid(kSea, instrument, kThirtyFive, Celsius(t), salt, grams, 0);
    };
    EXPECT_TRUE(refused(Refractometer{}, kcl, 20, 1000));
    EXPECT_TRUE(refused(WeighedIn{}, {}, 20, 1000));
    EXPECT_TRUE(refused(ConductivityMeter{}, kcl, 10, 1000));
    EXPECT_TRUE(refused(DensityMeter{}, {}, 20, 0));
    EXPECT_TRUE(refused(DensityMeter{}, {FluidSalt::SodiumChloride, 0.03, 0, 0, 0}, 20, 1000));
    EXPECT_TRUE(refused(DensityMeter{}, {FluidSalt::SodiumChloride, 1, 0, 1, 0}, 20, 1000));
}

}  // namespace
