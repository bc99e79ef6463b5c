// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// vat plan, correct and mix: fields that scripts rely on, and what they are.
#include <cmath>

#include <nlohmann/json.hpp>

#include "command/bad_case.hpp"
#include "command/water_answer.hpp"

namespace {

using namespace bw::command_test;

TEST(Vat, PlanGivesTheWeighings) {
    const Json got = json_of(
        {"vat", "plan", "--salinity", "35", "--volume", "1000 L", "--anhydrous", "95 +- 0.3 %"});
    EXPECT_NEAR(got["blend_kg"].get<double>(), 35.9858 / 0.95, 1e-3);
    EXPECT_NEAR(got["purified_water_kg"].get<double>() + got["blend_kg"].get<double>(),
                got["finished_kg"].get<double>(), 1e-9);
    EXPECT_NEAR(got["finished_L"].get<double>(), 1000, 1e-9);
    EXPECT_GT(got["standard_uncertainty_g_per_kg"].get<double>(), 0.1);
    const Json again = json_of({"vat", "plan", "--salinity", "35", "--purified",
                                got["purified_water_L"].dump() + " L", "--anhydrous", "95 %"});
    EXPECT_NEAR(again["finished_L"].get<double>(), 1000, 1e-6);
}

// By differences: the plan of a blend that is one standard uncertainty drier.
TEST(Vat, EveryWeighingHasItsUncertainty) {
    const auto plan = [](const std::string& share, const std::string& by, const std::string& of) {
        return json_of({"vat", "plan", "--salinity", "35", by, of, "--anhydrous", share});
    };
    for (const auto& [by, of] : std::vector<std::pair<std::string, std::string>>{
             {"--volume", "1000 L"}, {"--purified", "1000 kg"}}) {
        SCOPED_TRACE(by);
        const Json got = plan("95 +- 0.01 %", by, of);
        const Json drier = plan("95.01 %", by, of);
        const auto moved = [&](const char* key) {
            return std::abs(drier[key].get<double>() - got[key].get<double>());
        };
        const auto part = [&](const char* key) {
            return 100 * moved(key) / got[key].get<double>();
        };
        constexpr double kFirstOrder = 5e-4;
        const auto expect = [&](const char* u, double difference) {
            EXPECT_NEAR(got[u].get<double>(), difference, kFirstOrder * difference + 1e-12) << u;
        };
        expect("blend_standard_uncertainty_kg", moved("blend_kg"));
        expect("purified_water_standard_uncertainty_kg", moved("purified_water_kg"));
        expect("bound_water_standard_uncertainty_kg", moved("bound_water_kg"));
        expect("finished_standard_uncertainty_kg", moved("finished_kg"));
        expect("rate_per_purified_standard_uncertainty_percent", part("g_per_kg_purified_water"));
        expect("rate_per_finished_standard_uncertainty_percent", part("g_per_L_finished"));
    }
    const Outcome text = run_here(
        {"vat", "plan", "--salinity", "35", "--volume", "1000 L", "--anhydrous", "95 +- 0.3 %"});
    for (const char* cell : {"985.46 \u00B1  0.12", "38.44 \u00B1  0.13", "1.89 \u00B1  0.12"}) {
        SCOPED_TRACE(text.out);
        std::string narrow = cell;
        narrow.erase(narrow.find("  "), 1);
        EXPECT_TRUE(text.out.find(cell) != std::string::npos ||
                    text.out.find(narrow) != std::string::npos)
            << cell;
    }
}

// Digits that the uncertainty does not cover are not printed.
TEST(Vat, TheWaysAreToldAsFarAsTheyAreKnown) {
    const Outcome sure =
        run_here({"vat", "correct", "--volume", "1000 L", "--holds", "37", "--wanted", "35"});
    EXPECT_NE(sure.out.find("55.480"), std::string::npos) << sure.out;
    EXPECT_EQ(sure.out.find("1058.705"), std::string::npos) << "finer than any scale";
    const Outcome unsure = run_here(
        {"vat", "correct", "--volume", "1000 L", "--holds", "37 +- 0.3", "--wanted", "35"});
    EXPECT_EQ(unsure.out.find("55.450"), std::string::npos) << unsure.out;
    EXPECT_NE(unsure.out.find("55.5 \u00B1 7.8"), std::string::npos) << unsure.out;
}

TEST(Vat, AShareWithoutUncertaintyIsSaidToCountAsExact) {
    const std::string words = "counts as exact";
    const auto notices = [](const std::string& share) {
        return json_of({"vat", "plan", "--salinity", "35", "--volume", "1000 L", "--anhydrous",
                        share})["notices"]
            .dump();
    };
    EXPECT_NE(notices("95 %").find(words), std::string::npos);
    EXPECT_EQ(notices("95 +- 0.3 %").find(words), std::string::npos);
}

// Worked values as in test/check/instruments.toml.
TEST(Vat, CorrectShowsTheWays) {
    const Json strong =
        json_of({"vat", "correct", "--volume", "1000 L", "--holds", "37", "--wanted", "35"});
    ASSERT_EQ(strong["ways"].size(), 2U);
    EXPECT_EQ(strong["ways"][1]["way"], "water_in_place");
    EXPECT_NEAR(strong["ways"][1]["drain_L"].get<double>(), 55.45, 0.006);
    EXPECT_NEAR(strong["ways"][1]["add_L"].get<double>(), 55.48, 0.006);
    const Json weak = json_of({"vat", "correct", "--mass", "1000 kg", "--holds", "33", "--wanted",
                               "35", "--anhydrous", "95 %", "--concentrate", "150 g/kg"});
    ASSERT_EQ(weak["ways"].size(), 4U);
    EXPECT_NEAR(weak["ways"][0]["add_kg"].get<double>(), 2.197, 6e-4);
    const Json lost =
        json_of({"vat", "correct", "--volume", "1000 L", "--holds", "35", "--evaporated", "20 kg"});
    EXPECT_NEAR(lost["after_loss"]["practical_salinity"].get<double>(), 35.70, 0.006);
    EXPECT_NEAR(lost["top_up_kg"].get<double>(), 20, 1e-12);
    const Json right =
        json_of({"vat", "correct", "--volume", "1000 L", "--holds", "35", "--wanted", "35"});
    EXPECT_TRUE(right["ways"].empty());
}

TEST(Vat, MixWeighsByMass) {
    const Json got = json_of({"vat", "mix", "600 L of 30, at 25 degC", "400 L of 40"});
    EXPECT_NEAR(got["practical_salinity"].get<double>(), 34.018, 6e-4);
    EXPECT_NEAR(got["mixed_L"].get<double>(), 999.99, 6e-3);
}

// A file's water has its own salt and temperature; what it holds is shared by mass. By hand: 100 kg
// with 10 mmol/kg of calcium in 400 kg of seawater of 35 (10.28 mmol/kg).
TEST(Vat, MixTakesWatersFromFiles) {
    const TestFolder folder;
    const std::string file = folder.write("brine.toml", R"(format = "brinewright/1"
kind = "water"
name = "Calcium water"
temperature = "20 degC"
[constituents]
unit = "mmol/kg"
Ca = 10
Na = 300
Cl = 318
alkalinity = 2
pCO2 = "420 uatm"
)");
    const Json alone = json_of({"water", "show", file});
    const Json got = json_of({"vat", "mix", "100 kg of " + file, "400 kg of 35"});
    const double w = alone["salinity_g_per_kg"];
    EXPECT_NEAR(got["salinity_g_per_kg"].get<double>(), (w + 4 * 35.16504) / 5, 1e-9);
    EXPECT_NEAR(got["temperature_degC"].get<double>(), (20 + 4 * 25) / 5.0, 1e-12);
    const Json& holds = got["mol_per_kg"];
    EXPECT_NEAR(holds["Ca"].get<double>(), (0.010 + 4 * 0.010282) / 5, 1e-6);
    EXPECT_NEAR(holds["alkalinity"].get<double>(), (0.002 + 4 * 0.0023) / 5, 4e-5);
    EXPECT_NEAR(holds["Mg"].get<double>() * 5 / 4, 0.0528, 1e-4);
    const std::string told = "composition of natural seawater";
    const auto says = [&](const Json& report) { return report["notices"].dump(); };
    EXPECT_NE(says(got).find(told), std::string::npos);
    // At the temperature asked for, and without a number among them nothing is assumed of one.
    const Json two = json_of({"vat", "mix", "1 kg of " + file + ", at 30 degC", "1 kg of " + file});
    EXPECT_NEAR(two["temperature_degC"].get<double>(), 25, 1e-12);
    // Carbon follows the air's CO2, which is less in the warmer one.
    EXPECT_NEAR(two["salinity_g_per_kg"].get<double>(), w, 2e-3);
    EXPECT_EQ(says(two).find(told), std::string::npos);
    const Outcome text = run_here({"vat", "mix", "100 kg of " + file, "400 kg of 35"});
    EXPECT_NE(text.out.find("It holds"), std::string::npos) << text.out;
    const Outcome missing = run_here({"vat", "mix", "1 kg of nowhere.toml", "1 kg of 35"});
    EXPECT_EQ(missing.code, 2);
    EXPECT_NE(missing.err.find("nowhere.toml"), std::string::npos) << missing.err;
}

TEST(Vat, MixTakesARecipeWithItsMaterials) {
    const TestFolder folder;
    const std::string recipe = folder.path("recipe.toml");
    ASSERT_EQ(run_here(solve_example("raised.toml", {"--quiet", "--out", recipe})).code, 0);
    const Json got = json_of(
        {"vat", "mix", "1 kg of " + recipe, "1 kg of 0", "--materials", example("materials.toml")});
    EXPECT_NEAR(got["salinity_g_per_kg"].get<double>(), 35.165 / 2, 0.02);
}

// By hand: of 1000 kg, 0.6 times u(30) = 0.5; 3 kg of the weak one move w by 0.003 (30 - 34).
TEST(Vat, MixCarriesTheUncertainties) {
    const double w = 35.16504 / 35;
    const Json got = json_of({"vat", "mix", "600 +- 3 kg of 30 +- 0.5", "400 kg of 40"});
    EXPECT_NEAR(got["standard_uncertainty_g_per_kg"].get<double>(),
                std::hypot(0.6 * 0.5, 0.003 * 4 * w), 2e-3);
    const Outcome text = run_here({"vat", "mix", "600 +- 3 kg of 30 +- 0.5", "400 kg of 40"});
    EXPECT_NE(text.out.find("34.00 \u00B1 0.30"), std::string::npos) << text.out;
    const Json sure = json_of({"vat", "mix", "600 kg of 30", "400 kg of 40"});
    EXPECT_EQ(sure["standard_uncertainty_g_per_kg"].get<double>(), 0);
}

TEST(Vat, BenchAmountsAreToldInGrams) {
    const Outcome plan = run_here({"vat", "plan", "--salinity", "35", "--volume", "1 L"});
    EXPECT_NE(plan.out.find("35.986  "), std::string::npos) << plan.out;
    EXPECT_EQ(plan.out.find("35.9858"), std::string::npos) << "finer than any scale";
    const Outcome mend =
        run_here({"vat", "correct", "--volume", "1 L", "--holds", "33", "--wanted", "35"});
    EXPECT_NE(mend.out.find("2.128"), std::string::npos) << mend.out;
}

TEST(Vat, CorrectSaysWhatIsNotWorthDoingAndWhatIsNotUsed) {
    const Json got = json_of({"vat", "correct", "--mass", "1 t", "--holds", "35.1 +- 0.2",
                              "--wanted", "35", "--concentrate", "150 g/kg"});
    EXPECT_TRUE(mentions(got, "measure it again"));
    EXPECT_TRUE(mentions(got, "concentrate is not used"));
    const Json sure =
        json_of({"vat", "correct", "--mass", "1 t", "--holds", "33 +- 0.2", "--wanted", "35"});
    EXPECT_FALSE(mentions(sure, "measure it again"));
}

// Evaporation past practical salinity 42: salt and water are known, S_P is not.
TEST(Vat, WhatHasNoPracticalSalinityIsNullWithANotice) {
    const Json got =
        json_of({"vat", "correct", "--mass", "1000 kg", "--holds", "35", "--evaporated", "200 kg"});
    EXPECT_NEAR(got["after_loss"]["salinity_g_per_kg"].get<double>(), 35.16504 / 0.8, 1e-9);
    EXPECT_TRUE(got["after_loss"]["practical_salinity"].is_null());
    EXPECT_TRUE(mentions(got, "Practical salinity does not reach"));
}

/// The recipe of raised.toml, as a file in the folder.
std::string raised_recipe(const TestFolder& folder) {
    std::string file = folder.path("recipe.toml");
    EXPECT_EQ(run_here(solve_example("raised.toml", {"--quiet", "--out", file})).code, 0);
    return file;
}

// At the strength that the recipe was solved for, the vat must take the recipe's own mixing rate,
// whose sum of doses comes from the file and not from the share.
TEST(Vat, TheRecipesHydratesAreCounted) {
    const TestFolder folder;
    const std::string recipe = raised_recipe(folder);
    const Json solved = json_of(solve_example("raised.toml"));
    double rate = 0;
    for (const Json& part : solved["parts"]) {
        rate += part["g_per_kg_purified_water"].get<double>();
    }
    const Words law{"--water", recipe, "--materials", example("materials.toml")};
    Words plan{"vat", "plan", "--salinity", "35.16504 g/kg", "--mass", "1000 kg"};
    plan.insert(plan.end(), law.begin(), law.end());
    const Json got = json_of(plan);
    EXPECT_NEAR(got["g_per_kg_purified_water"].get<double>(), rate, 1e-5 * rate);
    EXPECT_EQ(got["anhydrous_from"], "recipe");
    EXPECT_NEAR(got["anhydrous_percent"].get<double>(), 84.13, 0.01);
    EXPECT_TRUE(mentions(got, "84.1 % of the blend, from the recipe's materials"));
    Words weak{"vat", "correct", "--mass", "1 t", "--holds", "30 g/kg", "--wanted", "35 g/kg"};
    weak.insert(weak.end(), law.begin(), law.end());
    const Json mended = json_of(weak);
    const double f = 35.16504e-3 * (1 + 1e3 / rate);
    EXPECT_NEAR(mended["ways"][0]["add_kg"].get<double>(), 5 / (f - 0.035), 1e-3);
    EXPECT_TRUE(mentions(mended, "from the recipe's materials"));
    plan.insert(plan.end(), {"--anhydrous", "90 %"});
    const Json stated = json_of(plan);
    EXPECT_NEAR(stated["blend_kg"].get<double>(), 35.16504 / 0.9, 1e-6);
    EXPECT_EQ(stated["anhydrous_from"], "stated");
    EXPECT_FALSE(mentions(stated, "of the blend"));
}

// Molar masses by hand: MgCl2 95.211, MgCl2.6H2O 203.303 g/mol (IUPAC 2021 weights, abridged).
TEST(Vat, TheShareIsThatOfTheFormulas) {
    const TestFolder folder;
    const std::string materials = folder.write("m.toml", R"(format = "brinewright/1"
kind = "materials"
name = "Two"
[[material]]
name = "table salt"
formula = "NaCl"
assay = { value = "100 %", u = "0.05 %" }
[[material]]
name = "magnesium chloride"
formula = "MgCl2.6H2O"
assay = { value = "100 %", u = "0.05 %" }
)");
    const std::string recipe = folder.write("r.toml", R"(format = "brinewright/1"
kind = "recipe"
name = "Half and half"
target = "none"
temperature = "25 degC"
[[part]]
material = "table salt"
g_per_kg_purified_water = 20
[[part]]
material = "magnesium chloride"
g_per_kg_purified_water = 20
)");
    const Json got = json_of({"vat", "plan", "--salinity", "30 g/kg", "--mass", "1 t", "--water",
                              recipe, "--materials", materials});
    EXPECT_NEAR(got["anhydrous_percent"].get<double>(), 50 + 50 * 95.211 / 203.303, 0.005);
}

// 1 mmol of CaCl2 per kg of purified water, in water that is 1/1.02 of the whole; it is no salt of
// the blend.
TEST(RecipeWater, ThePurifiedWaterOfARecipeCounts) {
    const TestFolder folder;
    const std::string materials = folder.write("m.toml", R"(format = "brinewright/1"
kind = "materials"
name = "One"
[[material]]
name = "table salt"
formula = "NaCl"
assay = { value = "100 %", u = "0.05 %" }
)");
    const std::string head = R"(format = "brinewright/1"
kind = "recipe"
name = "Salt"
)";
    const std::string part = R"([[part]]
material = "table salt"
g_per_kg_purified_water = 20
)";
    const std::string pure = folder.write("pure.toml", head + part);
    const std::string hard = folder.write(
        "hard.toml", head + "[purified_water]\nunit = \"mmol/kg\"\nCa = 1\nCl = 2\n" + part);
    const auto calcium = [&](const std::string& recipe) {
        const Json got = json_of({"water", "show", recipe, "--materials", materials});
        const auto& all = got["constituents"];
        const auto found =
            std::find_if(all.begin(), all.end(), [](const Json& c) { return c["symbol"] == "Ca"; });
        return found == all.end() ? 0 : (*found)["mmol_per_kg"].get<double>();
    };
    EXPECT_EQ(calcium(pure), 0);
    EXPECT_NEAR(calcium(hard), 1 / 1.02, 1e-9);
    const auto share = [&](const std::string& recipe) {
        return json_of({"vat", "plan", "--salinity", "15 g/kg", "--mass", "1 t", "--water", recipe,
                        "--materials", materials})["anhydrous_percent"]
            .get<double>();
    };
    EXPECT_NEAR(share(hard), share(pure), 1e-9);
    const Outcome text = run_here({"water", "show", hard, "--materials", materials});
    EXPECT_NE(text.out.find("purified water that the recipe states"), std::string::npos);
}

