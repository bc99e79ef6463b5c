// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Recipes with a chance for every band against another method (test/golden/chance_recipes.json,
// made by tools/reference/chance_recipes.py; versions stand in the file): sequential quadratic
// programming on the chance as it stands. Tolerance: 1e-4 of the cost. The reference agrees with
// itself to 1e-7; ours draws its last tangents for up to a fiftieth of the chance to miss less,
// which moves u, and by it the margin, by some thousandths of the margin's few per cent.
#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "service/water_limits.hpp"

namespace {

using namespace bw::recipe;
using bw::matter::constituent;
using Json = nlohmann::json;

constexpr std::array kBands{"Ca", "Mg", "K", "SO4"};

/// The problem's materials, and one without a price that makes up the salt.
std::vector<Supply> supplies_of(const Json& p) {
    std::vector<Supply> out;
    for (std::size_t j = 0; j < p["price"].size(); ++j) {
        Supply s;
        s.material.name = "m" + std::to_string(j);
        s.material.price_per_kg = p["price"][j].get<double>();
        bw::matter::UncertainInput assay;
        assay.kind = bw::matter::UncertainInput::Kind::Assay;
        assay.name = "assay";
        assay.stated = bw::matter::Stated::normal(1, p["u"][j].get<double>());
        for (std::size_t i = 0; i < kBands.size(); ++i) {
            s.make_up.mol_per_kg[constituent(kBands[i])] = p["amounts"][i][j].get<double>();
        }
        s.make_up.main_mol_per_kg = s.make_up.mol_per_kg;
        assay.effect = s.make_up.mol_per_kg;
        s.make_up.inputs = {assay};
        out.push_back(s);
    }
    Supply filler;
    filler.material.name = "z";
    filler.material.price_per_kg = 0;
    filler.make_up.mol_per_kg[constituent("Na")] = 17;
    filler.make_up.mol_per_kg[constituent("Cl")] = 17;
    out.push_back(filler);
    return out;
}

TEST(ChanceRecipesGolden, SameCostAsTheReference) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/chance_recipes.json");
    ASSERT_TRUE(in);
    const Json golden = Json::parse(in);
    int compared = 0;
    double largest = 0;
    for (const Json& p : golden["problems"]) {
        const auto supplies = supplies_of(p);
        Target target;
        target.salinity = {35, 1, 300, 9, std::nullopt};
        target.limits.chance_inside = p["chance"].get<double>();
        for (std::size_t i = 0; i < kBands.size(); ++i) {
            ConstituentGoal goal;
            goal.constituent = constituent(kBands[i]);
            goal.low = p["low"][i].get<double>();
            goal.high = p["high"][i].get<double>();
            goal.aim = Aim::Band;
            target.constituents.push_back(goal);
        }
        const auto found = bw::service::solve_within_limits(target, supplies, {}, false);
        ASSERT_TRUE(found.has_value()) << compared;
        ASSERT_EQ(found->solution.verdict, Verdict::Solved) << compared;
        double cost = 0;
        for (std::size_t j = 0; j < p["price"].size(); ++j) {
            cost += p["price"][j].get<double>() * found->solution.dose_kg_per_kg[j];
        }
        const double reference = p["cost"];
        EXPECT_NEAR(cost, reference, 1e-4 * reference) << compared;
        largest = std::max(largest, std::abs(cost / reference - 1));
        ++compared;
    }
    EXPECT_EQ(compared, 12);
    RecordProperty("largest_difference", std::to_string(largest * 1e6) + "e-6");
}

}  // namespace
