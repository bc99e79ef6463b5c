// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Small recipes solved by hand. Molar masses: CIAAW 2021 for what is weighed, CIAAW 2005 for the
// dissolved mass. Unless said, a result may be off by kHold relative: solve.hpp promises doses to
// about 1e-9 of each target, and each of the some ten frozen stages may slip by kFreeze = 1e-9. A
// miss that cannot be helped may grow by kFreezeOfMiss of itself for the sake of later stages.
#include "recipe/solve.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "recipe/explain.hpp"
#include "unit/recipe_case.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::constituent;
using bw::matter::Stated;
using bw::recipe_case::goal;
using bw::recipe_case::supply;
using bw::recipe_case::wanting;
using testing::HasSubstr;

constexpr double kHold = 1e-8;
constexpr double kNaCl = 58.440e-3, kNa2SO4 = 142.036e-3, kMgCl2x6H2O = 203.295e-3;  // kg/mol
constexpr double kMgSO4x7H2O = 246.466e-3, kKBr = 119.002e-3;

Solution solved(const Target& target, const std::vector<Supply>& supplies,
                const SolveOptions& options = {}) {
    auto out = solve(target, supplies, options);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().message);
    if (!out) {
        return {};
    }
    EXPECT_EQ(out->verdict, Verdict::Solved);
    EXPECT_EQ(out->dose_kg_per_kg.size(), supplies.size());
    for (const Stage& stage : out->stages) {
        EXPECT_TRUE(stage.certificate.holds(kCertificateTolerance)) << stage.what;
    }
    return std::move(*out);
}

double amount(const Solution& s, std::string_view symbol) {
    return s.water.mol_per_kg[constituent(symbol)];
}

void expect_relative(double value, double expected, double tolerance, const char* what) {
    EXPECT_NEAR(value, expected, tolerance * std::abs(expected)) << what;
}

// 0.4 mol NaCl, 0.028 mol Na2SO4, 0.053 mol MgCl2.6H2O: Na 0.456, Cl 0.506, SO4 0.028, Mg 0.053.
TEST(Solve, ThreeSaltsSolvedByHand) {
    const auto supplies =
        sorted_by_label({supply("magnesium chloride", "MgCl2.6H2O"),
                         supply("sodium chloride", "NaCl"), supply("sodium sulfate", "Na2SO4")});
    Target target =
        wanting({goal("Na", 0.456, 0.45, 0.46), goal("Cl", 0.506, 0.5, 0.51),
                 goal("SO4", 0.028, 0.027, 0.029, 2), goal("Mg", 0.053, 0.05, 0.06, 1)});
    const double salt =
        0.456 * 22.98976928 + 0.506 * 35.453 + 0.053 * 24.3050 + 0.028 * (32.065 + 4 * 15.9994);
    target.salinity = {salt, salt * 0.998, salt * 1.002, 1, std::nullopt};
    const Solution s = solved(target, supplies);
    expect_relative(s.dose_kg_per_kg[0], 0.053 * kMgCl2x6H2O, kHold, "MgCl2.6H2O");
    expect_relative(s.dose_kg_per_kg[1], 0.4 * kNaCl, kHold, "NaCl");
    expect_relative(s.dose_kg_per_kg[2], 0.028 * kNa2SO4, kHold, "Na2SO4");
    expect_relative(s.water.dissolved_g_per_kg, salt, kHold, "salinity");
    EXPECT_TRUE(breaches(target, s.water, kHardTolerance).empty());
    EXPECT_EQ(s.stages.back().what, "mass of blend");
    EXPECT_TRUE(s.notices.empty());
}

