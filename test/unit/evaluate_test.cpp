// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The water of given doses, by hand; molar masses CIAAW 2021 (materials) and 2005 (dissolved mass,
// the scale of Reference-Composition Salinity, Millero et al. 2008). 1e-13 mol/kg is round-off.
#include "recipe/evaluate.hpp"

#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "unit/recipe_case.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::Amounts;
using bw::matter::constituent;
using bw::matter::Stated;
using bw::recipe_case::supply;
using testing::HasSubstr;

TEST(MadeUpWater, SumsMaterialsAndPurifiedWater) {
    const std::vector<Supply> supplies = {supply("sodium chloride", "NaCl", std::nullopt,
                                                 {{"Cu", Stated::between(0, 2e-6), true, false}}),
                                          supply("magnesium chloride", "MgCl2.6H2O")};
    Amounts purified;
    purified[constituent("Cu")] = 10e-9;
    purified[constituent("Si")] = 1e-6;
    const std::vector<double> dose = {0.02, 0.01};
    const MadeUpWater water = made_up_water(supplies, purified, dose);
    EXPECT_NEAR(water.purified_water_kg, 0.97, 1e-15);
    const double sodium = 20 / 58.440;
    const double magnesium = 10 / 203.295;
    const double copper = 0.02 * 1e-3 / 63.546;  // 1 mg/kg expected, 2 at worst
    EXPECT_NEAR(water.mol_per_kg[constituent("Na")], sodium, 1e-13);
    EXPECT_NEAR(water.mol_per_kg[constituent("Mg")], magnesium, 1e-13);
    EXPECT_NEAR(water.mol_per_kg[constituent("Cl")], sodium + 2 * magnesium + 2 * copper, 1e-13);
    EXPECT_NEAR(water.mol_per_kg[constituent("Cu")], copper + 0.97 * 10e-9, 1e-20);
    EXPECT_NEAR(water.worst_mol_per_kg[constituent("Cu")], 2 * copper + 0.97 * 10e-9, 1e-20);
    EXPECT_NEAR(water.mol_per_kg[constituent("Si")], 0.97e-6, 1e-18);
    // Salts are neutral; the purified water's copper is what is open: 2 x 9.7 neq over 0.44 eq.
    const double positive = sodium + 2 * magnesium + 2 * (copper + 9.7e-9);
    EXPECT_NEAR(water.charge_balance_percent, 100 * 2 * 9.7e-9 / positive, 1e-12);
    // Si as Si(OH)4 with the weights of 2021, in which alone it has one: 96.113 g/mol.
    const double dissolved = sodium * 22.98976928 + magnesium * 24.3050 +
                             (sodium + 2 * magnesium + 2 * copper) * 35.453 +
                             (copper + 9.7e-9) * 63.546 + 0.97e-6 * 96.113;
    EXPECT_NEAR(water.dissolved_g_per_kg, dissolved, 1e-9);
}

TEST(MadeUpWater, InsolubleMatterIsKeptApart) {
    const std::vector<Supply> supplies = {supply(
        "salt", "NaCl", std::nullopt, {{"insoluble", Stated::between(0, 4e-4), true, false}})};
    const MadeUpWater water = made_up_water(supplies, {}, std::vector<double>{0.025});
    EXPECT_NEAR(water.insoluble_mg_per_kg, 0.025 * 2e-4 * 1e6, 1e-12);
    EXPECT_NEAR(water.dissolved_g_per_kg, 25 / 58.440 * (22.98976928 + 35.453), 1e-9);
}

Target salt_target() {
    Target out;
    out.salinity = {20, 19.9, 20.1, 1, std::nullopt};
    ConstituentGoal sodium;
    sodium.constituent = constituent("Na");
    sodium.low = 0.30;
    sodium.high = 0.34;
    out.constituents = {sodium};
    return out;
}

MadeUpWater water_with(double sodium, double dissolved) {
    MadeUpWater out;
    out.mol_per_kg[constituent("Na")] = sodium;
    out.dissolved_g_per_kg = dissolved;
    return out;
}

