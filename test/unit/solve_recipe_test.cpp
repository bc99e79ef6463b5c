// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The service on the example works: what goes in as files comes out as one report.
#include "service/solve_recipe.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/material_file.hpp"
#include "recipe/discrete.hpp"

namespace {

using namespace bw::service;
using bw::matter::constituent;
using bw::recipe::Verdict;
using testing::HasSubstr;

std::string text_of(const std::string& name) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/examples/works/" + name);
    EXPECT_TRUE(in.good()) << name;
    return {std::istreambuf_iterator<char>(in), {}};
}

bw::io::Document document(const std::string& text, const std::string& name) {
    auto out = bw::io::parse_document(text, name);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out.value_or(bw::io::Document{});
}

RecipeRequest request(const std::string& target) {
    RecipeRequest out;
    out.target = document(text_of(target), target);
    out.materials = {document(text_of("materials.toml"), "materials.toml")};
    out.draws = 2000;
    out.explain = false;
    return out;
}

RecipeReport report_of(const RecipeRequest& asked) {
    auto out = solve_recipe(asked);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out ? std::move(*out) : RecipeReport{};
}

std::map<std::string, double> doses(const RecipeReport& report) {
    std::map<std::string, double> out;
    for (std::size_t j = 0; j < report.solution.dose_kg_per_kg.size(); ++j) {
        out[report.supplies[j].label()] = report.solution.dose_kg_per_kg[j];
    }
    return out;
}

std::vector<std::string> codes(const RecipeReport& report) {
    std::vector<std::string> out;
    for (const auto& notice : report.notices) {
        out.push_back(notice.code);
    }
    return out;
}

/// The catalogue with its materials in reverse order, each as it stands.
std::string reversed_catalogue() {
    const std::string text = text_of("materials.toml");
    std::vector<std::string> parts;
    const std::string mark = "[[material]]";
    for (auto from = text.find(mark); from != std::string::npos;) {
        const auto next = text.find(mark, from + mark.size());
        parts.push_back(text.substr(from, next == std::string::npos ? next : next - from) + "\n");
        from = next;
    }
    EXPECT_GE(parts.size(), 20U);
    std::string out = text.substr(0, text.find(mark));
    for (auto part = parts.rbegin(); part != parts.rend(); ++part) {
        out += *part;
    }
    return out;
}

TEST(SolveRecipe, TheExampleHoldsEveryLimitIndependentlyRechecked) {
    for (const char* name : {"raised.toml", "natural.toml", "hatchery.toml"}) {
        const RecipeReport r = report_of(request(name));
        ASSERT_EQ(r.solution.verdict, Verdict::Solved) << name;
        // Sums by hand, without the program's own evaluation.
        const auto& target = r.target;
        double salt = 0;
        for (const double x : r.solution.dose_kg_per_kg) {
            salt += x;
        }
        const auto sum = [&](bw::matter::Constituent c, bool worst) {
            double out = (1 - salt) * target.purified_water[c];
            for (std::size_t j = 0; j < r.supplies.size(); ++j) {
                const auto& m = r.supplies[j].make_up;
                out += r.solution.dose_kg_per_kg[j] *
                       (worst ? m.worst_mol_per_kg[c] : m.mol_per_kg[c]);
            }
            return out;
        };
        constexpr double kSlack = bw::recipe::kHardTolerance;
        for (const auto& goal : target.constituents) {
            const double value = sum(goal.constituent, false);
            EXPECT_GE(value, goal.low.value_or(0) * (1 - kSlack)) << goal.constituent.symbol();
            EXPECT_LE(value, goal.high.value_or(1) * (1 + kSlack)) << goal.constituent.symbol();
        }
        for (const auto& ceiling : target.ceilings) {
            EXPECT_LE(sum(ceiling.constituent, true), ceiling.high * (1 + kSlack))
                << ceiling.constituent.symbol();
        }
        // The purified water of the example is neutral to its printed digits: round-off is 1e-15,
        // 1e-7 of the charge is what its rounding leaves.
        EXPECT_NEAR(r.solution.water.charge_balance_percent, 0, 1e-5) << name;
        const auto used =
            std::count_if(r.solution.dose_kg_per_kg.begin(), r.solution.dose_kg_per_kg.end(),
                          [](double x) { return x > 0; });
        EXPECT_LE(used, target.limits.most_materials.value_or(300)) << name;
        EXPECT_NEAR(r.g_per_kg_water(0.01), 10 / (1 - salt), 1e-9);
    }
}

TEST(SolveRecipe, OrderOfTheCatalogueChangesNothing) {
    RecipeRequest turned = request("raised.toml");
    turned.materials = {document(reversed_catalogue(), "turned.toml")};
    const auto first = doses(report_of(request("raised.toml")));
    const auto again = doses(report_of(turned));
    ASSERT_EQ(first.size(), again.size());
    for (const auto& [label, dose] : first) {
        EXPECT_NEAR(again.at(label), dose, 1e-9) << label;
    }
}

