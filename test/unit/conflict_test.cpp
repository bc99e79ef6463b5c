// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Targets that cannot be met, made so small that the reason can be seen by eye.
#include "recipe/conflict.hpp"

#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/material_file.hpp"
#include "io/target_file.hpp"
#include "unit/recipe_case.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::Component;
using bw::matter::constituent;
using bw::matter::Stated;
using bw::recipe_case::goal;
using bw::recipe_case::supply;
using bw::recipe_case::wanting;
using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::UnorderedElementsAre;

Conflict explained(const Target& target, const std::vector<Supply>& supplies) {
    const auto verdict = solve(target, supplies);
    EXPECT_TRUE(verdict.has_value());
    if (verdict) {
        EXPECT_EQ(verdict->verdict, Verdict::Infeasible);
    }
    auto out = explain_conflict(target, supplies);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().message);
    return out ? std::move(*out) : Conflict{};
}

std::string all_sentences(const Conflict& c) {
    std::string out;
    for (const std::string& sentence : c.sentences) {
        out += sentence + '\n';
    }
    return out;
}

TEST(Conflict, OfOneDemandWithoutASource) {
    const Conflict c =
        explained(wanting({goal("Na", 0.4, 0.39, 0.41), goal("Sr", 9e-5, 8e-5, 10e-5)}),
                  {supply("sodium chloride", "NaCl")});
    EXPECT_THAT(c.smallest_set, UnorderedElementsAre("Sr 0.08 to 0.1 mmol/kg"));
    EXPECT_TRUE(c.proven_smallest);
    EXPECT_THAT(all_sentences(c), HasSubstr("No material brings Sr."));
    EXPECT_THAT(c.would_free, Contains("adding strontium chloride hexahydrate (SrCl2.6H2O)"));
    // The nearest water has no strontium and keeps sodium in its band.
    EXPECT_NEAR(c.nearest.water.mol_per_kg[constituent("Na")], 0.4, 0.01);
    EXPECT_DOUBLE_EQ(c.nearest.water.mol_per_kg[constituent("Sr")], 0);
}

// One material brings potassium and bromide one to one.
TEST(Conflict, OfTwoDemandsOnOneMaterial) {
    const Target target = wanting({goal("Na", 0.4, 0.39, 0.41), goal("K", 0.0105, 0.010, 0.011, 1),
                                   goal("Br", 0.013, 0.0125, 0.0135, 3)});
    const Conflict c =
        explained(target, {supply("potassium bromide", "KBr"), supply("sodium chloride", "NaCl")});
    EXPECT_THAT(c.smallest_set,
                UnorderedElementsAre("K 10 to 11 mmol/kg", "Br 12.5 to 13.5 mmol/kg"));
    EXPECT_TRUE(c.proven_smallest);
    // Alone, Br has to come down to what 11 of K bring, or K up to 12.5.
    EXPECT_THAT(all_sentences(c), AllOf(HasSubstr("Br needs a band that reaches down to 11"),
                                        HasSubstr("K needs a band that reaches up to 12.5")));
    // Of the two the one of lower rank is broken, as little as can be; all else holds.
    EXPECT_NEAR(c.nearest.water.mol_per_kg[constituent("Br")], 0.011, 0.011 * 1e-6);
    EXPECT_NEAR(c.nearest.water.mol_per_kg[constituent("K")], 0.011, 0.011 * 1e-6);
    EXPECT_NEAR(c.nearest.water.mol_per_kg[constituent("Na")], 0.4, 0.01);
    EXPECT_THAT(all_sentences(c), HasSubstr("The nearest water has Br 11"));
    // Bromide without potassium frees it.
    EXPECT_THAT(c.would_free, Contains("adding sodium bromide (NaBr)"));
    EXPECT_THAT(c.would_free, testing::Not(Contains(HasSubstr("(KBr)"))));
}

TEST(Conflict, TheOtherOneBreaksWhenTheRankIsTurned) {
    const Target target =
        wanting({goal("K", 0.0105, 0.010, 0.011, 3), goal("Br", 0.013, 0.0125, 0.0135, 1)});
    const Conflict c = explained(target, {supply("potassium bromide", "KBr")});
    EXPECT_NEAR(c.nearest.water.mol_per_kg[constituent("Br")], 0.0125, 0.0125 * 1e-6);
    EXPECT_NEAR(c.nearest.water.mol_per_kg[constituent("K")], 0.0125, 0.0125 * 1e-6);
}