// Potassium bromide brings K and Br one to one, so 10 of the one and 12 of the other cannot both
// be had. Whichever is served first is met to the digit.
TEST(Solve, PrioritiesAreLexicographic) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr")};
    for (const bool bromide_first : {false, true}) {
        const Target target = wanting({goal("K", 0.010, 0.005, 0.020, bromide_first ? 2 : 1),
                                       goal("Br", 0.012, 0.005, 0.020, bromide_first ? 1 : 2)});
        const Solution s = solved(target, supplies);
        expect_relative(s.dose_kg_per_kg[0], (bromide_first ? 0.012 : 0.010) * kKBr, kHold, "dose");
    }
}

// However much a lower goal suffers: 1e-4 of the higher one is not given up for all of it.
TEST(Solve, AHairOfAHigherPriorityOutweighsALowerOneWhole) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr")};
    const Target target =
        wanting({goal("K", 0.010, 0.001, 0.020, 1), goal("Br", 0.002, 0.001, 0.020, 2)});
    const Solution s = solved(target, supplies);
    expect_relative(amount(s, "K"), 0.010, kHold, "K");
    // Three levels: K at 1, Br at 2; the salinity at 9 would like 10 g/kg and gets nothing.
    EXPECT_LT(s.water.dissolved_g_per_kg, 2);
}

// Within one priority the largest relative miss comes first. KMgF3 brings K, Mg and 3 F for one
// dose x; wanted are 10, 10 and 36 mmol. Largest miss: (x - 10) / 10 = (12 - x) / 12, x = 120 / 11.
// The sum of misses alone would stay at x = 10, where two of three are met.
TEST(Solve, LargestMissBeforeSumOfMisses) {
    const std::vector<Supply> supplies = {supply("potassium magnesium fluoride", "KMgF3")};
    const Target target = wanting({goal("K", 0.010, 0.005, 0.02), goal("Mg", 0.010, 0.005, 0.02),
                                   goal("F", 0.036, 0.01, 0.06)});
    const Solution s = solved(target, supplies);
    ASSERT_GE(s.stages.size(), 2U);
    EXPECT_EQ(s.stages[0].what, "largest miss, priority 3");
    expect_relative(s.stages[0].objective, 1.0 / 11, kHold, "largest miss");
    EXPECT_EQ(s.stages[1].what, "sum of misses, priority 3");
    // What the sum may gain is the slip of the largest miss, no more: F at 1.01 / 11 below.
    const double most = (1 + kFreezeOfMiss) / 11;
    const double x = 12 * (1 - most);
    expect_relative(s.stages[1].objective, 2 * (x / 10 - 1) + most, kHold, "sum of misses");
    EXPECT_LE(amount(s, "K"), 0.010 * (1 + most) * (1 + kHold));
    EXPECT_GE(amount(s, "F"), 0.036 * (1 - most) * (1 - kHold));
}

// K and Br quarrel over one dose and set the largest miss to 1/11; sodium of the same priority
// could miss by as much for free, were it not for the sum. Nor may it pay for their quarrel: a goal
// that can be met is met, whatever its neighbours of the same priority miss.
TEST(Solve, SumOfMissesFollowsTheLargest) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr"),
                                          supply("sodium chloride", "NaCl")};
    const Target target = wanting({goal("K", 0.010, 0.005, 0.02), goal("Br", 0.012, 0.005, 0.02),
                                   goal("Na", 0.1, 0.05, 0.2)});
    const Solution s = solved(target, supplies);
    EXPECT_NEAR(amount(s, "K"), 0.120 / 11, kFreezeOfMiss / 11 * 0.012);
    expect_relative(amount(s, "Na"), 0.1, kHold, "Na");
}

TEST(Solve, BandsHoldWhateverThePriority) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr")};
    // K is first, yet Br of priority 5 may not leave its band.
    const Target target =
        wanting({goal("K", 0.010, 0.005, 0.020, 1), goal("Br", 0.012, 0.0115, 0.0125, 5)});
    const double potassium = amount(solved(target, supplies), "K");
    EXPECT_GE(potassium, 0.0115 * (1 - kHold));
    EXPECT_LE(potassium, 0.010 * (1 + 0.15 * (1 + kFreezeOfMiss)) * (1 + kHold));
}

