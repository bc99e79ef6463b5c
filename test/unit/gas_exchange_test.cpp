// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/gas_exchange.hpp"

#include <array>
#include <cmath>

#include <gtest/gtest.h>

#include "brine/seawater_constants.hpp"

namespace bw::path {
namespace {

Liquid seawater(double t_degC) {
    return liquid_of(unit::GramPerKg(35.16504), unit::Celsius(t_degC)).value();
}

double k0(double t_degC) {
    return brine::seawater_constants(unit::PracticalSalinity(35), unit::Celsius(t_degC))->k0;
}

// [wanninkhof-2014]: 668 at 20 degC, tabled to the whole number.
TEST(GasExchange, SchmidtNumberOfTheSource) {
    EXPECT_NEAR(co2_schmidt_number(unit::Celsius(20)).value(), 668, 0.5);
    EXPECT_GT(co2_schmidt_number(unit::Celsius(5)).value(),
              co2_schmidt_number(unit::Celsius(30)).value());
    EXPECT_FALSE(co2_schmidt_number(unit::Celsius(41)));
}

// [garcia-gordon-1992]: 274.610 umol/kg at 10 degC and practical salinity 35.
TEST(GasExchange, OxygenSaturationOfTheSource) {
    EXPECT_NEAR(oxygen_saturation_mol_per_kg(seawater(10)) * 1e6, 274.610, 1e-3);
}

TEST(GasExchange, SurfaceGoesWithFilmDepthAndSchmidt) {
    const double at20 = surface_exchange_per_h(0.1, 0.5, unit::Celsius(20)).value();
    EXPECT_NEAR(at20, 0.2 * std::sqrt(660.0 / 668.0), 2e-4);
    EXPECT_NEAR(surface_exchange_per_h(0.1, 1.0, unit::Celsius(20)).value(), at20 / 2, 1e-12);
    EXPECT_EQ(surface_exchange_per_h(0, 1.0, unit::Celsius(20)).value(), 0);
    EXPECT_FALSE(surface_exchange_per_h(0.1, 0, unit::Celsius(20)));
    EXPECT_FALSE(surface_exchange_per_h(-0.1, 1, unit::Celsius(20)));
}

TEST(GasExchange, PartitionAt22Degrees) {
    EXPECT_NEAR(co2_gas_liquid_partition(k0(22), seawater(22)), 1.31, 0.005);
}

// Computed by another hand for coarse bubbles at 1 m and 22 degC. Two digits: up to 2.4 %; the
// oxygen of its air and water is not stated: another 1 %.
TEST(GasExchange, AirStoneFillsUp) {
    const Liquid water = seawater(22);
    constexpr std::array<std::array<double, 2>, 4> kPrinted = {
        {{0.3, 0.21}, {1, 0.71}, {3, 2.1}, {10, 7.1}}};
    for (const auto& [air, expected] : kPrinted) {
        EXPECT_NEAR(air_stone_exchange_per_h({air, 1, 0.03}, water, k0(22)).value(), expected,
                    0.034 * expected)
            << air;
    }
    // However fine the bubbles, no more leaves than the air can hold.
    const double cap = co2_gas_liquid_partition(k0(22), water);
    const double fine = air_stone_exchange_per_h({1, 5, 0.15}, water, k0(22)).value();
    EXPECT_LT(fine, cap);
    EXPECT_GT(fine, 0.95 * cap);
    // Shallow bubbles do not fill: the ratio to oxygen's is the bare 0.90.
    const double shallow = air_stone_exchange_per_h({1, 1e-4, 0.03}, water, k0(22)).value();
    const double half = air_stone_exchange_per_h({1, 5e-5, 0.03}, water, k0(22)).value();
    EXPECT_NEAR(shallow / half, 2, 1e-3);
    EXPECT_EQ(air_stone_exchange_per_h({0, 1, 0.03}, water, k0(22)).value(), 0);
    EXPECT_FALSE(air_stone_exchange_per_h({-1, 1, 0.03}, water, k0(22)));
    EXPECT_FALSE(air_stone_exchange_per_h({1, 10, 0.15}, water, k0(22)));
}

TEST(GasExchange, UptakeEndsAtEquilibrium) {
    const double K = k0(25);
    EXPECT_EQ(co2_uptake_mol_per_kg_s(1, K, 420e-6, K * 420e-6), 0);
    EXPECT_LT(co2_uptake_mol_per_kg_s(1, K, 420e-6, K * 3000e-6), 0);
    EXPECT_NEAR(co2_uptake_mol_per_kg_s(3600, K, 420e-6, 0), K * 420e-6, 1e-18);
    EXPECT_EQ(co2_exchange_of_oxygen(2), 1.8);
}

TEST(GasExchange, NoticeOnlyForStillAlkalineWater) {
    EXPECT_TRUE(gas_exchange_notices(8.2, 0.01).empty());
    EXPECT_TRUE(gas_exchange_notices(9.2, 0.1).empty());
    ASSERT_EQ(gas_exchange_notices(9.2, 0.02).size(), 1U);
    EXPECT_EQ(gas_exchange_notices(9.2, 0.02)[0].code, "co2_reaction_ignored");
}

}  // namespace
}  // namespace bw::path