TEST(SolveRecipe, AnImpossibleTargetIsAReportWithItsReason) {
    const RecipeReport r = report_of(request("impossible.toml"));
    EXPECT_FALSE(r.feasible());
    EXPECT_EQ(r.solution.verdict, Verdict::Infeasible);
    ASSERT_TRUE(r.conflict.has_value());
    EXPECT_THAT(r.conflict->smallest_set, testing::Contains(HasSubstr("K ")));
    EXPECT_EQ(r.robustness.draws, 0U);
}

// Two materials cannot make seawater; three dozen can. Nothing of the recipe that breaks the limit
// may be reported as if it were one.
TEST(SolveRecipe, WhatOnlyALimitOfNumbersForbidsIsReportedWithoutARecipe) {
    RecipeRequest asked = request("natural.toml");
    std::string text = text_of("natural.toml");
    const auto limits = text.find("[limits]");
    if (limits != std::string::npos) {
        text = text.substr(0, limits);
    }
    asked.target = document(text + "\n[limits]\nmost_materials = 2\n", "two.toml");
    const RecipeReport r = report_of(asked);
    EXPECT_FALSE(r.feasible());
    EXPECT_THAT(codes(r), testing::Contains("whole_numbers"));
    EXPECT_EQ(r.robustness.draws, 0U) << "no draws about a recipe that is none";
    for (const auto& spread : r.robustness.ratios) {
        EXPECT_TRUE(std::isfinite(spread.u));
    }
}

TEST(SolveRecipe, LotsReplaceTheCatalogueAndOnlyAcceptedOnes) {
    RecipeRequest asked = request("raised.toml");
    asked.lots = document(text_of("lots.toml"), "lots.toml");
    const RecipeReport r = report_of(asked);
    ASSERT_TRUE(r.feasible());
    EXPECT_FALSE(r.changes.empty());
    EXPECT_EQ(r.standing_name, "the recipe from catalogue values");
    std::map<std::string, std::string> state;
    const auto read = bw::io::read_lots(*asked.lots);
    for (const auto& lot : read.value()) {
        state[lot.differs.lot] = lot.state;
    }
    int weighed = 0;
    for (const auto& s : r.supplies) {
        if (!s.material.lot.empty()) {
            ++weighed;
            EXPECT_EQ(state.at(s.material.lot), "accepted") << s.label();
        }
    }
    EXPECT_GE(weighed, 5);
    EXPECT_TRUE(std::any_of(state.begin(), state.end(), [](const auto& s) {
        return s.second != "accepted";
    })) << "else this case shows nothing";
    for (const WeighingChange& change : r.changes) {
        const double dose = r.solution.dose_kg_per_kg[static_cast<std::size_t>(change.supply)];
        EXPECT_NEAR(change.adjusted_g_per_kg_water, r.g_per_kg_water(dose), 1e-12);
    }
    // Unknown material, unknown number, and a lot that is on hold are refused.
    asked.chosen_lots = {{"sodium chloride", "no such lot"}};
    EXPECT_EQ(solve_recipe(asked).error().code, bw::ProblemCode::UnknownName);
    asked.chosen_lots.clear();
    asked.lots = document(
        "format='brinewright/1'\nkind='lots'\n[[lot]]\nmaterial='sodium chlorid'\n"
        "number='1'\n",
        "lots.toml");
    const auto unknown = solve_recipe(asked);
    ASSERT_FALSE(unknown.has_value());
    EXPECT_THAT(unknown.error().message, HasSubstr("did you mean 'sodium chloride'?"));
    asked.lots = document(
        "format='brinewright/1'\nkind='lots'\n[[lot]]\nmaterial='sodium chloride'\n"
        "number='1'\nstate='on hold'\n",
        "lots.toml");
    asked.chosen_lots = {{"sodium chloride", "1"}};
    EXPECT_EQ(solve_recipe(asked).error().code, bw::ProblemCode::Refused);
}

// 0.2 mol/kg of NaCl and its dissolved mass with the weights of 2005: 0.2 x 58.44276928 g.
const std::string kTarget =
    "format='brinewright/1'\nkind='target'\nname='t'\nsalinity='11.688553856 "
    "g/kg'\nsalinity_low='1 g/kg'\n"
    "salinity_high='40 g/kg'\n[[constituent]]\nsymbol='Na'\ntarget='200 mmol/kg'\n";
const std::string kMaterials = "format='brinewright/1'\nkind='materials'\n";

RecipeRequest small(const std::string& materials) {
    RecipeRequest out;
    out.target = document(kTarget, "t.toml");
    out.materials = {document(kMaterials + materials, "m.toml")};
    out.draws = 100;
    return out;
}