TEST(Solve, CostDecidesAmongEquals) {
    const Target target = wanting({goal("Na", 0.4, 0.39, 0.41)});
    for (const bool first_is_cheap : {true, false}) {
        const std::vector<Supply> supplies = {supply("salt a", "NaCl", first_is_cheap ? 0.3 : 0.5),
                                              supply("salt b", "NaCl", first_is_cheap ? 0.5 : 0.3)};
        const Solution s = solved(target, supplies);
        expect_relative(s.dose_kg_per_kg[first_is_cheap ? 0 : 1], 0.4 * kNaCl, kHold, "cheap");
        EXPECT_DOUBLE_EQ(s.dose_kg_per_kg[first_is_cheap ? 1 : 0], 0);
        expect_relative(cost_per_kg_finished_water(supplies, s), 0.3 * 0.4 * kNaCl, kHold, "cost");
    }
}

std::vector<Supply> two_routes(double price_of_sodium_sulfate) {
    return sorted_by_label({supply("magnesium chloride", "MgCl2.6H2O", 0.4),
                            supply("magnesium sulfate", "MgSO4.7H2O", 0.5),
                            supply("sodium chloride", "NaCl", 0.3),
                            supply("sodium sulfate", "Na2SO4", price_of_sodium_sulfate)});
}

Target two_route_target() {
    return wanting({goal("Na", 0.456, 0.45, 0.46), goal("Cl", 0.506, 0.5, 0.51),
                    goal("SO4", 0.028, 0.027, 0.029), goal("Mg", 0.053, 0.05, 0.06)});
}

// 2 NaCl + MgSO4.7H2O make the same water as Na2SO4 + MgCl2.6H2O. Per mol the first costs
// 0.03506 + 0.12323 = 0.158 and the second 0.08132 + 0.14204 p, so Na2SO4 pays below p = 0.542.
TEST(Solve, CostDecidesBetweenRoutes) {
    const Solution dear = solved(two_route_target(), two_routes(1.0));
    EXPECT_DOUBLE_EQ(dear.dose_kg_per_kg[3], 0);
    expect_relative(dear.dose_kg_per_kg[1], 0.028 * kMgSO4x7H2O, kHold, "MgSO4.7H2O");
    expect_relative(dear.dose_kg_per_kg[2], 0.456 * kNaCl, kHold, "NaCl");
    const Solution cheap = solved(two_route_target(), two_routes(0.2));
    EXPECT_DOUBLE_EQ(cheap.dose_kg_per_kg[1], 0);
    expect_relative(cheap.dose_kg_per_kg[3], 0.028 * kNa2SO4, kHold, "Na2SO4");
}

// At 0.55 EUR/kg the sodium sulfate route is 0.2 % of the recipe dearer. It loses as well, and
// leaves no micrograms of itself behind: a material of the recipe is one that somebody weighs.
TEST(Solve, ARouteThatIsALittleDearerLeavesNoTrace) {
    const Solution s = solved(two_route_target(), two_routes(0.55));
    EXPECT_DOUBLE_EQ(s.dose_kg_per_kg[3], 0);
    expect_relative(s.dose_kg_per_kg[1], 0.028 * kMgSO4x7H2O, 1e-6, "MgSO4.7H2O");
}

// Without prices the least mass wins: 142.0 + 203.3 g against 116.9 + 246.5 g per mol swapped.
TEST(Solve, WithoutPricesTheLeastMassWins) {
    std::vector<Supply> supplies = two_routes(1);
    for (Supply& s : supplies) {
        s.material.price_per_kg.reset();
    }
    EXPECT_DOUBLE_EQ(solved(two_route_target(), supplies).dose_kg_per_kg[1], 0);
}

