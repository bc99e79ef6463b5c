// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Numbers of materials, smallest doses, whole packages and weighing steps, on recipes small enough
// to enumerate by hand. Molar masses: CIAAW 2021.
#include "recipe/discrete.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <tuple>
#include <vector>

#include <gtest/gtest.h>

#include "recipe/solve.hpp"
#include "unit/recipe_case.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::constituent;
using bw::recipe_case::goal;
using bw::recipe_case::supply;
using bw::recipe_case::wanting;

constexpr double kKCl = 74.548e-3;  // kg/mol
constexpr double kKBr = 119.002e-3;

// Branch and bound holds frozen stages to 1e-6 (stages.cpp), so doses found by it are right to
// that; limits must hold as promised for every limit, to kHardTolerance.
constexpr double kSearch = 3e-6;

Solution solve_it(const Target& target, const std::vector<Supply>& supplies) {
    auto out = solve(target, supplies);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().message);
    return out ? std::move(*out) : Solution{};
}

Solution solved(const Target& target, const std::vector<Supply>& supplies) {
    Solution out = solve_it(target, supplies);
    EXPECT_EQ(out.verdict, Verdict::Solved);
    EXPECT_TRUE(breaches(target, out.water, kHardTolerance).empty());
    if (out.dose_kg_per_kg.size() != supplies.size()) {
        ADD_FAILURE() << "one dose per supply";
        out.dose_kg_per_kg.assign(supplies.size(), 0);
    }
    return out;
}

long used(const Solution& s) {
    return std::count_if(s.dose_kg_per_kg.begin(), s.dose_kg_per_kg.end(),
                         [](double x) { return x > 0; });
}

double kilograms(const Solution& s, std::size_t j) {
    return s.dose_kg_per_kg[j] * s.batch_finished_water_kg.value_or(0);
}

/// Whole multiples, to the round-off of a division: 1e-9 of a step.
void expect_multiple(double kg, double step, const std::string& what) {
    EXPECT_NEAR(kg / step, std::round(kg / step), 1e-9 * std::max(1.0, kg / step)) << what;
}

// 9 mmol of KCl and 1 of KBr meet both. One material only: KCl alone, with no bromide, for KBr
// alone would bring as much bromide as potassium.
TEST(WholeNumbers, MostMaterialsIsObeyed) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr"),
                                          supply("potassium chloride", "KCl")};
    Target target = wanting({goal("K", 0.010, 0.008, 0.012, 1), goal("Br", 0.001, 0, 0.003, 2)});
    EXPECT_EQ(used(solved(target, supplies)), 2);
    target.limits.most_materials = 2;
    EXPECT_EQ(used(solved(target, supplies)), 2);
    target.limits.most_materials = 1;
    const Solution s = solved(target, supplies);
    EXPECT_EQ(used(s), 1);
    EXPECT_NEAR(s.dose_kg_per_kg[1], 0.010 * kKCl, kSearch * 0.010 * kKCl);
}

// 1 mmol of KBr is 0.119 g/kg. Left out, bromide misses by 100 %; at 0.2 g/kg it is 1.68 mmol and
// misses by 68 %: the smallest dose is taken, and to the digit.
TEST(WholeNumbers, SmallestDoseIsObeyedOrTheMaterialLeftOut) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr"),
                                          supply("potassium chloride", "KCl")};
    Target target = wanting({goal("K", 0.010, 0.008, 0.012, 1), goal("Br", 0.001, 0, 0.003, 2)});
    target.limits.smallest_dose_kg_per_kg = 0.2e-3;
    const Solution s = solved(target, supplies);
    EXPECT_NEAR(s.dose_kg_per_kg[0], 0.2e-3, kSearch * 0.2e-3);
    EXPECT_GE(s.dose_kg_per_kg[0], 0.2e-3 * (1 - kHardTolerance));
    EXPECT_NEAR(s.dose_kg_per_kg[1], (0.010 - 0.2e-3 / kKBr) * kKCl, kSearch * 0.010 * kKCl);
    // 0.3 g/kg would be 2.52 mmol, a miss of 152 %: better none.
    target.limits.smallest_dose_kg_per_kg = 0.3e-3;
    EXPECT_DOUBLE_EQ(solved(target, supplies).dose_kg_per_kg[0], 0);
}