// The target of the example states silicon and copper of its purified water; the water shown is the
// water solved for.
TEST(RecipeWater, ASolvedRecipeKeepsThePurifiedWaterOfItsTarget) {
    const TestFolder folder;
    const std::string recipe = raised_recipe(folder);
    const Json solved = json_of(solve_example("raised.toml"));
    const Json shown = json_of({"water", "show", recipe, "--materials", example("materials.toml")});
    const auto row = [](const Json& list) {
        const auto found = std::find_if(list.begin(), list.end(),
                                        [](const Json& c) { return c["symbol"] == "Cu"; });
        EXPECT_NE(found, list.end()) << list.dump();
        return found == list.end() ? Json::object() : *found;
    };
    const Json ceiling = row(solved["ceilings"]);
    ASSERT_EQ(ceiling["unit"], "ug/L");
    const double ug_per_L = 1e3 * row(shown["constituents"])["mg_per_L"].get<double>();
    EXPECT_NEAR(ug_per_L, ceiling["expected"].get<double>(), 0.002);
}

TEST(Vat, ABlendOfUnknownWaterIsSaidToBeTakenAsDry) {
    const std::string words = "taken as free of water; a blend with hydrates";
    const Json got = json_of({"vat", "plan", "--salinity", "35", "--volume", "1000 L"});
    EXPECT_TRUE(mentions(got, words));
    EXPECT_EQ(got["anhydrous_from"], "assumed");
    EXPECT_FALSE(mentions(
        json_of({"vat", "plan", "--salinity", "35", "--volume", "1000 L", "--anhydrous", "100 %"}),
        words));
    const Outcome text = run_here({"vat", "plan", "--salinity", "35", "--volume", "1000 L"});
    EXPECT_NE(text.out.find("The blend is taken as free of water"), std::string::npos) << text.out;
    EXPECT_TRUE(mentions(
        json_of({"vat", "correct", "--mass", "1 t", "--holds", "33", "--wanted", "35"}), words));
    // No blend goes into a vat that is too strong.
    EXPECT_FALSE(mentions(
        json_of({"vat", "correct", "--mass", "1 t", "--holds", "37", "--wanted", "35"}), words));
}

}  // namespace
