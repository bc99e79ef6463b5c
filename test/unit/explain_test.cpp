// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/explain.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "figure.hpp"
#include "recipe/blend_place.hpp"
#include "recipe/caution.hpp"
#include "unit/recipe_case.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::Assay;
using bw::matter::Component;
using bw::matter::constituent;
using bw::matter::Stated;
using bw::recipe_case::goal;
using bw::recipe_case::wanting;
using testing::HasSubstr;

/// Not known to better than 0.2 %, and paid in euros.
Supply supply(std::string name, std::string formula, std::optional<double> price = std::nullopt,
              std::vector<Component> impurities = {}) {
    Supply out =
        bw::recipe_case::supply(std::move(name), std::move(formula), price, std::move(impurities));
    out.material.assay = Assay{Stated::normal(1, 0.002), "", std::nullopt};
    out.material.currency = "EUR";
    out.make_up = bw::matter::make_up(out.material).value();
    return out;
}

Solution solved(const Target& target, const std::vector<Supply>& supplies) {
    auto out = solve(target, supplies);
    EXPECT_TRUE(out.has_value());
    EXPECT_TRUE(out && out->verdict == Verdict::Solved);
    return out ? std::move(*out) : Solution{};
}

/// Salts of Mg, Na and SO4 in two routes: Na2SO4 + MgCl2.6H2O = 2 NaCl + MgSO4.7H2O.
std::vector<Supply> two_routes(double price_of_sodium_sulfate) {
    return {supply("magnesium chloride", "MgCl2.6H2O", 0.4),
            supply("magnesium sulfate", "MgSO4.7H2O", 0.5), supply("sodium chloride", "NaCl", 0.3),
            supply("sodium sulfate", "Na2SO4", price_of_sodium_sulfate)};
}
Target two_route_target() {
    return wanting({goal("Na", 0.456, 0.45, 0.46), goal("Cl", 0.506, 0.5, 0.51),
                    goal("SO4", 0.028, 0.027, 0.029), goal("Mg", 0.053, 0.05, 0.06)});
}

// 0.053 of Mg and 0.028 of SO4 from MgCl2 (0.025) and MgSO4 (0.028): 47.2 and 52.8 %.
TEST(Budget, SharesAreWhatEachMaterialBrings) {
    const auto supplies = two_routes(1.0);
    const Target target = two_route_target();
    const auto all = budgets(target, supplies, solved(target, supplies));
    ASSERT_EQ(all.size(), 4U);
    for (const Budget& budget : all) {
        double sum = 0;
        for (std::size_t k = 0; k < budget.shares.size(); ++k) {
            sum += budget.shares[k].share;
            EXPECT_TRUE(k == 0 || budget.shares[k].share <= budget.shares[k - 1].share);
        }
        EXPECT_NEAR(sum, 1, 1e-12) << budget.constituent.symbol();  // round-off of the shares
    }
    const Budget& magnesium = all[3];
    ASSERT_EQ(magnesium.shares.size(), 2U);
    EXPECT_EQ(magnesium.shares[0].supply, 1);
    EXPECT_NEAR(magnesium.shares[0].share, 28.0 / 53, 1e-7);
    EXPECT_EQ(magnesium.shares[1].supply, 0);
    EXPECT_NEAR(magnesium.shares[1].share, 25.0 / 53, 1e-7);
}