TEST(SolveRecipe, CurrenciesMayNotBeMixed) {
    const std::string eur = "[[material]]\nname='a'\nformula='NaCl'\nprice='1 EUR/kg'\n";
    const auto mixed =
        solve_recipe(small(eur + "[[material]]\nname='b'\nformula='KCl'\nprice='1 USD/kg'\n"));
    ASSERT_FALSE(mixed.has_value());
    EXPECT_THAT(mixed.error().message, testing::AllOf(HasSubstr("EUR"), HasSubstr("USD")));
    EXPECT_EQ(report_of(small(eur)).currency, "EUR");
}

TEST(SolveRecipe, TwoFilesMayNotNameAMaterialTwice) {
    RecipeRequest asked = small("[[material]]\nname='a'\nformula='NaCl'\n");
    asked.materials.push_back(
        document(kMaterials + "[[material]]\nname='a'\nformula='KCl'\n", "n.toml"));
    const auto out = solve_recipe(asked);
    ASSERT_FALSE(out.has_value());
    EXPECT_EQ(out.error().code, bw::ProblemCode::DuplicateName);
    EXPECT_EQ(out.error().place.file, "n.toml");
    EXPECT_THAT(out.error().message, HasSubstr("m.toml:4"));
}

TEST(SolveRecipe, MissingAssaysAndPricesAreSaid) {
    const RecipeReport r = report_of(small("[[material]]\nname='a'\nformula='NaCl'\n"));
    EXPECT_THAT(codes(r), testing::IsSupersetOf({"no_prices", "assay_not_stated"}));
    const RecipeReport some =
        report_of(small("[[material]]\nname='a'\nformula='NaCl'\nassay='100 %'\nprice='1 EUR/kg'\n"
                        "[[material]]\nname='b'\nformula='KCl'\nassay='100 %'\n"));
    EXPECT_THAT(codes(some), testing::Contains("unpriced"));
    EXPECT_THAT(codes(some), testing::Not(testing::Contains("assay_not_stated")));
}

TEST(SolveRecipe, AStandingRecipeIsStayedNear) {
    RecipeRequest asked = small(
        "[[material]]\nname='cheap'\nformula='NaCl'\nassay='100 %'\nprice='0.1 EUR/kg'\n"
        "[[material]]\nname='dear'\nformula='NaCl'\nassay='100 %'\nprice='1 EUR/kg'\n");
    EXPECT_DOUBLE_EQ(doses(report_of(asked)).at("dear"), 0);
    // 0.2 mol/kg of finished water are 11.688 g of NaCl beside 988.312 g of water.
    asked.standing = document(
        "format='brinewright/1'\nkind='recipe'\nname='last'\n[[part]]\n"
        "material='dear'\ng_per_kg_purified_water=11.82622654\n",
        "last.toml");
    const RecipeReport r = report_of(asked);
    EXPECT_EQ(r.standing_name, "last");
    // The typed dose has ten digits; the target moves it by less than 1e-8.
    EXPECT_NEAR(doses(r).at("dear"), 0.2 * 58.440e-3, 1e-8 * 0.2 * 58.440e-3);
    ASSERT_FALSE(r.changes.empty());
    EXPECT_NEAR(r.changes[0].standing_g_per_kg_water, 11.82622654, 1e-9);
    asked.standing = document(
        "format='brinewright/1'\nkind='recipe'\nname='last'\n[[part]]\n"
        "material='gone'\ng_per_kg_purified_water=1\n",
        "last.toml");
    EXPECT_EQ(solve_recipe(asked).error().code, bw::ProblemCode::UnknownName);
}

// Without packages and steps the recipe is the linear one: whatever whole numbers cost is gone.
TEST(SolveRecipe, InFreeSharesLeavesWhatAsksForWholeNumbersAside) {
    RecipeRequest asked = request("raised.toml");
    const RecipeReport whole = report_of(asked);
    asked.free_shares = true;
    const RecipeReport free = report_of(asked);
    ASSERT_TRUE(whole.feasible());
    ASSERT_TRUE(free.feasible());
    const auto told = [](const RecipeReport& r) {
        return std::any_of(r.notices.begin(), r.notices.end(),
                           [](const auto& n) { return n.code == "free_shares"; });
    };
    EXPECT_FALSE(told(whole));
    EXPECT_TRUE(told(free));
    EXPECT_FALSE(free.target.batch || free.target.limits.most_materials ||
                 free.target.limits.smallest_dose_kg_per_kg);
    EXPECT_TRUE(bw::recipe::needs_whole_numbers(whole.target, whole.supplies));
    EXPECT_FALSE(bw::recipe::needs_whole_numbers(free.target, free.supplies));
    const auto blend = [](const RecipeReport& r) {
        double sum = 0;
        for (const double dose : r.solution.dose_kg_per_kg) {
            sum += dose;
        }
        return sum;
    };
    EXPECT_NEAR(blend(free), blend(whole), 0.01 * blend(whole));
    EXPECT_NE(doses(free), doses(whole));
}

}  // namespace
