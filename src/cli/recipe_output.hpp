// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/program.hpp"
#include "io/recipe_file.hpp"
#include "io/sheet.hpp"
#include "service/solve_recipe.hpp"

namespace bw::cli {

using base::kProgramVersion;

/// The recipe for the wall: tables and sentences.
[[nodiscard]] std::string recipe_text(const service::RecipeReport& report, bool brief);
/// The recipe for other programs, as docs/reference/commands.md describes it.
[[nodiscard]] std::string recipe_json(const service::RecipeReport& report);
/// The same as tables: recipe, water, budget.
[[nodiscard]] std::vector<io::Sheet> recipe_sheets(const service::RecipeReport& report);
[[nodiscard]] io::RecipeFile recipe_file(const service::RecipeReport& report);

/// The limits on the finished water that a report has: each beside what the recipe makes of it;
/// empty where only a chance is asked for.
[[nodiscard]] std::string limits_table(const service::RecipeReport& report);
/// What they cost, and what stands behind them.
[[nodiscard]] std::vector<std::string> limit_sentences(const service::RecipeReport& report);

/// The verdict on a predicted value in words: "within", "too close to call" or "outside".
[[nodiscard]] std::string verdict_words(bool inside, double chance_inside);

/// Rows that text, JSON and sheets share.
struct PartRow {
    std::string material, lot, formula;
    double g_per_kg_purified_water = 0;
    double share_percent = 0;
    std::optional<double> cost_per_t_blend;
    std::optional<double> weighing_kg;  ///< in the batch
};
[[nodiscard]] std::vector<PartRow> part_rows(const service::RecipeReport& report);

struct ConstituentRow {
    std::string symbol, unit;
    bool asked = true;  ///< false for what only came along
    std::optional<double> target, low, high;
    double achieved = 0;
    bool inside = true;
    std::optional<double> deviation_percent;
    double standard_uncertainty = 0;
    double chance_inside = 1;
};
[[nodiscard]] std::vector<ConstituentRow> constituent_rows(const service::RecipeReport& report);

struct RatioRow {
    std::string name, basis;
    std::optional<double> low, high;
    double achieved = 0;
    bool inside = true;
    double standard_uncertainty = 0;
    double chance_inside = 1;
};
[[nodiscard]] std::vector<RatioRow> ratio_rows(const service::RecipeReport& report);

struct CeilingRow {
    std::string symbol, unit;
    double high = 0;
    double expected = 0;
    double worst = 0;
    bool inside = true;
};
[[nodiscard]] std::vector<CeilingRow> ceiling_rows(const service::RecipeReport& report);

/// The material that brings a share, or the purified water.
[[nodiscard]] std::string source_of(const service::RecipeReport& report,
                                    const recipe::BudgetShare& share);

[[nodiscard]] std::optional<double> cost_per_t_blend(const service::RecipeReport& report);
/// Sentences that say why there is no recipe; empty when there is one.
[[nodiscard]] std::vector<std::string> conflict_sentences(const service::RecipeReport& report);

}  // namespace bw::cli