TEST(Budget, ThePurifiedWaterHasItsShareAndAcidsANegativeOne) {
    const std::vector<Supply> supplies = {supply("bicarbonate", "NaHCO3"),
                                          supply("hydrogensulfate", "NaHSO4")};
    Target target =
        wanting({goal("carbon", 2e-3, 1.9e-3, 2.1e-3), goal("alkalinity", 1e-3, 0.95e-3, 1.05e-3)});
    target.purified_water[constituent("alkalinity")] = 0.1e-3;
    const Solution s = solved(target, supplies);
    const auto all = budgets(target, supplies, s);
    ASSERT_EQ(all.size(), 2U);
    const auto& shares = all[1].shares;  // alkalinity: 2 from bicarbonate, 0.1 water, -1.1 acid
    ASSERT_EQ(shares.size(), 3U);
    EXPECT_EQ(shares[0].supply, 0);
    EXPECT_NEAR(shares[0].share, 2, 1e-6);
    EXPECT_EQ(shares[1].supply, -1);
    // 0.1 meq for each kilogram of purified water; 0.168 g of bicarbonate and 0.132 of the acid
    // take its place. Round-off of the doses.
    EXPECT_NEAR(shares[1].share, 0.1 * (1 - 0.168e-3 - 0.132e-3), 1e-6);
    EXPECT_EQ(shares[2].supply, 1);
    EXPECT_LT(shares[2].share, -1);
}

// Dear potassium goes to the low of its band when the band is the aim; sodium makes up the
// salinity.
TEST(Binding, NamesTheLimitsTheRecipeLeansOn) {
    const std::vector<Supply> supplies = {supply("potassium chloride", "KCl", 5),
                                          supply("sodium chloride", "NaCl", 0.1)};
    Target target = wanting({goal("K", 0.010, 0.009, 0.011), goal("Na", 0.1, 0.05, 0.2)});
    const double salt = 0.01 * 39.0983 + 0.1 * 22.98976928 + 0.11 * 35.453;  // CIAAW 2005
    target.salinity = {salt, salt / 2, salt * 2, 1, std::nullopt};
    EXPECT_TRUE(bindings(target, solved(target, supplies)).empty());
    for (ConstituentGoal& g : target.constituents) {
        g.aim = Aim::Band;
    }
    const auto found = bindings(target, solved(target, supplies));
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].what, "K at its low, 9 mmol/kg");
}

TEST(Binding, RatiosCeilingsAndSalinityToo) {
    Target target = wanting({goal("Ca", 0.011, 0.010, 0.012, 1), goal("Mg", 0.05, 0.04, 0.06, 2)});
    RatioGoal ratio;
    ratio.numerator = constituent("Mg");
    ratio.denominator = constituent("Ca");
    ratio.low = 5;
    target.ratios = {ratio};
    const std::vector<Supply> supplies = {supply("calcium chloride", "CaCl2.2H2O"),
                                          supply("magnesium chloride", "MgCl2.6H2O")};
    auto found = bindings(target, solved(target, supplies));
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].what, "Mg/Ca at its limit, 5.000");
    target.ratios.clear();
    target.salinity = {4, 3.9, 4, 9, std::nullopt};  // 0.011 CaCl2 and 0.05 MgCl2 would make 6 g
    target.constituents[1].low = 0.01;
    found = bindings(target, solved(target, supplies));
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].what, "salinity at its high");
}

TEST(Sensitivity, AssayAndPriceSpeakInPercent) {
    const auto supplies = two_routes(1.0);
    const Target target = two_route_target();
    const Solution s = solved(target, supplies);
    const Robustness r = SpreadModel(target, supplies, s).first_order();
    const auto sentences = sensitivities(target, supplies, s, r);
    // Shares of Mg and Cl by hand: MgCl2 25/53 of Mg, 2 x 25/506 of Cl; the share times 1 %.
    EXPECT_THAT(sentences,
                testing::Contains("1 % more assay of magnesium chloride moves Mg by +0.47 %."));
    EXPECT_THAT(sentences,
                testing::Contains("1 % more assay of sodium chloride moves Na by +1.0 %, "
                                  "Cl by +0.90 %."));
}