// At the same price per mole of magnesium the lighter form is taken.
TEST(Solve, MassDecidesAtEqualCost) {
    const std::vector<Supply> supplies = {supply("hexahydrate", "MgCl2.6H2O", 95.205),
                                          supply("anhydrous", "MgCl2", 203.295)};
    const Solution s = solved(wanting({goal("Mg", 0.05, 0.04, 0.06)}), supplies);
    expect_relative(s.dose_kg_per_kg[1], 0.05 * 95.205e-3, 1e-6, "frozen cost is worth 1e-9");
    EXPECT_LT(s.dose_kg_per_kg[0], 1e-6 * 0.05 * kMgCl2x6H2O);
}

TEST(Solve, AnythingInTheBandIsEqualWhenTheBandIsTheAim) {
    const std::vector<Supply> supplies = {supply("potassium chloride", "KCl", 5),
                                          supply("sodium chloride", "NaCl", 0.1)};
    // 0.01 mol K and 0.1 mol Na would make this salinity; so would less K with more Na.
    Target target = wanting({goal("K", 0.010, 0.009, 0.011), goal("Na", 0.1, 0.05, 0.2)});
    const double salt = 0.01 * 39.0983 + 0.1 * 22.98976928 + 0.11 * 35.453;
    target.salinity = {salt, salt / 2, salt * 2, 1, std::nullopt};
    expect_relative(amount(solved(target, supplies), "K"), 0.010, kHold, "the target");
    for (ConstituentGoal& g : target.constituents) {
        g.aim = Aim::Band;
    }
    expect_relative(amount(solved(target, supplies), "K"), 0.009, kHold,
                    "the cheapest in the band");
}

TEST(Solve, OrderOfSuppliesChangesNothing) {
    std::vector<Supply> supplies = two_routes(0.2);
    supplies.push_back(supply("another salt", "NaCl", 0.3));
    const Solution first = solved(two_route_target(), sorted_by_label(supplies));
    std::sort(supplies.begin(), supplies.end(),
              [](const Supply& a, const Supply& b) { return a.label() > b.label(); });
    std::rotate(supplies.begin(), supplies.begin() + 2, supplies.end());
    const Solution again = solved(two_route_target(), sorted_by_label(supplies));
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        EXPECT_NEAR(again.dose_kg_per_kg[j], first.dose_kg_per_kg[j], 1e-9);
    }
    // Goals in another order, too: their places in the file mean nothing.
    Target turned = two_route_target();
    std::reverse(turned.constituents.begin(), turned.constituents.end());
    const Solution third = solved(turned, sorted_by_label(supplies));
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        EXPECT_NEAR(third.dose_kg_per_kg[j], first.dose_kg_per_kg[j], 1e-9);
    }
}

TEST(Solve, TheCurrencyChangesNothing) {
    const Solution first = solved(two_route_target(), two_routes(0.2));
    for (const double rate : {1e-3, 160.0, 1e6}) {
        std::vector<Supply> supplies = two_routes(0.2);
        for (Supply& s : supplies) {
            s.material.price_per_kg = *s.material.price_per_kg * rate;
        }
        const Solution s = solved(two_route_target(), supplies);
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            EXPECT_NEAR(s.dose_kg_per_kg[j], first.dose_kg_per_kg[j], 1e-9) << rate;
        }
    }
}

TEST(Solve, InfeasibleIsProven) {
    const std::vector<Supply> supplies = {supply("potassium bromide", "KBr")};
    const auto out = solve(
        wanting({goal("K", 0.0105, 0.010, 0.011), goal("Br", 0.013, 0.0125, 0.014)}), supplies);
    ASSERT_TRUE(out.has_value());
    EXPECT_EQ(out->verdict, Verdict::Infeasible);
    EXPECT_GT(out->infeasibility_gap, 0);
    EXPECT_TRUE(out->dose_kg_per_kg.empty());
}

