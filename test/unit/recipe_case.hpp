// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "recipe/target.hpp"

/// Small recipes for the tests of the recipe floor.
namespace bw::recipe_case {

/// A salt that is all of its formula, but for `impurities`.
inline recipe::Supply supply(std::string name, std::string formula,
                             std::optional<double> price_per_kg = std::nullopt,
                             std::vector<matter::Component> impurities = {}) {
    recipe::Supply out;
    out.material.name = std::move(name);
    out.material.formula = std::move(formula);
    out.material.assay = matter::Assay{matter::Stated::exactly(1), "", std::nullopt};
    out.material.impurities = std::move(impurities);
    out.material.price_per_kg = price_per_kg;
    out.make_up = matter::make_up(out.material).value();
    return out;
}

/// In mol per kg of finished water, shown in mmol/kg.
inline recipe::ConstituentGoal goal(std::string_view symbol, std::optional<double> target,
                                    std::optional<double> low, std::optional<double> high,
                                    int priority = recipe::kDefaultPriority) {
    constexpr double kMmolPerMol = 1000;
    recipe::ConstituentGoal out;
    out.constituent = matter::constituent(symbol);
    out.target = target;
    out.low = low;
    out.high = high;
    out.priority = priority;
    out.shown.unit = unit::find_unit("mmol/kg").value();
    out.shown_per_mol_per_kg = kMmolPerMol;
    return out;
}

/// Any salinity will do; it is served last.
inline recipe::Target wanting(std::vector<recipe::ConstituentGoal> goals) {
    recipe::Target out;
    out.name = "case";
    out.salinity = {10, 1e-3, 300, 9, std::nullopt};
    out.constituents = std::move(goals);
    return out;
}

}  // namespace bw::recipe_case
