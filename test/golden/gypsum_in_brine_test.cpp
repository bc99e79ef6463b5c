// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Gypsum, and gypsum with halite, in brines of sodium chloride against an open package with the
// same rows (test/golden/gypsum_in_brine.json, made by tools/reference/gypsum_in_brine.py). No
// table of measured solubilities was at hand: this says that the equations are solved right, not
// that the rows are. Pure water has a published value too (test/check/equilibrium.toml).
//
// Tolerance: the package's slope of the limiting law is up to 1e-4 apart, 1e-3 in ln gamma of each
// divalent ion (ion_interaction_test.cpp), which is 1e-3 of a solubility; twice that is asked.
#include <cmath>
#include <fstream>
#include <map>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "brine/solid_equilibrium.hpp"
#include "figure.hpp"
#include "matter/constituent.hpp"

namespace {

using namespace bw;
using namespace bw::brine;
using Json = nlohmann::json;

constexpr double kWater = 0.01801528;  // kg/mol
constexpr double kTolerance = 2e-3;

/// A kilogram of water with sodium chloride and more gypsum than dissolves, and its crystal water.
WaterInput brine_with_gypsum(double celsius, double chloride, double gypsum) {
    WaterInput out;
    out.temperature = unit::Celsius(celsius);
    const std::map<std::string_view, double> mol{
        {"Na", chloride}, {"Cl", chloride}, {"Ca", gypsum}, {"SO4", gypsum}};
    double kg = 1 + 2 * gypsum * kWater;
    for (const auto& [name, amount] : mol) {
        const auto c = matter::constituent(name);
        out.mol_per_kg[c] = amount;
        kg += amount * matter::dissolved_molar_mass_g(c) / 1000;
    }
    out.mol_per_kg.scale(1 / kg);
    out.closing = {{{Closure::PhTotal, 7}, {Closure::Carbon, 0}}};
    return out;
}

TEST(GypsumInBrineGolden, AsMuchDissolvesAsInTheReference) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/gypsum_in_brine.json");
    ASSERT_TRUE(in);
    const Json golden = Json::parse(in);
    ASSERT_GE(golden["points"].size(), 50U);
    double worst = 0;
    for (const Json& point : golden["points"]) {
        const double celsius = point["celsius"];
        const bool halite = point["solids"].size() == 2;
        const double start = halite ? 7 : point["nacl_mol_per_kg_start"].get<double>();
        const auto model = WaterModel::at(unit::Celsius(celsius));
        ASSERT_TRUE(model);
        std::vector<std::string_view> solids{"gypsum"};
        if (halite) {
            solids.emplace_back("halite");
        }
        const auto found = equilibrate(*model, brine_with_gypsum(celsius, start, 0.1), solids);
        ASSERT_TRUE(found) << point.dump();
        const double water = 1 - found->state.dissolved_g_per_kg / 1000;
        for (const std::string_view name : {"Ca", "SO4", "Na", "Cl"}) {
            const double molal = found->water.mol_per_kg[matter::constituent(name)] / water;
            const double expected = point[std::string(name)];
            EXPECT_NEAR(molal, expected, kTolerance * expected) << name << ' ' << point.dump();
            worst = std::max(worst, expected > 0 ? std::abs(molal / expected - 1) : 0);
        }
        EXPECT_NEAR(std::log10(found->state.water_activity), point["log_water"], 5e-5);
    }
    RecordProperty("worst_relative", testing::PrintToString(worst));
    bw::test::record({"Waters",
                      fmt::format("gypsum, and gypsum with halite, dissolved in brines of sodium "
                                  "chloride, against an open package, {} points",
                                  golden["points"].size()),
                      "the same to 0.2 %",
                      bw::test::share_used(worst, kTolerance) +
                          "; both use the same coefficients, and no table of measured solubilities "
                          "was at hand: this holds the solving, not the coefficients",
                      worst <= kTolerance});
}

}  // namespace