TEST(Solve, NoMaterialAtAllIsInfeasible) {
    const auto out = solve(wanting({goal("K", 0.010, 0.009, 0.011)}), {});
    ASSERT_TRUE(out.has_value());
    EXPECT_EQ(out->verdict, Verdict::Infeasible);
}

TEST(Solve, PurifiedWaterIsCounted) {
    Target target = wanting({goal("Ca", 0.010, 0.009, 0.011)});
    target.purified_water[constituent("Ca")] = 0.001;
    const std::vector<Supply> supplies = {supply("calcium chloride", "CaCl2.2H2O")};
    const double a = 1000 / 147.008;  // mol/kg: CaCl2.2H2O 40.078 + 70.90 + 36.030
    // a x + 0.001 (1 - x) = 0.010
    expect_relative(solved(target, supplies).dose_kg_per_kg[0], 0.009 / (a - 0.001), kHold, "dose");
}

// Copper at most 2 mg/kg in the salt, so 1 is expected and 2 reckoned with; the purified water
// brings 10 nmol/kg for each kg that is not salt.
TEST(Solve, CeilingsReckonWithTheWorstAndThePurifiedWater) {
    const std::vector<Supply> supplies = {
        supply("sodium chloride", "NaCl", 0.3, {{"Cu", Stated::between(0, 2e-6), true, false}})};
    Target target = wanting({goal("Na", 0.4, 0.392, 0.408)});
    target.purified_water[constituent("Cu")] = 10e-9;
    const double worst_per_kg = 2e-3 / 63.546 - 10e-9;  // mol of Cu more for each kg of salt
    const auto copper_at = [&](double sodium) { return 10e-9 + sodium * kNaCl * worst_per_kg; };
    target.ceilings = {{constituent("Cu"), copper_at(0.4) * 1.0001, {}, 1}};
    expect_relative(amount(solved(target, supplies), "Na"), 0.4, kHold, "room above the target");
    target.ceilings[0].high = copper_at(0.395);
    const Solution pressed = solved(target, supplies);
    const double sodium = amount(pressed, "Na");  // gives way within its band, by 1.25 %
    EXPECT_LE(sodium, 0.395 * (1 + kHold));
    EXPECT_GE(sodium, 0.4 * (1 - 0.0125 * (1 + kFreezeOfMiss)) * (1 - kHold));
    expect_relative(pressed.water.worst_mol_per_kg[constituent("Cu")], copper_at(sodium), kHold,
                    "the worst copper of that salt");
    target.ceilings[0].high = copper_at(0.391);  // above what is expected, below the worst
    const auto out = solve(target, supplies);
    ASSERT_TRUE(out.has_value());
    EXPECT_EQ(out->verdict, Verdict::Infeasible);
}

TEST(Solve, RatiosHoldAndAreAimedAt) {
    const std::vector<Supply> supplies = {supply("calcium chloride", "CaCl2.2H2O"),
                                          supply("magnesium chloride", "MgCl2.6H2O")};
    Target target = wanting({goal("Ca", 0.011, 0.010, 0.012, 1), goal("Mg", 0.050, 0.04, 0.06, 2)});
    RatioGoal ratio;
    ratio.numerator = constituent("Mg");
    ratio.denominator = constituent("Ca");
    ratio.low = 5.0;
    ratio.high = 5.4;
    target.ratios = {ratio};
    // Ca is met; Mg wants 0.050 and may not go below 5.0 x 0.011.
    Solution s = solved(target, supplies);
    expect_relative(amount(s, "Ca"), 0.011, kHold, "Ca");
    expect_relative(amount(s, "Mg"), 0.055, kHold, "Mg at the ratio's low");
    target.ratios[0].target = 5.2;
    target.ratios[0].priority = 1;
    s = solved(target, supplies);
    expect_relative(amount(s, "Mg") / amount(s, "Ca"), 5.2, kHold, "the ratio's target");
    // By mass: 24.305 / 40.078 of the ratio by mole (CIAAW 2021).
    target.ratios[0].by_mass = true;
    target.ratios[0].target.reset();
    target.ratios[0].low = 3.1;
    target.ratios[0].high = 3.2;
    s = solved(target, supplies);
    expect_relative(amount(s, "Mg") / amount(s, "Ca"), 3.1 * 40.078 / 24.305, kHold, "by mass");
}

