// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/target.hpp"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "recipe/solve.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::Assay;
using bw::matter::constituent;
using bw::matter::Stated;

Supply supply(std::string name, std::string formula, double price = 1) {
    Supply out;
    out.material.name = std::move(name);
    out.material.formula = std::move(formula);
    out.material.assay = Assay{Stated::exactly(1), "", std::nullopt};
    out.material.price_per_kg = price;
    out.make_up = bw::matter::make_up(out.material).value();
    return out;
}

ConstituentGoal goal(std::string_view symbol, double target, double low, double high) {
    ConstituentGoal out;
    out.constituent = constituent(symbol);
    out.target = target;
    out.low = low;
    out.high = high;
    return out;
}

/// Any salinity will do; it is served last.
Target wanting(std::vector<ConstituentGoal> goals) {
    Target out;
    out.salinity = {35.16504, 1e-3, 300, 9, std::nullopt};
    out.constituents = std::move(goals);
    return out;
}

TEST(RatioGoal, NamesAndConvertsItself) {
    RatioGoal ratio;
    ratio.numerator = constituent("Mg");
    ratio.denominator = constituent("Ca");
    EXPECT_EQ(ratio.name(), "Mg/Ca");
    EXPECT_DOUBLE_EQ(ratio.per_mole_ratio(), 1);
    ratio.by_mass = true;
    EXPECT_NEAR(ratio.per_mole_ratio(), 24.305 / 40.078, 1e-15);  // CIAAW 2021
}

TEST(Supply, LabelNamesTheLot) {
    Supply s = supply("sodium chloride", "NaCl");
    EXPECT_EQ(s.label(), "sodium chloride");
    s.material.lot = "N1";
    EXPECT_EQ(s.label(), "sodium chloride, lot N1");
}

TEST(UnnamedGoals, KeepWhatIsNotSpokenOfAtNature) {
    Target target = wanting({goal("Na", 0.4, 0.39, 0.41)});
    add_unnamed_goals(target, {supply("lithium chloride", "LiCl"), supply("salt", "NaCl"),
                               supply("silver nitrate", "AgNO3")});
    ASSERT_EQ(target.constituents.size(), 4U);  // Na, then Li, NO3 and Ag; Cl is free
    for (std::size_t i = 1; i < 4; ++i) {
        EXPECT_EQ(target.constituents[i].origin, Origin::Unnamed);
        EXPECT_EQ(target.constituents[i].priority, kUnnamedPriority);
        EXPECT_FALSE(target.constituents[i].low.has_value());
        EXPECT_FALSE(target.constituents[i].high.has_value());
    }
    for (const ConstituentGoal& g : target.constituents) {
        if (g.constituent == constituent("Li")) {
            EXPECT_DOUBLE_EQ(*g.target, 26e-6);  // data/natural_traces.toml, at reference salinity
        }
        if (g.constituent == constituent("Ag")) {
            EXPECT_DOUBLE_EQ(*g.target, 1e-6);  // none on file: the scale of an excess over nothing
        }
    }
}

TEST(UnnamedGoals, NamedFreeAndImpureConstituentsGetNone) {
    Supply impure = supply("salt", "NaCl");
    impure.material.impurities = {{"Li", Stated::exactly(1e-5), true, false}};
    impure.make_up = bw::matter::make_up(impure.material).value();
    Target target = wanting({goal("Br", 1e-3, 0, 2e-3)});
    add_unnamed_goals(target,
                      {impure, supply("potassium bromide", "KBr"), supply("soda", "NaHCO3"),
                       supply("gypsum", "CaSO4.2H2O"), supply("magnesium chloride", "MgCl2.6H2O")});
    EXPECT_EQ(target.constituents.size(), 1U);
}

// A target that does not speak of lithium must not be served with it because it is cheap.
TEST(UnnamedGoals, NoSaltServesAsAFiller) {
    const std::vector<Supply> supplies = {supply("lithium chloride", "LiCl", 0.01),
                                          supply("sodium chloride", "NaCl", 1)};
    Target open = wanting({goal("Cl", 0.5, 0.49, 0.51)});
    open.salinity.target_g_per_kg = 20;  // 0.5 mol of LiCl make 21 g, of NaCl 29 g
    Target kept = open;
    add_unnamed_goals(kept, supplies);
    const auto filler = solve(open, supplies);
    const auto salt = solve(kept, supplies);
    ASSERT_TRUE(filler.has_value() && salt.has_value());
    const auto lithium = constituent("Li");
    EXPECT_GT(filler->water.mol_per_kg[lithium], 1e-3) << "else this case shows nothing";
    EXPECT_LE(salt->water.mol_per_kg[lithium], 26e-6 * (1 + 1e-6));
    EXPECT_NEAR(salt->water.mol_per_kg[constituent("Cl")], 0.5, 0.5 * 1e-8);
}

std::vector<ConstituentGoal> charged(double chloride) {
    return {goal("Na", 0.47, 0.46, 0.48),
            goal("Mg", 0.053, 0.052, 0.054),
            goal("Ca", 0.0103, 0.0102, 0.0104),
            goal("K", 0.0102, 0.0101, 0.0103),
            goal("Cl", chloride, chloride - 0.005, chloride + 0.005),
            goal("SO4", 0.0282, 0.028, 0.0284),
            goal("alkalinity", 2.3e-3, 2.2e-3, 2.4e-3)};
}

// Electroneutrality by hand: cations 0.47 + 0.106 + 0.0206 + 0.0102, anions Cl + 0.0564 + 0.0023
// eq/kg. At Cl 0.548 the bands close; at 0.60 the most positive sum of charges is
// 0.48 + 0.108 + 0.0208 + 0.0103 - 0.595 - 0.056 - 0.0022 = -0.0341 eq/kg.
TEST(UnclosedCharge, IsTheLeastThatTheBandsLeave) {
    const std::vector<Supply> salts = {supply("salt", "NaCl"), supply("soda", "NaHCO3")};
    EXPECT_DOUBLE_EQ(unclosed_charge(wanting(charged(0.548)), salts), 0);
    EXPECT_NEAR(unclosed_charge(wanting(charged(0.60)), salts), -0.0341, 1e-12);
    // Too little chloride: 0.46 + 0.104 + 0.0204 + 0.0101 - 0.505 - 0.0568 - 0.0024.
    EXPECT_NEAR(unclosed_charge(wanting(charged(0.50)), salts), 0.0303, 1e-12);
}

TEST(UnclosedCharge, AMajorIonWithoutABandTakesItUpIfAMaterialBringsIt) {
    const std::vector<Supply> salt = {supply("salt", "NaCl")};
    auto goals = charged(0.60);
    goals[0].high.reset();
    EXPECT_DOUBLE_EQ(unclosed_charge(wanting(goals), salt), 0);
    goals.erase(goals.begin());  // sodium is not asked for at all
    EXPECT_DOUBLE_EQ(unclosed_charge(wanting(goals), salt), 0);
    // Nothing brings sodium: the rest is -0.0341 - 0.48 at best.
    EXPECT_NEAR(unclosed_charge(wanting(goals), {supply("bittern", "MgCl2.6H2O")}), -0.5141, 1e-12);
}

}  // namespace
