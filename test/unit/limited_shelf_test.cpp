// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// A recipe within limits on the water against recipes from fewer materials: whatever a smaller
// shelf makes, the larger can make too.
#include <algorithm>
#include <fstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "recipe/explain.hpp"
#include "service/solve_recipe.hpp"
#include "service/water_limits.hpp"

namespace {

using namespace bw::service;
using bw::recipe::Solution;
using bw::recipe::Supply;
using bw::recipe::Verdict;

std::string text_of(const std::string& name) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/examples/works/" + name);
    EXPECT_TRUE(in.good()) << name;
    return {std::istreambuf_iterator<char>(in), {}};
}

RecipeReport raised_with(const std::string& limits) {
    std::string text = text_of("raised.toml");
    text.insert(text.find("[limits]") + 9, limits);
    RecipeRequest asked;
    const auto target = bw::io::parse_document(text, "raised.toml");
    const auto materials = bw::io::parse_document(text_of("materials.toml"), "materials.toml");
    EXPECT_TRUE(target && materials);
    asked.target = *target;
    asked.materials = {*materials};
    asked.draws = 1000;
    auto out = solve_recipe(asked);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out ? std::move(*out) : RecipeReport{};
}

/// EUR per t from the shelf without some of its materials; 0 when that makes no recipe.
double cost_without(const RecipeReport& r, const std::vector<std::size_t>& missing) {
    std::vector<Supply> shelf;
    for (std::size_t j = 0; j < r.supplies.size(); ++j) {
        if (std::find(missing.begin(), missing.end(), j) == missing.end()) {
            shelf.push_back(r.supplies[j]);
        }
    }
    bw::recipe::Target target = r.target;
    target.cuts.clear();
    const auto found = solve_within_limits(target, shelf, {}, false);
    EXPECT_TRUE(found.has_value());
    return found && found->solution.verdict == Verdict::Solved
               ? bw::recipe::cost_per_t_blend(shelf, found->solution)
               : 0;
}

// A hair less of a miss that the limits force can cost several per cent: it is not to be had at
// that price.
TEST(LimitedShelf, MoreMaterialsMakeNoDearerRecipe) {
    for (const char* limits :
         {"omega_aragonite = 8.0\nchance_inside = \"90 %\"\n",
          "omega_aragonite = 8.2\nchance_inside = \"92 %\"\n", "omega_aragonite = 8.0\n"}) {
        const RecipeReport r = raised_with(limits);
        ASSERT_EQ(r.solution.verdict, Verdict::Solved) << limits;
        const double full = bw::recipe::cost_per_t_blend(r.supplies, r.solution);
        std::vector<std::size_t> used;
        for (std::size_t j = 0; j < r.supplies.size(); ++j) {
            if (r.solution.dose_kg_per_kg[j] > 0) {
                used.push_back(j);
            }
        }
        int compared = 0;
        for (std::size_t i = 0; i < used.size(); ++i) {
            for (const auto& missing :
                 {std::vector{used[i]}, std::vector{used[i], used[(i + 3) % used.size()]}}) {
                const double less = cost_without(r, missing);
                constexpr double kSame = 1.001;
                EXPECT_TRUE(less == 0 || full <= less * kSame)
                    << limits << r.supplies[used[i]].label() << ": " << full << " against " << less;
                compared += less > 0 ? 1 : 0;
            }
        }
        EXPECT_GE(compared, 6) << limits;
    }
}

// What the page lists beside the recipe holds the limits too, and is not cheaper for as much.
TEST(LimitedShelf, OtherRecipesHoldTheLimitsAndAreNotTheBetterAnswer) {
    int listed = 0;
    for (const char* limits :
         {"omega_aragonite = 8.0\nsafe_time = \"60 h\"\nchance_inside = \"90 %\"\n",
          "omega_aragonite = 8.2\nchance_inside = \"92 %\"\n", "omega_aragonite = 8.0\n"}) {
        const RecipeReport r = raised_with(limits);
        ASSERT_EQ(r.solution.verdict, Verdict::Solved) << limits;
        for (const bw::recipe::Alternative& a : r.alternatives) {
            EXPECT_GT(a.cost_change, -1e-3) << limits << a.without;
            bw::recipe::Target target = r.target;
            const auto holds = holds_curved_limits(target, r.supplies, a.dose_kg_per_kg);
            ASSERT_TRUE(holds.has_value());
            EXPECT_TRUE(*holds) << limits << a.without;
            ++listed;
        }
    }
    EXPECT_GE(listed, 1);
}

}  // namespace