TEST(Solve, MostAndLeastOfAMaterialAreObeyed) {
    std::vector<Supply> supplies = {supply("cheap", "NaCl", 0.1), supply("dear", "NaCl", 0.9)};
    const Target target = wanting({goal("Na", 0.4, 0.39, 0.41)});
    supplies[0].material.most_kg_per_kg = 0.010;
    Solution s = solved(target, supplies);
    expect_relative(s.dose_kg_per_kg[0], 0.010, kHold, "most of the cheap one");
    expect_relative(s.dose_kg_per_kg[1], 0.4 * kNaCl - 0.010, kHold, "the rest");
    supplies[0].material.most_kg_per_kg.reset();
    supplies[1].material.least_kg_per_kg = 0.005;
    s = solved(target, supplies);
    expect_relative(s.dose_kg_per_kg[1], 0.005, kHold, "least of the dear one");
    supplies[0].material.most_kg_per_kg = 0.0;
    s = solved(target, supplies);
    EXPECT_NEAR(s.dose_kg_per_kg[0], 0, 1e-12) << "a most of nothing";
}

TEST(Solve, StockLimitsTheShareOfTheBatch) {
    std::vector<Supply> supplies = {supply("cheap", "NaCl", 0.1), supply("dear", "NaCl", 0.9)};
    supplies[0].material.stock_kg = 400;
    Target target = wanting({goal("Na", 0.4, 0.39, 0.41)});
    Solution s = solved(target, supplies);
    EXPECT_DOUBLE_EQ(s.dose_kg_per_kg[1], 0) << "no batch, no limit";
    target.batch = Batch{1000, 0, std::nullopt, std::nullopt};
    s = solved(target, supplies);
    ASSERT_TRUE(s.blend_kg && s.batch_finished_water_kg);
    expect_relative(*s.blend_kg, 1000, kHold, "blend");
    expect_relative(s.dose_kg_per_kg[0] * *s.batch_finished_water_kg, 400, kHold, "all the stock");
    // 1000 kg of NaCl for 0.4 mol/kg each.
    expect_relative(*s.batch_finished_water_kg, 1000 / (0.4 * kNaCl), kHold, "finished water");
    supplies[0].material.stock_kg = 2000;
    EXPECT_DOUBLE_EQ(solved(target, supplies).dose_kg_per_kg[1], 0);
}

TEST(Solve, StaysNearTheStandingRecipeBeforeItSaves) {
    const std::vector<Supply> supplies = two_routes(0.2);  // the sodium sulfate route is cheaper
    SolveOptions options;
    options.stay_near = {0.025 * kMgCl2x6H2O, 0.028 * kMgSO4x7H2O, 0.456 * kNaCl, 0};
    const Solution s = solved(two_route_target(), supplies, options);
    for (std::size_t j = 0; j < 4; ++j) {
        EXPECT_NEAR(s.dose_kg_per_kg[j], options.stay_near[j], 1e-8 * 0.456 * kNaCl) << j;
    }
    // A target moved by 2 % of Mg, which the chloride alone can bring, moves the chloride alone.
    Target moved = two_route_target();
    moved.constituents[3].target = 0.054;
    moved.constituents[1].target = 0.508;
    const Solution t = solved(moved, supplies, options);
    expect_relative(t.dose_kg_per_kg[0], 0.026 * kMgCl2x6H2O, 1e-6, "MgCl2.6H2O grows");
    expect_relative(t.dose_kg_per_kg[1], 0.028 * kMgSO4x7H2O, 1e-6, "MgSO4.7H2O stays");
    const auto what = [](const Stage& stage) { return stage.what; };
    std::vector<std::string> stages;
    std::transform(t.stages.begin(), t.stages.end(), std::back_inserter(stages), what);
    EXPECT_THAT(stages, testing::ElementsAre(HasSubstr("priority 3"), HasSubstr("priority 3"),
                                             HasSubstr("priority 9"), HasSubstr("priority 9"),
                                             "change of the weighings", "cost", "mass of blend"));
}