// Chlorides of sodium and potassium: Cl = Na + K, so at most 22 where 30 are asked for. None of
// the three can be spared, and any two can hold. A chloride of something unnamed frees it.
TEST(Conflict, OfThreeDemandsThatChargeTiesTogether) {
    const Target target =
        wanting({goal("Na", 0.0105, 0.010, 0.011), goal("K", 0.0105, 0.010, 0.011),
                 goal("Cl", 0.0305, 0.030, 0.031)});
    const std::vector<Supply> supplies = {supply("potassium chloride", "KCl"),
                                          supply("sodium chloride", "NaCl")};
    const Conflict c = explained(target, supplies);
    EXPECT_THAT(c.smallest_set, UnorderedElementsAre("Na 10 to 11 mmol/kg", "K 10 to 11 mmol/kg",
                                                     "Cl 30 to 31 mmol/kg"));
    EXPECT_TRUE(c.proven_smallest);
    EXPECT_THAT(c.would_free, Contains("adding magnesium chloride hexahydrate (MgCl2.6H2O)"));
    for (std::size_t spared = 0; spared < 3; ++spared) {
        Target two = target;
        two.constituents.erase(two.constituents.begin() + static_cast<std::ptrdiff_t>(spared));
        const auto out = solve(two, supplies);
        ASSERT_TRUE(out.has_value());
        EXPECT_EQ(out->verdict, Verdict::Solved) << "without demand " << spared;
    }
}

TEST(Conflict, ACeilingAndTheSaltThatBreaksIt) {
    // 0.4 mol/kg of Na is 23.376 g/kg of NaCl, up to 46.8 ug/kg of copper: 736 nmol/kg.
    Target target = wanting({goal("Na", 0.4, 0.39, 0.41), goal("K", 0.01, 0.009, 0.011)});
    Ceiling copper{constituent("Cu"), 100e-9, {}, 1e9};
    copper.shown.unit = bw::unit::find_unit("nmol/kg").value();
    target.ceilings = {copper};
    const std::vector<Component> impure = {{"Cu", Stated::between(0, 2e-6), true, true}};
    const Conflict c = explained(target, {supply("potassium chloride", "KCl"),
                                          supply("sodium chloride", "NaCl", std::nullopt, impure)});
    EXPECT_THAT(c.smallest_set,
                UnorderedElementsAre("Na 390 to 410 mmol/kg", HasSubstr("Cu at most 100 nmol/kg")));
    EXPECT_THAT(c.would_free, testing::IsSupersetOf({"a pure sodium chloride (NaCl)",
                                                     "a sodium chloride free of Cu"}));
    EXPECT_THAT(all_sentences(c), HasSubstr("Any one of these would free it"));
}

TEST(Conflict, TheMostOfAMaterialIsNamed) {
    std::vector<Supply> supplies = {supply("sodium chloride", "NaCl")};
    supplies[0].material.most_kg_per_kg = 0.010;
    const Conflict c = explained(wanting({goal("Na", 0.4, 0.39, 0.41)}), supplies);
    EXPECT_THAT(c.smallest_set,
                UnorderedElementsAre("Na 390 to 410 mmol/kg", "sodium chloride at most 10 g/kg"));
}

TEST(Conflict, RatiosAndSalinityTakePart) {
    // Mg/Ca of 5 with 10 of Ca and at most 40 of Mg.
    Target target = wanting({goal("Ca", 0.0105, 0.010, 0.011), goal("Mg", 0.04, 0.03, 0.04)});
    RatioGoal ratio;
    ratio.numerator = constituent("Mg");
    ratio.denominator = constituent("Ca");
    ratio.low = 5;
    target.ratios = {ratio};
    const std::vector<Supply> supplies = {supply("calcium chloride", "CaCl2.2H2O"),
                                          supply("magnesium chloride", "MgCl2.6H2O")};
    EXPECT_THAT(explained(target, supplies).smallest_set,
                UnorderedElementsAre("Ca 10 to 11 mmol/kg", "Mg 30 to 40 mmol/kg",
                                     "Mg/Ca at least 5 (by mole)"));
    target.ratios.clear();
    target.salinity = {30, 29, 31, 1, std::nullopt};  // these two make 5 g/kg
    EXPECT_THAT(explained(target, supplies).smallest_set, Contains("salinity 29 to 31 g/kg"));
}

