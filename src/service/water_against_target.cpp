// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/water_against_target.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/target_file.hpp"
#include "recipe/evaluate.hpp"
#include "recipe/model.hpp"
#include "service/prediction.hpp"
#include "service/recipe_versions.hpp"

namespace bw::service {
namespace {

/// Chance that a normal variable lies within limits.
double chance_within(const GoalRow& row, double u) {
    const double root = u * std::sqrt(2.0);
    const double above = row.low ? std::erfc((*row.low - row.achieved) / root) / 2 : 1;
    const double over = row.high ? std::erfc((*row.high - row.achieved) / root) / 2 : 0;
    return above - over;
}

void judge(GoalRow& row) {
    row.inside = recipe::is_inside(row.achieved, row.low, row.high);
    if (row.u && *row.u > 0) {
        row.chance_inside = chance_within(row, *row.u);
    }
}

GoalRow row_of(const recipe::ConstituentGoal& goal, const works::Predicted& p) {
    const double f = goal.shown_per_mol_per_kg;
    const auto in_unit = [&](std::optional<double> v) {
        return v ? std::optional<double>(*v * f) : std::nullopt;
    };
    GoalRow row;
    row.what = p.symbol;
    row.unit = recipe::unit_text(goal.shown);
    row.target = in_unit(goal.target);
    row.low = in_unit(goal.low);
    row.high = in_unit(goal.high);
    row.achieved = p.mol_per_kg * f;
    row.u = p.u_mol_per_kg * f;
    row.per_mol_per_kg = f;
    row.certificate = shown_unit(p.symbol, goal.target.value_or(p.mol_per_kg));
    judge(row);
    return row;
}

Result<std::vector<works::RecipeVersion>> all_of(const store::Books& books,
                                                 const std::string& product) {
    BW_TRY(kept, versions_of(books, product));
    std::vector<works::RecipeVersion> out;
    out.reserve(kept.size());
    for (auto& one : kept) {
        out.push_back(std::move(one.is));
    }
    return out;
}

}  // namespace

Result<std::vector<GoalRow>> water_against_target(const works::RecipeVersion& version,
                                                  std::span<const works::Predicted> water) {
    BW_TRY(documents, documents_of(version));
    BW_TRY(target, io::read_target(documents.target));
    matter::Amounts amounts;
    for (const works::Predicted& p : water) {
        BW_TRY(c, matter::require_constituent(p.symbol));
        amounts[c] = p.mol_per_kg;
    }
    std::vector<GoalRow> out;
    const recipe::SalinityGoal& salinity = target.salinity;
    GoalRow dissolved{"salinity",
                      "g/kg",
                      salinity.target_g_per_kg,
                      salinity.low_g_per_kg,
                      salinity.high_g_per_kg,
                      amounts.dissolved_mass_g(),
                      std::nullopt};
    judge(dissolved);
    out.push_back(std::move(dissolved));
    for (const recipe::ConstituentGoal& goal : target.constituents) {
        const auto predicted = std::find_if(water.begin(), water.end(), [&](const auto& p) {
            return p.symbol == goal.constituent.symbol();
        });
        if (predicted != water.end()) {
            out.push_back(row_of(goal, *predicted));
        }
    }
    for (const recipe::RatioGoal& goal : target.ratios) {
        GoalRow row{goal.name() + (goal.by_mass ? " by mass" : " by moles"),
                    "",
                    goal.target,
                    goal.low,
                    goal.high,
                    goal.in(amounts),
                    std::nullopt};
        judge(row);
        out.push_back(std::move(row));
    }
    return out;
}

Result<std::vector<GoalRow>> water_against_target(const works::RecipeVersion& version) {
    BW_TRY(rows, water_against_target(version, version.water));
    BW_TRY(parts, parts_of(version));
    const recipe::Robustness spread =
        drawn_spread(parts.target, parts.supplies,
                     standing_solution(parts.target, parts.supplies,
                                       doses_of_parts(parts.g_per_kg_purified_water)),
                     kUsualDraws, kUsualSeed);
    const auto take = [](GoalRow& row, const recipe::GoalSpread& of, double shown) {
        row.u = of.u * shown;
        row.chance_inside = of.inside_monte_carlo;
    };
    std::size_t row = 0;
    take(rows[row++], spread.salinity, 1);
    for (std::size_t i = 0; row < rows.size() && i < parts.target.constituents.size(); ++i) {
        const recipe::ConstituentGoal& goal = parts.target.constituents[i];
        if (rows[row].what == goal.constituent.symbol()) {
            take(rows[row++], spread.constituents[i], goal.shown_per_mol_per_kg);
        }
    }
    for (std::size_t i = 0; row < rows.size() && i < parts.target.ratios.size(); ++i) {
        take(rows[row++], spread.ratios[i], 1);
    }
    return rows;
}

Succession succession_of(const works::RecipeVersion& version,
                         std::span<const works::RecipeVersion> of_product) {
    Succession out;
    std::string newest;
    for (const works::RecipeVersion& other : of_product) {
        if (other.number == version.number) {
            continue;
        }
        if (other.state == works::VersionState::InUse && !version.approved) {
            out.replaces = other.id();
        }
        // One version is in use at a time: it was the last one approved before this.
        if (version.approved && other.approved && other.approved->at < version.approved->at &&
            other.state == works::VersionState::Retired && other.approved->at > newest) {
            newest = other.approved->at;
            out.replaced = other.id();
        }
    }
    return out;
}

Result<Succession> succession_of(const store::Books& books, const works::RecipeVersion& version) {
    BW_TRY(all, all_of(books, version.product));
    return succession_of(version, all);
}

std::string retired_words(const works::RecipeVersion& version,
                          std::span<const works::RecipeVersion> of_product) {
    if (version.state != works::VersionState::Retired) {
        return "";
    }
    for (const works::RecipeVersion& other : of_product) {
        if (other.state == works::VersionState::InUse) {
            return fmt::format("recipe version {} is retired: {} is in use in its place",
                               version.id(), other.id());
        }
    }
    return fmt::format("recipe version {} is retired, and none of {} is in use in its place",
                       version.id(), version.product);
}

Result<std::string> retired_words(const store::Books& books, const works::RecipeVersion& version) {
    BW_TRY(all, all_of(books, version.product));
    return retired_words(version, all);
}

}  // namespace bw::service