TEST(WholeNumbers, WhatTheyMakeImpossibleIsSaidAndHasNoDoses) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr"),
                                          supply("potassium chloride", "KCl")};
    Target target = wanting({goal("K", 0.010, 0.008, 0.012), goal("Br", 0.001, 0.0005, 0.003)});
    target.limits.most_materials = 1;
    const Solution s = solve_it(target, supplies);
    EXPECT_EQ(s.verdict, Verdict::Infeasible);
    ASSERT_EQ(s.notices.size(), 1U);
    EXPECT_EQ(s.notices[0].code, "whole_numbers");
    EXPECT_TRUE(s.dose_kg_per_kg.empty()) << "the doses of a recipe that breaks the limit";
}

// Carbon 2 mmol/kg with alkalinity 1 meq/kg: 2 mmol of bicarbonate bring twice the alkalinity, and
// 1 mmol of hydrogensulfate takes half of it away again (Wolf-Gladrow et al. 2007, eq. 32). A dose
// may thus bring more alkalinity than the water's high.
TEST(WholeNumbers, AnAcidMayTakeAwayWhatAnotherMaterialBrings) {
    const std::vector<Supply> supplies = {supply("bicarbonate", "NaHCO3"),
                                          supply("hydrogensulfate", "NaHSO4")};
    Target target =
        wanting({goal("carbon", 2e-3, 1.9e-3, 2.1e-3), goal("alkalinity", 1e-3, 0.95e-3, 1.05e-3)});
    EXPECT_EQ(used(solved(target, supplies)), 2);
    target.limits.most_materials = 2;  // no more than the recipe has anyway
    EXPECT_EQ(used(solved(target, supplies)), 2);
}

/// Na 0.456, Cl 0.506, SO4 0.028, Mg 0.053 mol/kg from 23.376 g NaCl, 3.977 g Na2SO4 and 10.775 g
/// MgCl2.6H2O per kg: of 1000 kg of blend 613.1 kg are NaCl.
Target batch_target() {
    Target out = wanting({goal("Na", 0.456, 0.45, 0.462), goal("Cl", 0.506, 0.5, 0.512),
                          goal("SO4", 0.028, 0.027, 0.029), goal("Mg", 0.053, 0.052, 0.054)});
    out.batch = Batch{1000, 0, std::nullopt, std::nullopt};
    return out;
}
std::vector<Supply> batch_supplies() {
    return {supply("magnesium chloride", "MgCl2.6H2O", 0.8), supply("sodium chloride", "NaCl", 0.3),
            supply("sodium sulfate", "Na2SO4", 0.5)};
}

// 24 packages of 25 kg would make 978.6 kg, 2.1 % less; 25 make 1019.4 kg, within the swing of 2 %.
TEST(WholeNumbers, PackagesComeOutEvenWithinTheSwing) {
    Target target = batch_target();
    target.batch->blend_swing = 0.02;
    std::vector<Supply> supplies = batch_supplies();
    supplies[1].material.package_kg = 25;
    supplies[1].material.whole_packages = true;
    const Solution s = solved(target, supplies);
    EXPECT_NEAR(kilograms(s, 1), 625, 1e-9 * 625);
    ASSERT_TRUE(s.blend_kg);
    EXPECT_NEAR(*s.blend_kg, 625 / 613.1 * 1000, 0.2);  // the share typed to four digits
    EXPECT_LE(std::abs(*s.blend_kg / 1000 - 1), 0.02 * (1 + kHardTolerance));
    for (const ConstituentGoal& g : target.constituents) {
        EXPECT_NEAR(s.water.mol_per_kg[g.constituent] / *g.target, 1, kSearch)
            << g.constituent.symbol();
    }
}