// What 1 % more of Mg costs per tonne of blend, by hand: Mg alone is named, from MgCl2.6H2O at
// 0.8 EUR/kg beside NaCl at 0.3. One kilogram of water takes 23.376 g NaCl and 10.775 g of the
// hexahydrate, with 1 % more 10.882 g: 457.76 and 458.83 EUR/t. The difference is 1.07.
TEST(Sensitivity, PriceOfOnePercentIsADifferenceOfRecipes) {
    const std::vector<Supply> supplies = {supply("magnesium chloride", "MgCl2.6H2O", 0.8),
                                          supply("sodium chloride", "NaCl", 0.3)};
    const Target target = wanting({goal("Na", 0.4, 0.39, 0.41), goal("Mg", 0.053, 0.05, 0.056)});
    const Solution s = solved(target, supplies);
    const Robustness r = SpreadModel(target, supplies, s).first_order();
    EXPECT_THAT(sensitivities(target, supplies, s, r),
                testing::Contains("1 % more Mg in the target costs 1.1 EUR per t of blend."));
}

TEST(Cost, IsTheSumOfDosesTimesPrices) {
    const auto supplies = two_routes(1.0);
    const Solution s = solved(two_route_target(), supplies);
    // 0.025 MgCl2.6H2O, 0.028 MgSO4.7H2O, 0.456 NaCl (CIAAW 2021), money per kg of water.
    const double by_hand = 0.025 * 0.203295 * 0.4 + 0.028 * 0.246466 * 0.5 + 0.456 * 0.058440 * 0.3;
    EXPECT_NEAR(cost_per_kg_finished_water(supplies, s), by_hand, 1e-8 * by_hand);
    EXPECT_TRUE(all_priced(supplies, s));
    std::vector<Supply> unpriced = supplies;
    unpriced[3].material.price_per_kg.reset();  // not used by the recipe
    EXPECT_TRUE(all_priced(unpriced, s));
    unpriced[2].material.price_per_kg.reset();
    EXPECT_FALSE(all_priced(unpriced, s));
}

// At 0.55 EUR/kg of Na2SO4 the swapped pair costs 0.15944 against 0.15830 EUR per mol: the other
// route is 0.028 x 0.00114 EUR dearer, 0.2 % of the recipe, and an alternative. At 1.00 EUR/kg it
// is 0.028 x 0.0651, 13 %: none.
TEST(Alternatives, OfferTheOtherRouteWhenItCostsLittleMore) {
    const Target target = two_route_target();
    const auto supplies = two_routes(0.55);
    const Solution s = solved(target, supplies);
    const auto all = alternatives(target, supplies, s);
    const auto found = std::find_if(all.begin(), all.end(), [](const Alternative& a) {
        return a.without == "magnesium sulfate";
    });
    ASSERT_NE(found, all.end());
    EXPECT_THAT(found->takes_up,
                testing::UnorderedElementsAre("magnesium chloride", "sodium sulfate"));
    EXPECT_NEAR(found->dose_kg_per_kg[3], 0.028 * 0.142036, 1e-8);
    const double change =
        0.028 * (0.142036 * 0.55 + 0.203295 * 0.4 - 2 * 0.058440 * 0.3 - 0.246466 * 0.5);
    EXPECT_NEAR(found->cost_change, change / cost_per_kg_finished_water(supplies, s), 1e-7);
    const MadeUpWater water = made_up_water(supplies, target.purified_water, found->dose_kg_per_kg);
    EXPECT_TRUE(breaches(target, water, kHardTolerance).empty());
    EXPECT_TRUE(alternatives(target, two_routes(1.0), solved(target, two_routes(1.0))).empty());
    bw::test::record({"Recipes",
                      "alternative recipes, with another source of what a material brings",
                      "those within 2 % of the cost",
                      fmt::format("one {:.1f} % dearer is offered, one 13 % dearer is not",
                                  100 * found->cost_change),
                      found->cost_change < 0.02 && !testing::Test::HasFailure()});
}

