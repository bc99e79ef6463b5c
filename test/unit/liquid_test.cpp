// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/liquid.hpp"

#include <gtest/gtest.h>

namespace bw::path {
namespace {

constexpr double kReferencePerPractical = 35.16504 / 35.0;

Liquid at(double practical_salinity, double t_degC) {
    return liquid_of(unit::GramPerKg(practical_salinity * kReferencePerPractical),
                     unit::Celsius(t_degC))
        .value();
}

// [millero-1974]: 9.6541e-4 Pa s at 25 degC and salinity 40; the law's own accuracy is 1.5 %.
TEST(Liquid, ViscosityAgainstAnotherLaw) {
    EXPECT_NEAR(at(40, 25).viscosity_Pa_s, 9.6541e-4, 0.015 * 9.6541e-4);
    EXPECT_NEAR(at(0, 20).viscosity_Pa_s, 1.0016e-3, 0.003e-3);  // water [patek-2009]
}

// [unesco-44]: 3980.1 J/(kg K) at 40 degC and salinity 40; the law's own accuracy is 0.28 %.
TEST(Liquid, HeatCapacityAgainstAnotherLaw) {
    EXPECT_NEAR(at(40, 40).heat_capacity_J_per_kg_K, 3980.1, 0.0028 * 3980.1);
    EXPECT_NEAR(at(0, 25).heat_capacity_J_per_kg_K, 4181, 0.0028 * 4181);
}

TEST(Liquid, RangeIsKept) {
    EXPECT_FALSE(liquid_of(unit::GramPerKg(35), unit::Celsius(41)));
    EXPECT_FALSE(liquid_of(unit::GramPerKg(121), unit::Celsius(20)));
    EXPECT_FALSE(liquid_of(unit::GramPerKg(-1), unit::Celsius(20)));
}

}  // namespace
}  // namespace bw::path