TEST(WholeNumbers, PackagesWithoutSwingAreWholeToo) {
    Target target = batch_target();
    target.salinity.low_g_per_kg = 1;
    std::vector<Supply> supplies = batch_supplies();
    supplies[1].material.package_kg = 12.5;
    supplies[1].material.whole_packages = true;
    const Solution s = solved(target, supplies);  // 49 x 12.5 = 612.5 kg, 0.1 % below
    EXPECT_NEAR(kilograms(s, 1), 612.5, 1e-9 * 612.5);
}

TEST(WholeNumbers, WeighingStepsAreExact) {
    Target target = batch_target();
    target.batch->weighing_step_kg = 0.5;
    std::vector<Supply> supplies = batch_supplies();
    supplies[2].material.step_kg = 0.02;  // its own scale
    const Solution s = solved(target, supplies);
    expect_multiple(kilograms(s, 0), 0.5, "MgCl2.6H2O");
    expect_multiple(kilograms(s, 1), 0.5, "NaCl");
    expect_multiple(kilograms(s, 2), 0.02, "Na2SO4");
    double sum = 0;
    for (std::size_t j = 0; j < 3; ++j) {
        sum += kilograms(s, j);
    }
    EXPECT_NEAR(*s.blend_kg, sum, 1e-9 * sum);
}

// 1 mmol/kg of KBr is 3.1 kg of this batch: half a step of 1 kg is a sixth of it, so the step is
// searched, not rounded; 3 kg are nearest.
TEST(WholeNumbers, CoarseStepsAreSearched) {
    std::vector<Supply> supplies = batch_supplies();
    supplies.insert(supplies.begin() + 1, supply("potassium bromide", "KBr", 3));
    Target target = batch_target();
    target.constituents.push_back(goal("Br", 0.001, 0.0005, 0.0015));
    target.batch->weighing_step_kg = 1;
    const Solution s = solved(target, supplies);
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        expect_multiple(kilograms(s, j), 1, supplies[j].label());
    }
    EXPECT_NEAR(kilograms(s, 1), 3, 1e-9);
}

TEST(WholeNumbers, SmallestWeighingIsObeyed) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr"),
                                          supply("potassium chloride", "KCl")};
    Target target = wanting({goal("K", 0.010, 0.008, 0.012, 1), goal("Br", 0.001, 0, 0.003, 2)});
    // 9 x 74.548 + 119.002 = 789.9 mg/kg: 100 kg of blend hold 15.1 kg of KBr.
    target.batch = Batch{100, 0, 20, std::nullopt};
    const Solution s = solved(target, supplies);
    for (std::size_t j = 0; j < 2; ++j) {
        EXPECT_TRUE(s.dose_kg_per_kg[j] == 0 || kilograms(s, j) >= 20 * (1 - kHardTolerance));
    }
}

TEST(WholeNumbers, TheSameInputGivesTheSameRecipe) {
    Target target = batch_target();
    target.batch->weighing_step_kg = 0.5;
    target.limits.most_materials = 3;
    const Solution first = solved(target, batch_supplies());
    const Solution again = solved(target, batch_supplies());
    EXPECT_EQ(first.dose_kg_per_kg, again.dose_kg_per_kg);
}

// A mass of blend without a swing is the mass of blend. One material fewer brings the hexahydrate
// instead of the anhydrous salt, and with it more mass per kilogram of water.
TEST(WholeNumbers, WithoutSwingTheBlendKeepsItsMass) {
    std::vector<Supply> supplies = {supply("anhydrous", "MgCl2", 0.1),
                                    supply("hexahydrate", "MgCl2.6H2O", 0.8),
                                    supply("sodium chloride", "NaCl", 0.3)};
    supplies[0].material.most_kg_per_kg = 2e-3;
    Target target = wanting({goal("Na", 0.4, 0.39, 0.41), goal("Mg", 0.053, 0.05, 0.056)});
    target.batch = Batch{1000, 0, std::nullopt, std::nullopt};
    EXPECT_NEAR(solved(target, supplies).blend_kg.value_or(0), 1000, 1e-3);
    target.limits.most_materials = 2;
    const Solution s = solved(target, supplies);
    EXPECT_EQ(used(s), 2);
    EXPECT_NEAR(s.blend_kg.value_or(0), 1000, 1e-3);
}