// Mg/Ca of nature is 5.14 (Millero et al. 2008); the cautions speak where much calcium and
// alkalinity meet little magnesium.
TEST(Caution, RaisedWaterWithLittleMagnesiumIsToldApart) {
    Target target = wanting({});
    target.salinity.target_g_per_kg = 35.16504;
    MadeUpWater water;
    water.mol_per_kg = bw::matter::reference_seawater(35.16504);
    const auto codes = [&] {
        std::vector<std::string> out;
        for (const auto& notice : cautions_on_water(target, water)) {
            out.push_back(notice.code);
        }
        return out;
    };
    EXPECT_THAT(codes(), testing::ElementsAre("carbon"));
    water.mol_per_kg[constituent("Ca")] *= 1.1;
    water.mol_per_kg[constituent("alkalinity")] *= 1.5;
    EXPECT_THAT(codes(), testing::ElementsAre("raised", "carbon"));  // Mg/Ca 4.67
    water.mol_per_kg[constituent("Mg")] *= 0.9;                      // 4.2
    EXPECT_THAT(codes(), testing::ElementsAre("raised", "low_magnesium", "carbon"));
    water.insoluble_mg_per_kg = 6;
    EXPECT_THAT(codes(), testing::Contains("insoluble"));
}

TEST(Caution, BlendOrderKeepsCarbonateAndCalciumApart) {
    std::vector<Supply> supplies = {supply("bicarbonate", "NaHCO3"),
                                    supply("calcium chloride", "CaCl2.2H2O"),
                                    supply("magnesium sulfate", "MgSO4.7H2O"),
                                    supply("sodium chloride", "NaCl"), supply("unused", "KCl")};
    supplies[1].material.hazards = {"H319"};
    Solution s;
    s.dose_kg_per_kg = {1e-4, 1e-3, 7e-3, 2e-2, 0};
    const auto order = blend_order(supplies, s);
    std::vector<int> flat;
    for (const BlendStep& step : order) {
        flat.insert(flat.end(), step.supplies.begin(), step.supplies.end());
    }
    EXPECT_EQ(flat, (std::vector<int>{3, 0, 2, 1}));  // salt, basic, sulfate, hygroscopic last
    const auto warned = hazards(supplies, s);
    ASSERT_EQ(warned.size(), 1U);
    EXPECT_EQ(warned[0].supply, 1);
    ASSERT_EQ(warned[0].statements.size(), 1U);
    // GHS annex 3: H319.
    EXPECT_EQ(warned[0].statements[0], "H319 Causes serious eye irritation.");
    EXPECT_THAT(standing_cautions(supplies, s),
                testing::AllOf(testing::Contains(HasSubstr("never water onto salt")),
                               testing::Contains(HasSubstr("heat strongly"))));
}

TEST(BlendPlace, IsDecidedByWhatAMaterialIs) {
    const auto company = [](const char* formula) {
        return company_of(supply("of any name", formula));
    };
    for (const char* formula : {"NaHCO3", "Na2CO3", "H3BO3", "NaF", "CaCO3", "Mg(OH)2", "Na2SO4"}) {
        EXPECT_EQ(company(formula), Company::Carbonates) << formula;
    }
    for (const char* formula :
         {"CaCl2", "CaCl2.2H2O", "MgCl2.6H2O", "SrCl2.6H2O", "LiCl", "NaBr"}) {
        EXPECT_EQ(company(formula), Company::Chlorides) << formula;
        EXPECT_TRUE(draws_water(supply("any", formula))) << formula;
        EXPECT_EQ(blend_group(supply("any", formula)), BlendGroup::Hygroscopic) << formula;
    }
    for (const char* formula : {"NaCl", "KCl", "KBr", "KI"}) {
        EXPECT_EQ(company(formula), Company::Any) << formula;
        EXPECT_FALSE(draws_water(supply("any", formula))) << formula;
    }
    EXPECT_EQ(company("MgSO4.7H2O"), Company::None);
    // A trace that draws water is no premix, whatever its role.
    Supply lithium = supply("lithium chloride", "LiCl");
    lithium.material.role = "trace";
    EXPECT_EQ(blend_group(lithium), BlendGroup::Hygroscopic);
}

}  // namespace