TEST(Conflict, WhatNoSaltFreesIsSaid) {
    // Twice as much sodium as the salinity of the same water allows.
    Target target = wanting({goal("Na", 0.4, 0.39, 0.41)});
    target.salinity = {5, 4.9, 5.1, 1, std::nullopt};
    const Conflict c = explained(target, {supply("sodium chloride", "NaCl")});
    EXPECT_THAT(c.smallest_set,
                UnorderedElementsAre("Na 390 to 410 mmol/kg", "salinity 4.9 to 5.1 g/kg"));
    EXPECT_TRUE(c.would_free.empty());
    EXPECT_THAT(all_sentences(c), HasSubstr("a target has to give way"));
}

// Strontium and lithium both lack a source: either alone is a conflict, no one demand frees the
// target, and the nearest water gives up both and keeps the rest.
TEST(Conflict, TwoConflictsApartAreBothSeenInTheNearestWater) {
    const Conflict c = explained(wanting({goal("Na", 0.4, 0.39, 0.41), goal("Sr", 9e-5, 8e-5, 1e-4),
                                          goal("Li", 3e-5, 2e-5, 4e-5)}),
                                 {supply("sodium chloride", "NaCl")});
    EXPECT_EQ(c.smallest_set.size(), 1U);
    EXPECT_TRUE(c.proven_smallest);
    EXPECT_TRUE(c.would_free.empty());
    EXPECT_NEAR(c.nearest.water.mol_per_kg[constituent("Na")], 0.4, 0.01);
    EXPECT_THAT(all_sentences(c), AllOf(HasSubstr("The nearest water has Sr 0 mmol/kg"),
                                        HasSubstr("The nearest water has Li 0 mmol/kg")));
}

// Bands of all seven major ions that leave charge open: named before anything else is blamed.
TEST(Conflict, ChargeThatTheBandsLeaveOpenIsNamed) {
    const auto narrow = [](std::string_view symbol, double amount) {
        return goal(symbol, amount, amount * 0.999, amount * 1.001);
    };
    // 0.47 + 2 x 0.053 + 2 x 0.0103 + 0.0102 - 0.60 - 2 x 0.0282 - 0.0023 = -0.0519 eq/kg
    const Target target =
        wanting({narrow("Na", 0.47), narrow("Mg", 0.053), narrow("Ca", 0.0103), narrow("K", 0.0102),
                 narrow("Cl", 0.60), narrow("SO4", 0.0282), narrow("alkalinity", 2.3e-3)});
    const Conflict c = explained(
        target, {supply("a", "NaCl"), supply("b", "MgCl2.6H2O"), supply("c", "CaCl2.2H2O"),
                 supply("d", "KCl"), supply("e", "Na2SO4"), supply("f", "NaHCO3")});
    EXPECT_THAT(all_sentences(c), AllOf(HasSubstr("negative charge open"), HasSubstr("Cl, Na or")));
    // 0.0519 less a thousandth of 0.6068 + 0.6587 eq/kg is 50.63 meq/kg.
    EXPECT_THAT(all_sentences(c), HasSubstr("50.63 meq/kg"));
}

// The example that is impossible on purpose: potassium below what the impurities bring.
TEST(Conflict, OfTheExampleBlamesPotassium) {
    const std::string works = std::string(BW_SOURCE_DIR) + "/examples/works/";
    const auto target_file = bw::io::read_document(works + "impossible.toml");
    const auto material_file = bw::io::read_document(works + "materials.toml");
    ASSERT_TRUE(target_file.has_value() && material_file.has_value());
    auto target = bw::io::read_target(*target_file);
    const auto materials = bw::io::read_materials(*material_file);
    ASSERT_TRUE(target.has_value() && materials.has_value());
    std::vector<Supply> supplies;
    for (const auto& placed : *materials) {
        supplies.push_back({placed.material, placed.make_up});
    }
    supplies = sorted_by_label(supplies);
    target->limits = {};
    add_unnamed_goals(*target, supplies);
    const Conflict c = explained(*target, supplies);
    EXPECT_THAT(c.smallest_set, Contains("K 0 to 1.5 mg/L"));
    EXPECT_GT(c.nearest.water.mol_per_kg[constituent("K")] * 39098 * 1.02334, 1.5);  // mg/L
    EXPECT_THAT(c.would_free, testing::Not(testing::IsEmpty()));
}

}  // namespace