/// NaCl from a cheap and a dear source, and magnesium chloride in whole packages whose number
/// makes the batch larger or smaller. Per kg of water 23.376 g NaCl and 10.775 g MgCl2.6H2O, so of
/// 1000 kg 315.5 kg are MgCl2.6H2O: 10 packages of 31 kg make 982.6 kg, 13 of 25 kg 1030 kg.
struct SwingCase {
    Target target = wanting({goal("Na", 0.4, 0.39, 0.41), goal("Mg", 0.053, 0.052, 0.054)});
    std::vector<Supply> supplies = {supply("cheap", "NaCl", 0.1), supply("dear", "NaCl", 0.9),
                                    supply("magnesium chloride", "MgCl2.6H2O", 0.8)};

    SwingCase(double package_kg, double swing) {
        target.batch = Batch{1000, swing, std::nullopt, std::nullopt};
        supplies[2].material.package_kg = package_kg;
        supplies[2].material.whole_packages = true;
    }
};

TEST(BlendSwing, IsUsedSoThatTheTargetsAreMet) {
    for (const auto& [package, swing, kg] :
         {std::tuple{31.0, 0.02, 310.0}, std::tuple{25.0, 0.04, 325.0}}) {
        const SwingCase c(package, swing);
        const Solution s = solved(c.target, c.supplies);
        EXPECT_NEAR(kilograms(s, 2), kg, 1e-9 * kg);
        EXPECT_NEAR(s.water.mol_per_kg[constituent("Mg")], 0.053, kSearch * 0.053);
        EXPECT_NEAR(s.water.mol_per_kg[constituent("Na")], 0.4, kSearch * 0.4);
    }
}

TEST(BlendSwing, KeepsTheMostOfAMaterial) {
    SwingCase c(31, 0.02);
    c.supplies[0].material.most_kg_per_kg = 0.010;
    const Solution s = solved(c.target, c.supplies);
    EXPECT_LE(s.dose_kg_per_kg[0], 0.010 * (1 + kHardTolerance));
    EXPECT_NEAR(s.dose_kg_per_kg[0], 0.010, kSearch * 0.010) << "the cheap one is used to the full";
}

TEST(BlendSwing, KeepsTheLeastOfAMaterial) {
    SwingCase c(25, 0.04);
    c.supplies[1].material.least_kg_per_kg = 0.005;
    const Solution s = solved(c.target, c.supplies);
    EXPECT_GE(s.dose_kg_per_kg[1], 0.005 * (1 - kHardTolerance));
}

TEST(BlendSwing, KeepsTheSmallestDose) {
    SwingCase c(25, 0.04);
    c.supplies.push_back(supply("potassium bromide", "KBr", 3));
    // 0.1 mmol, 11.9 mg/kg, is wanted; 15 mg/kg, 0.126 mmol, is nearer than nothing.
    c.target.constituents.push_back(goal("Br", 1e-4, 0, 2e-4));
    c.target.limits.smallest_dose_kg_per_kg = 15e-6;
    const Solution s = solved(c.target, c.supplies);
    EXPECT_GT(s.dose_kg_per_kg[3], 0);
    EXPECT_GE(s.dose_kg_per_kg[3], 15e-6 * (1 - kHardTolerance));
    EXPECT_NEAR(s.dose_kg_per_kg[3], 15e-6, kSearch * 15e-6) << "and no more than that";
}

TEST(BlendSwing, KeepsTheStock) {
    SwingCase c(25, 0.04);
    c.supplies[0].material.stock_kg = 400;
    const Solution s = solved(c.target, c.supplies);
    EXPECT_LE(kilograms(s, 0), 400 * (1 + kHardTolerance)) << "there is no more";
    EXPECT_NEAR(kilograms(s, 0), 400, 400 * kSearch) << "and the cheap one is used up";
}

