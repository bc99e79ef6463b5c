// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the example works was asked to hold, and the bands of its raised salt.
#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "figure.hpp"
#include "io/material_file.hpp"
#include "service/solve_recipe.hpp"

namespace {

using namespace bw::service;

bw::io::Document example(const std::string& name) {
    auto out = bw::io::read_document(std::string(BW_SOURCE_DIR) + "/examples/works/" + name);
    EXPECT_TRUE(out.has_value()) << (out ? "" : out.error().text());
    return out.value_or(bw::io::Document{});
}

TEST(ExampleFigures, MaterialsAndLotsOfEachMajor) {
    const auto materials_file = example("materials.toml");
    const auto lots_file = example("lots.toml");
    const auto materials = bw::io::read_materials(materials_file);
    const auto lots = bw::io::read_lots(lots_file);
    ASSERT_TRUE(materials && lots);
    bw::test::record({"Recipes", "materials of the example works", "18 or more",
                      fmt::format("{}", materials->size()), materials->size() >= 18});
    const std::vector<std::string> majors{"sodium chloride",
                                          "magnesium chloride hexahydrate",
                                          "calcium chloride dihydrate",
                                          "magnesium sulfate heptahydrate",
                                          "potassium chloride",
                                          "sodium sulfate anhydrous",
                                          "sodium hydrogencarbonate"};
    std::ptrdiff_t fewest = 1000;
    for (const std::string& major : majors) {
        fewest = std::min(fewest, std::count_if(lots->begin(), lots->end(), [&](const auto& lot) {
                              return lot.differs.name == major;
                          }));
    }
    bw::test::record({"Recipes", "lots of each major salt of the example works", "three",
                      fmt::format("{} or more of each of {} salts", fewest, majors.size()),
                      fewest >= 3});
}

TEST(ExampleFigures, TheRaisedSaltLiesInItsBands) {
    RecipeRequest asked;
    asked.target = example("raised.toml");
    asked.materials = {example("materials.toml")};
    asked.draws = 2000;
    asked.explain = false;
    const auto report = solve_recipe(asked);
    ASSERT_TRUE(report.has_value());
    double salt = 0;
    for (const double dose : report->solution.dose_kg_per_kg) {
        salt += dose;
    }
    struct Band {
        double low, high;
    };
    std::string found;
    const std::map<std::string, Band> bands{
        {"Ca", {440, 450}}, {"Mg", {1340, 1350}}, {"alkalinity", {11, 12}}};
    for (const auto& goal : report->target.constituents) {
        const std::string symbol(goal.constituent.symbol());
        const auto band = bands.find(symbol);
        if (band == bands.end()) {
            continue;
        }
        double amount = (1 - salt) * report->target.purified_water[goal.constituent];
        for (std::size_t j = 0; j < report->supplies.size(); ++j) {
            amount += report->solution.dose_kg_per_kg[j] *
                      report->supplies[j].make_up.mol_per_kg[goal.constituent];
        }
        ASSERT_TRUE(goal.high.has_value());
        const double value = amount / *goal.high * band->second.high;  // in the unit of the band
        EXPECT_GE(value, band->second.low * (1 - 1e-9)) << symbol;
        EXPECT_LE(value, band->second.high * (1 + 1e-9)) << symbol;
        found += fmt::format("{}{} {:.4g}", found.empty() ? "" : ", ", symbol, value);
    }
    bw::test::record({"Recipes", "raised salt of the example works, as solved, at 25 degC",
                      "Ca 440 to 450 and Mg 1340 to 1350 mg/L, alkalinity 11 to 12 dKH", found,
                      !HasFailure()});
}

}  // namespace