TEST(Breaches, NameEachLimitAndByHowMuch) {
    const Target target = salt_target();
    EXPECT_TRUE(breaches(target, water_with(0.32, 20), 1e-7).empty());
    EXPECT_TRUE(breaches(target, water_with(0.34, 20.1), 1e-7).empty()) << "at the limit is inside";
    const auto above = breaches(target, water_with(0.35, 20), 1e-7);
    ASSERT_EQ(above.size(), 1U);
    EXPECT_EQ(above[0].what, "Na is above its band");
    EXPECT_NEAR(above[0].by_of_band, 0.01 / 0.34, 1e-12);
    const auto both = breaches(target, water_with(0.27, 19), 1e-7);
    ASSERT_EQ(both.size(), 2U);
    EXPECT_EQ(both[0].what, "salinity is below its band");
    EXPECT_EQ(both[1].what, "Na is below its band");
    EXPECT_NEAR(both[1].by_of_band, 0.1, 1e-12);
}

TEST(Breaches, ToleranceIsRelativeToTheLimit) {
    const Target target = salt_target();
    EXPECT_TRUE(breaches(target, water_with(0.34 * (1 + 0.9e-6), 20), 1e-6).empty());
    EXPECT_EQ(breaches(target, water_with(0.34 * (1 + 1.1e-6), 20), 1e-6).size(), 1U);
}

TEST(Breaches, RatiosAndCeilings) {
    Target target = salt_target();
    target.constituents.clear();
    RatioGoal ratio;
    ratio.numerator = constituent("Mg");
    ratio.denominator = constituent("Ca");
    ratio.by_mass = true;
    ratio.low = 3;
    target.ratios = {ratio};
    target.ceilings = {{constituent("Cu"), 50e-9, {}, 1}};
    MadeUpWater water = water_with(0, 20);
    water.mol_per_kg[constituent("Mg")] = 0.05;
    water.mol_per_kg[constituent("Ca")] = 0.01;  // 3.03 g/g
    water.mol_per_kg[constituent("Cu")] = 40e-9;
    water.worst_mol_per_kg[constituent("Cu")] = 50e-9;
    EXPECT_TRUE(breaches(target, water, 1e-7).empty());
    water.mol_per_kg[constituent("Ca")] = 0.0102;  // 2.97 g/g
    water.worst_mol_per_kg[constituent("Cu")] = 60e-9;
    const auto found = breaches(target, water, 1e-7);
    ASSERT_EQ(found.size(), 2U);
    EXPECT_THAT(found[0].what, HasSubstr("Mg/Ca is below"));
    EXPECT_THAT(found[1].what, HasSubstr("Cu is above its ceiling"));
    EXPECT_NEAR(found[1].by_of_band, 0.2, 1e-12);
}

TEST(Limits, AreKeptWithinAPartOfTheirSize) {
    EXPECT_TRUE(is_inside(1, 1.0, 2.0));
    EXPECT_TRUE(is_inside(1 - 0.9 * kHardTolerance, 1.0, std::nullopt));
    EXPECT_TRUE(is_below(1 - 1.1 * kHardTolerance, 1.0));
    EXPECT_TRUE(is_above(2 * (1 + 1.1 * kHardTolerance), 2.0));
    EXPECT_TRUE(is_inside(-1 - 0.9 * kHardTolerance, -1.0, -1.0));  // an alkalinity below 0
    EXPECT_TRUE(is_below(-1 - 1.1 * kHardTolerance, -1.0));
    EXPECT_TRUE(is_inside(7, std::nullopt, std::nullopt));
}

// What a lot adjustment makes again: the standing recipe's water, where the bands let it.
TEST(AimingAt, TakesTheStandingWaterInsideTheBands) {
    constexpr double kNaCl = 58.440e-3;  // kg/mol
    const std::vector<Supply> supplies = {supply("sodium chloride", "NaCl")};
    const MadeUpWater standing = made_up_water(supplies, {}, std::vector<double>{0.4 * kNaCl});
    Target target;
    target.salinity = {25, 20, 23, 1, std::nullopt};
    using bw::recipe_case::goal;
    target.constituents = {goal("Na", 0.41, 0.39, 0.42), goal("Cl", 0.45, 0.44, 0.46),
                           goal("K", 0.01, 0.009, 0.011), goal("Ca", std::nullopt, 0, 0.02)};
    const Target aimed = aiming_at(target, standing);
    EXPECT_NEAR(*aimed.constituents[0].target, 0.4, 1e-9);
    EXPECT_DOUBLE_EQ(*aimed.constituents[1].target, 0.44) << "not below the band";
    EXPECT_DOUBLE_EQ(*aimed.constituents[2].target, 0.01) << "what is not in it keeps its target";
    EXPECT_FALSE(aimed.constituents[3].target);
    EXPECT_DOUBLE_EQ(aimed.salinity.target_g_per_kg, 23) << "not above the band";
}

}  // namespace