// A stock of 133.37 kg on a scale of 0.1 kg allows 133.3 kg; half a step is 0.04 % of it, so the
// weighing is rounded and not searched.
TEST(Rounding, NeverWeighsMoreThanTheStock) {
    std::vector<Supply> supplies = {supply("cheap", "NaCl", 0.1), supply("dear", "NaCl", 0.9)};
    supplies[0].material.stock_kg = 133.37;
    Target target = wanting({goal("Na", 0.4, 0.39, 0.41)});
    target.batch = Batch{1000, 0, std::nullopt, 0.1};
    const Solution s = solved(target, supplies);
    expect_multiple(kilograms(s, 0), 0.1, "cheap");
    EXPECT_LE(kilograms(s, 0), 133.37);
    EXPECT_GT(kilograms(s, 0), 133.2);
}

// Rounding a weighing may not lift it over the most, nor push it below the least or the smallest
// dose, that the file states.
TEST(Rounding, KeepsMostLeastAndSmallestDose) {
    for (const double most : {0.0100003, 0.0100007, 0.0100011, 0.0100014}) {
        std::vector<Supply> supplies = {supply("cheap", "NaCl", 0.1), supply("dear", "NaCl", 0.9)};
        supplies[0].material.most_kg_per_kg = most;
        Target target = wanting({goal("Na", 0.4, 0.39, 0.41)});
        target.batch = Batch{1000, 0, std::nullopt, 0.1};
        EXPECT_LE(solved(target, supplies).dose_kg_per_kg[0], most * (1 + kHardTolerance));
        supplies[0].material.most_kg_per_kg.reset();
        supplies[1].material.least_kg_per_kg = most;
        EXPECT_GE(solved(target, supplies).dose_kg_per_kg[1], most * (1 - kHardTolerance));
    }
    for (const double smallest : {0.2e-3, 0.20003e-3, 0.20006e-3}) {
        const std::vector<Supply> supplies = {supply("potassium bromide", "KBr"),
                                              supply("potassium chloride", "KCl")};
        Target target =
            wanting({goal("K", 0.010, 0.008, 0.012, 1), goal("Br", 0.001, 0, 0.003, 2)});
        target.limits.smallest_dose_kg_per_kg = smallest;
        target.batch = Batch{100, 0, std::nullopt, 0.02};
        const Solution s = solved(target, supplies);
        EXPECT_GT(s.dose_kg_per_kg[0], 0);
        EXPECT_GE(s.dose_kg_per_kg[0], smallest * (1 - kHardTolerance)) << smallest;
    }
}

// 10.0003 g/kg, neither more nor less, are 427.81 kg of this batch; the scale offers 427.8 and
// 427.9. What no weighing can keep is said, not broken.
TEST(Rounding, LimitsThatNoStepCanKeepAreSaid) {
    std::vector<Supply> supplies = {supply("cheap", "NaCl", 0.1), supply("dear", "NaCl", 0.9)};
    constexpr double kDose = 0.0100003;
    supplies[1].material.least_kg_per_kg = kDose;
    supplies[1].material.most_kg_per_kg = kDose;
    Target target = wanting({goal("Na", 0.4, 0.39999, 0.40001)});
    target.batch = Batch{1000, 0, std::nullopt, 0.1};
    const Solution s = solve_it(target, supplies);
    EXPECT_TRUE(s.verdict != Verdict::Solved ||
                std::abs(s.dose_kg_per_kg.at(1) / kDose - 1) <= kHardTolerance)
        << s.dose_kg_per_kg.at(1);
}

// Na2SO4 is 104.308 kg of the batch. The nearest 0.1 kg, 104.3, would leave the band by 25 ppm; the
// next, 104.4, is inside. Rounding alone does not find it, the search with room for it does.
TEST(Rounding, KeepsNarrowBands) {
    Target target = batch_target();
    target.constituents[2] = goal("SO4", 0.028, 0.028 * 0.99995, 0.028 * 1.01);
    target.batch->weighing_step_kg = 0.1;
    const Solution s = solved(target, batch_supplies());
    for (std::size_t j = 0; j < 3; ++j) {
        expect_multiple(kilograms(s, j), 0.1, batch_supplies()[j].label());
    }
}

}  // namespace