// Half the sodium of each of two grades, of which the first brings potassium beside a fixed
// potassium chloride. Halving the first would meet potassium; it takes changes of a half of both
// weighings, at a twentieth of themselves: 0.05 in all. (Between 2.5 and 5 % a part of it is made:
// while the largest miss is made least sodium may miss as far as potassium, so that one weighing
// alone is changed, at half the price.)
TEST(Solve, LikeMaterialsChangePlacesForAMissAndNotForAHair) {
    constexpr double kAssay = 0.99;
    constexpr double kKCl = 74.548e-3;
    struct Case {
        double miss;
        double first_grade;  ///< of the sodium, where the adjusted recipe ends
    };
    for (const auto& [miss, first_grade] : {Case{0.005, 0.5}, Case{0.09, 0.25}}) {
        const double first = 0.228 * kNaCl / kAssay;
        const double k_by_salt = 0.010 * (1 - miss);
        std::vector<Supply> supplies = {supply("first grade", "NaCl"),
                                        supply("potassium chloride", "KCl"),
                                        supply("second grade", "NaCl")};
        supplies[0].material.assay->share = Stated::exactly(kAssay);
        supplies[0].material.impurities = {{"K", Stated::exactly(2 * 0.010 * miss / first), false}};
        supplies[0].make_up = bw::matter::make_up(supplies[0].material).value();
        supplies[1].material.least_kg_per_kg = k_by_salt * kKCl;
        supplies[1].material.most_kg_per_kg = k_by_salt * kKCl;
        const Target target =
            wanting({goal("Na", 0.456, 0.4, 0.5), goal("K", 0.010, 0.009, 0.011)});
        SolveOptions options;
        options.stay_near = {first, k_by_salt * kKCl, 0.228 * kNaCl};
        const Solution s = solved(target, supplies, options);
        expect_relative(s.dose_kg_per_kg[0] * kAssay / kNaCl / 0.456, first_grade, 1e-4, "first");
        expect_relative(amount(s, "Na"), 0.456, 1e-4, "Na");
        expect_relative(amount(s, "K"), 0.010 * (first_grade == 0.5 ? 1 + miss : 1), 1e-4, "K");
    }
}

// Sodium of priority 1 is met as things stand. That must leave room for what a weaker lot of the
// potassium of priority 3 needs.
TEST(Solve, AGoalThatIsMetWithoutChangesLeavesThemToLaterOnes) {
    constexpr double kAssay = 0.99;
    constexpr double kKCl = 74.548e-3;
    std::vector<Supply> supplies = {supply("potassium chloride", "KCl"),
                                    supply("sodium chloride", "NaCl")};
    supplies[0].material.assay->share = Stated::exactly(kAssay);
    supplies[0].make_up = bw::matter::make_up(supplies[0].material).value();
    const Target target =
        wanting({goal("Na", 0.456, 0.4, 0.5, 1), goal("K", 0.010, 0.009, 0.011, 3)});
    SolveOptions options;
    options.stay_near = {0.010 * kKCl, 0.456 * kNaCl};
    const Solution s = solved(target, supplies, options);
    expect_relative(amount(s, "K"), 0.010, 1e-6, "K");
    expect_relative(s.dose_kg_per_kg[0], 0.010 * kKCl / kAssay, 1e-4, "KCl grows");
    expect_relative(s.dose_kg_per_kg[1], 0.456 * kNaCl, 1e-4, "NaCl stays");
}

}  // namespace
