// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// water show and water compare: the keys of the contract, numbers that agree with one another and
// with what was typed, words for the wall.
#include <cmath>
#include <map>
#include <string>

#include <nlohmann/json.hpp>

#include "command/command_run.hpp"
#include "command/document_as_json.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;

const std::vector<std::string> kWaters{"seawater.toml", "raised_water.toml"};

Json shown(const std::string& file, std::vector<std::string> more = {}) {
    std::vector<std::string> arguments{"water", "show", file, "--json"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Outcome got = run_here(arguments);
    EXPECT_EQ(got.code, 0) << got.err;
    EXPECT_EQ(got.err, "");
    EXPECT_TRUE(!got.out.empty() && got.out.back() == '\n');
    return got.out.empty() ? Json() : Json::parse(got.out);
}

Json shown_text(std::string_view body, std::vector<std::string> more = {}) {
    const TestFolder folder;
    return shown(folder.write("w.toml",
                              "format = \"brinewright/1\"\nkind = \"water\"\n" + std::string(body)),
                 std::move(more));
}

std::string all_notices(const Json& d) {
    std::string out;
    for (const Json& n : d.at("notices")) {
        out += n.get<std::string>() + "\n";
    }
    return out;
}

bool number_or_null(const Json& v) { return v.is_number() || v.is_null(); }

TEST(WaterJson, HoldsTheKeysOfTheContract) {
    for (const std::string& water : kWaters) {
        SCOPED_TRACE(water);
        const Json d = shown(example(water));
        EXPECT_EQ(d.at("version"), 1);
        for (const char* key :
             {"temperature_degC", "salinity_g_per_kg", "ionic_strength_mol_per_kg_water",
              "carbon_mmol_per_kg", "pCO2_uatm", "water_activity", "osmotic_coefficient",
              "charge_balance_percent"}) {
            EXPECT_TRUE(d.at(key).is_number()) << key;
        }
        for (const char* key : {"practical_salinity", "density_kg_per_m3", "conductivity_mS_per_cm",
                                "conductivity_25C_mS_per_cm", "refractive_index"}) {
            EXPECT_TRUE(number_or_null(d.at(key))) << key;
        }
        EXPECT_TRUE(number_or_null(d.at("specific_gravity").at("20/20")));
        EXPECT_TRUE(number_or_null(d.at("specific_gravity").at("25/25")));
        for (const char* key : {"total", "free", "nbs"}) {
            EXPECT_TRUE(d.at("pH").at(key).is_number()) << key;
        }
        for (const char* map :
             {"activity_coefficients", "free_activity_coefficients", "free_fraction"}) {
            for (const char* symbol : {"Na", "K", "Mg", "Ca", "Cl", "SO4", "HCO3", "CO3"}) {
                EXPECT_GT(d.at(map).at(symbol).get<double>(), 0) << map << " " << symbol;
            }
        }
        for (const char* solid :
             {"calcite", "aragonite", "vaterite", "brucite", "gypsum", "anhydrite", "celestite",
              "strontianite", "barite", "fluorite", "halite"}) {
            EXPECT_TRUE(d.at("saturation").at(solid).is_number()) << solid;
        }
        EXPECT_TRUE(d.at("notices").is_array());
    }
}

TEST(WaterJson, ANullHasANotice) {
    const Json weak = shown_text("[constituents]\nunit = \"mmol/kg\"\nNa = 1\nCl = 1\n");
    EXPECT_TRUE(weak.at("pH").at("nbs").is_null());
    EXPECT_NE(all_notices(weak).find("NBS"), std::string::npos);
    const Json iron = shown_text("seawater = \"35\"\n[constituents]\nunit = \"ug/kg\"\nFe = 1\n");
    EXPECT_TRUE(iron.at("activity_coefficients").at("Fe").is_null());
    EXPECT_NE(all_notices(iron).find("does not know Fe"), std::string::npos);
    for (const std::string& water : kWaters) {
        const Json d = shown(example(water));
        if (d.at("density_kg_per_m3").is_null()) {
            EXPECT_NE(all_notices(d).find("density"), std::string::npos);
        }
    }
}

TEST(WaterJson, PartsAddUpToTheirTotals) {
    for (const std::string& water : kWaters) {
        const Json d = shown(example(water));
        const Json& a = d.at("alkalinity_meq_per_kg");
        EXPECT_NEAR(a.at("total").get<double>(),
                    a.at("carbonate").get<double>() + a.at("borate").get<double>() +
                        a.at("other").get<double>(),
                    1e-9);
        for (const auto& [symbol, total] : d.at("activity_coefficients").items()) {
            EXPECT_NEAR(total.get<double>(),
                        d.at("free_activity_coefficients").at(symbol).get<double>() *
                            d.at("free_fraction").at(symbol).get<double>(),
                        1e-9)
                << symbol;
        }
    }
}

TEST(WaterJson, GivesBackWhatWasTyped) {
    const Json natural = shown(example("seawater.toml"));
    EXPECT_NEAR(natural.at("pCO2_uatm").get<double>(), 420, 1e-6);
    EXPECT_NEAR(natural.at("alkalinity_meq_per_kg").at("total").get<double>(), 2.30, 1e-9);
    EXPECT_NEAR(natural.at("salinity_g_per_kg").get<double>(), 35.165, 0.01);
    const Json raised = shown(example("raised_water.toml"));
    EXPECT_NEAR(raised.at("pH").at("total").get<double>(), 8.15, 1e-9);
    for (const Json& c : raised.at("constituents")) {
        if (c.at("symbol") == "Cl") {
            EXPECT_NEAR(c.at("mg_per_L").get<double>(), 19700, 1e-6);
        }
    }
}

// Of phosphate in seawater of pH 8 some 1e-9 is H3PO4, by constants of pK 1.6, 6.0 and 8.8.
TEST(WaterJson, SaysWhatTheFreeShareCounts) {
    const Json d = shown_text(
        "seawater = 35\npH = 8.1\n[constituents]\nunit = \"umol/kg\"\nPO4 = 2\nSi = 20\nNO3 = 5\n");
    std::map<std::string, Json> forms;
    for (const Json& c : d.at("constituents")) {
        forms[c.at("symbol").get<std::string>()] = c.at("free_form");
    }
    EXPECT_EQ(forms["Ca"], "Ca");
    EXPECT_EQ(forms["B"], "BOH3");
    EXPECT_EQ(forms["Si"], "H4SiO4");
    EXPECT_EQ(forms["PO4"], "H3PO4");
    EXPECT_EQ(forms["NO3"], "NO3") << "acts as another ion, and is itself";
    EXPECT_TRUE(forms["carbon"].is_null());
    EXPECT_LT(d.at("free_fraction").at("PO4").get<double>(), 1e-8);
    EXPECT_GT(d.at("free_fraction").at("PO4").get<double>(), 1e-10);
}

TEST(WaterJson, OfNaturalSeawaterIsWhatOceanographersFind) {
    const Json d = shown(example("seawater.toml"));
    EXPECT_NEAR(d.at("pH").at("total").get<double>(), 8.03, 0.02);
    EXPECT_NEAR(d.at("saturation").at("aragonite").get<double>(), 3.3, 0.35);
    EXPECT_NEAR(d.at("water_activity").get<double>(), 0.9814, 5e-4);
    EXPECT_NEAR(d.at("charge_balance_percent").get<double>(), 0, 0.01);
}

TEST(WaterJson, AnotherTemperature) {
    const Json same = shown(example("seawater.toml"), {"--temperature", "25 degC"});
    EXPECT_EQ(same, shown(example("seawater.toml")));
    const Json cold = shown(example("seawater.toml"), {"--temperature", "283.15 K"});
    EXPECT_NEAR(cold.at("temperature_degC").get<double>(), 10, 1e-9);
    EXPECT_NEAR(cold.at("pCO2_uatm").get<double>(), 420, 1e-6) << "stated CO2 is kept";
    EXPECT_NE(all_notices(cold).find("keeps its pCO2"), std::string::npos);
    const Json warm = shown(example("raised_water.toml"));
    const Json cooled = shown(example("raised_water.toml"), {"--temperature", "10 degC"});
    EXPECT_NEAR(cooled.at("carbon_mmol_per_kg").get<double>(),
                warm.at("carbon_mmol_per_kg").get<double>(), 1e-6)
        << "a stated pH is that of the file's temperature";
    EXPECT_GT(cooled.at("pH").at("total").get<double>(), 8.3);
}

TEST(WaterJson, ImbalanceIsSeenWhereAlkalinityFollows) {
    const TestFolder folder;
    const std::string file =
        folder.write("w.toml",
                     "format = \"brinewright/1\"\nkind = \"water\"\n"
                     "[constituents]\nunit = \"mmol/kg\"\nNa = 469\nMg = 52.8\n"
                     "Ca = 10.3\nK = 10.2\nCl = 545.9\ncarbon = 2\npH = 8.1\n");
    const Outcome got = run_here({"water", "show", file, "--json"});
    EXPECT_EQ(got.code, 2);
    EXPECT_EQ(got.out, "");
    EXPECT_NE(got.err.find("SO4 is probably missing"), std::string::npos) << got.err;
}

TEST(WaterJson, OfARecipeIsItsMadeUpWater) {
    const TestFolder folder;
    const std::string recipe = folder.path("recipe.toml");
    ASSERT_EQ(run_here(solve_example("natural.toml", {"--quiet", "--out", recipe})).code, 0);
    const Json d = shown(recipe, {"--materials", example("materials.toml")});
    EXPECT_NEAR(d.at("salinity_g_per_kg").get<double>(), 35.165, 0.01);
    EXPECT_NEAR(d.at("alkalinity_meq_per_kg").at("total").get<double>(), 2.30, 0.06);
    EXPECT_NEAR(d.at("carbon_mmol_per_kg").get<double>(), 1.97, 0.13);
    // The target states copper of its purified water without the anion: 4e-6 %.
    EXPECT_NEAR(d.at("charge_balance_percent").get<double>(), 0, 1e-5);
}

const std::string kStrongIons =
    "[constituents]\nunit = \"mmol/kg\"\nNa = 468.96\nK = 10.21\nMg = 52.82\nCa = 10.28\nCl = "
    "545.87\n"
    "SO4 = 28.24\nB = 0.416\n";

// 2000 umol/kg of carbon written as mmol/kg.
TEST(WaterJson, CarbonAThousandTimesTooLargeIsNoticed) {
    const Json slip = shown_text(kStrongIons + "alkalinity = 2.3\ncarbon = 2000\n");
    EXPECT_NE(all_notices(slip).find("check carbon and its unit"), std::string::npos);
    const Json right = shown_text(kStrongIons + "alkalinity = 2.3\ncarbon = 2\n");
    EXPECT_EQ(all_notices(right).find("check carbon"), std::string::npos);
}

// No carbon and next to none are one water: what is left of the alkalinity is hydroxide.
TEST(WaterJson, NoCarbonConductsLikeATraceOfIt) {
    const Json none = shown_text(kStrongIons + "alkalinity = 2.3\ncarbon = 0\n");
    const Json trace = shown_text(kStrongIons + "alkalinity = 2.3\ncarbon = 1e-9\n");
    EXPECT_NEAR(none["conductivity_mS_per_cm"].get<double>(),
                trace["conductivity_mS_per_cm"].get<double>(), 1e-6);
}

TEST(WaterJson, PureWaterIsNoUnbalancedWater) {
    const Json got = shown_text("[constituents]\nNa = \"0 mmol/kg\"\n");
    EXPECT_EQ(all_notices(got).find("not a real water"), std::string::npos) << all_notices(got);
    EXPECT_GE(got["standard_uncertainty"]["conductivity_mS_per_cm"].get<double>(), 0.001);
}

TEST(WaterText, WithoutCalciumOrCarbonTheDoubtIsOfPhAlone) {
    const TestFolder folder;
    for (const char* less : {"Ca = \"0 mg/kg\"\n", "carbon = \"0 mmol/kg\"\n"}) {
        const Outcome got = run_here(
            {"water", "show",
             folder.write("w.toml", std::string("format = \"brinewright/1\"\nkind = \"water\"\n"
                                                "seawater = \"35\"\n[constituents]\n") +
                                        less)});
        EXPECT_EQ(got.code, 0) << got.err;
        EXPECT_NE(got.out.find("by ion interaction alone, pH"), std::string::npos);
        EXPECT_EQ(got.out.find("not a number"), std::string::npos) << less;
        EXPECT_EQ(got.out.find("aragonite's saturation"), std::string::npos) << less;
    }
}

TEST(WaterText, NamesCannotSteerATerminal) {
    const TestFolder folder;
    const std::string file =
        folder.write("w.toml",
                     "format = \"brinewright/1\"\nkind = \"water\"\nname = \"a\\u001b[31m\\nb\"\n"
                     "source = \"c\\u001b[0m\"\nseawater = \"35\"\n");
    for (const auto& words : {std::vector<std::string>{"water", "show", file},
                              std::vector<std::string>{"water", "compare", file, file}}) {
        const Outcome got = run_here(words);
        EXPECT_EQ(got.out.find('\x1b'), std::string::npos);
        EXPECT_NE(got.out.find("a?[31m?b"), std::string::npos) << got.out.substr(0, 200);
    }
}

TEST(WaterText, TellsWhatAChemistPinsOnTheWall) {
    const Outcome got = run_here({"water", "show", example("raised_water.toml")});
    EXPECT_EQ(got.code, 0);
    for (const char* words :
         {"Raised reef water  (invented example)", "8.150 total", "may fall out of this water",
          "within hours", "supersaturated, but does not fall", "never forms at these temperatures",
          "How sure the model is", "Acids and bases, from alkalinity and pH 8.15 (total scale)"}) {
        EXPECT_NE(got.out.find(words), std::string::npos) << words;
    }
    const auto aragonite = got.out.find("  aragonite");
    const auto dolomite = got.out.find("  dolomite");
    const auto calcite = got.out.find("  calcite");
    const auto gypsum = got.out.find("  gypsum");
    EXPECT_LT(aragonite, dolomite) << "what may fall first, though less supersaturated";
    EXPECT_LT(dolomite, calcite) << "most supersaturated first";
    EXPECT_LT(calcite, gypsum);
}

std::string verdict_on(const Json& water, std::string_view phase) {
    for (const Json& s : water.at("solids")) {
        if (s.at("phase") == phase) {
            return s.at("verdict").get<std::string>();
        }
    }
    return "no such solid";
}

// The sea has held 3 to 4 times what aragonite needs for ages; a dosed water of pH 9 has not.
TEST(WaterText, CallsTheSaturationOfTheSeaNatural) {
    const Json sea = shown(example("seawater.toml"));
    const std::string natural =
        "supersaturated, as every warm sea is; not expected to form by itself";
    EXPECT_EQ(verdict_on(sea, "aragonite"), natural);
    EXPECT_EQ(verdict_on(sea, "calcite"), natural);
    const Json dosed = shown_text("seawater = 35\npH = 9\n");
    EXPECT_GT(dosed.at("saturation").at("aragonite").get<double>(), 5);
    EXPECT_EQ(verdict_on(dosed, "aragonite"), "supersaturated, can form within hours");
    EXPECT_EQ(verdict_on(dosed, "calcite"), "supersaturated, grows on its own grains only");
    EXPECT_EQ(verdict_on(dosed, "vaterite"), "supersaturated, held back by magnesium");
}

// Without magnesium nothing holds them: hard water of 5 mmol/kg calcium.
TEST(WaterText, PoorInMagnesiumIsNoSea) {
    const Json hard =
        shown_text("pH = 9\n[constituents]\nunit = \"mmol/kg\"\nCa = 5\nCl = 8\nalkalinity = 2\n");
    EXPECT_EQ(verdict_on(hard, "vaterite"), "supersaturated, can form within hours");
    EXPECT_EQ(verdict_on(hard, "aragonite"), "supersaturated, can form within hours");
}

// The amorphous carbonate clouds a concentrate in spite of magnesium, and turns into the hydrate.
TEST(WaterText, MagnesiumDoesNotHoldTheAmorphousCarbonate) {
    const Json dosed = shown_text(
        "seawater = 35\npH = 9\n[constituents]\nalkalinity = \"140 "
        "meq/kg\"\nNa = \"607 mmol/kg\"\n");
    EXPECT_EQ(verdict_on(dosed, "amorphous_CaCO3"), "supersaturated, can form within minutes");
    EXPECT_EQ(verdict_on(dosed, "monohydrocalcite"), "supersaturated, can form within hours");
}

TEST(WaterText, NoDifferenceIsNotCalledHigher) {
    const TestFolder folder;
    const Outcome got = run_here({"water", "show",
                                  folder.write("w.toml",
                                               "format = \"brinewright/1\"\nkind = \"water\"\n"
                                               "seawater = \"35\"\npH = 8.1\n")});
    EXPECT_NE(got.out.find("pH would be the\n    same and"), std::string::npos) << got.out;
}

TEST(WaterText, PhosphateIsKnownToAnOrderOfMagnitude) {
    const Json d = shown_text("seawater = 35\n[constituents]\nunit = \"umol/kg\"\nPO4 = 2\n");
    EXPECT_NE(all_notices(d).find("known only to an order of magnitude"), std::string::npos);
}

TEST(WaterText, SaysOnWhichScaleAPhIsTaken) {
    const Json silent = shown_text("seawater = 35\npH = 8.1\n");
    EXPECT_NE(all_notices(silent).find("pH is taken on the total scale; a meter set in ordinary "
                                       "buffers reads NBS, about 0.13 higher in seawater: state "
                                       "pH_scale"),
              std::string::npos);
    EXPECT_NEAR(silent.at("pH").at("nbs").get<double>() - 8.1, 0.13, 0.02);
    for (const char* scale : {"total", "free", "nbs"}) {
        const Json said =
            shown_text(std::string("seawater = 35\npH = 8.1\npH_scale = \"") + scale + "\"\n");
        EXPECT_EQ(all_notices(said).find("total scale;"), std::string::npos) << scale;
    }
    EXPECT_EQ(all_notices(shown_text("seawater = 35\n")).find("total scale;"), std::string::npos);
}

// 285 mg/L of HCO3, 61.016 g/mol (H 1.008, C 12.011, O 15.999; CIAAW 2021), carry 4.671 meq.
TEST(WaterJson, AlkalinityAsBicarbonate) {
    const auto with = [](const std::string& alkalinity) {
        return shown_text("seawater = 35\npH = 8.1\n[constituents]\nalkalinity = \"" + alkalinity +
                          "\"\n")
            .at("alkalinity_meq_per_kg")
            .at("total")
            .get<double>();
    };
    EXPECT_NEAR(with("285 mg/kg as HCO3"), 285 / 61.016, 1e-4);
    EXPECT_NEAR(with("285 mg/L as HCO3") / with("4.670906 meq/L"), 1, 1e-5);
}

TEST(WaterShow, TakesTheSignOfDegrees) {
    const Json plain = shown(example("seawater.toml"), {"--temperature", "20 degC"});
    EXPECT_EQ(shown(example("seawater.toml"), {"--temperature", "20 \u00b0C"}), plain);
    EXPECT_EQ(shown(example("seawater.toml"), {"--temperature", "20\u00b0C"}), plain);
    EXPECT_EQ(shown_text("seawater = 35\ntemperature = \"20 \u00b0C\"\n")
                  .at("temperature_degC")
                  .get<double>(),
              20);
}

TEST(WaterText, QuietAndFiles) {
    const TestFolder folder;
    const std::string csv = folder.path("water.csv");
    const Outcome got =
        run_here({"water", "show", example("seawater.toml"), "--quiet", "--csv", csv});
    EXPECT_EQ(got.code, 0);
    EXPECT_EQ(got.out, "");
    EXPECT_EQ(got.err, "");
    EXPECT_EQ(read_bytes(csv).substr(0, 21), "quantity,unit,value\r\n");
    EXPECT_EQ(run_here({"water", "compare", example("seawater.toml"), example("seawater.toml"),
                        "--quiet"})
                  .out,
              "");
}

TEST(WaterText, JsonForTomlGivesTheSameBytes) {
    const TestFolder folder;
    for (const std::string& water : kWaters) {
        const std::string json =
            folder.write(water + ".json", as_json(read_bytes(example(water))).value_or(""));
        const Outcome a = run_here({"water", "show", example(water)});
        const Outcome b = run_here({"water", "show", json});
        EXPECT_EQ(b.err, "");
        EXPECT_EQ(a.out, b.out);
        EXPECT_EQ(a.out, run_here({"water", "show", example(water)}).out);
    }
}

TEST(WaterCompare, ShowsBothAndTheirDifference) {
    const std::vector<std::string> command{"water", "compare", example("seawater.toml"),
                                           example("raised_water.toml")};
    std::vector<std::string> with_json = command;
    with_json.emplace_back("--json");
    const Json d = Json::parse(run_here(with_json).out);
    EXPECT_EQ(d.at("version"), 1);
    EXPECT_EQ(d.at("first"), shown(example("seawater.toml")));
    EXPECT_EQ(d.at("second"), shown(example("raised_water.toml")));
    bool calcium = false;
    for (const Json& row : d.at("differences")) {
        if (row.at("quantity") == "Ca") {
            calcium = true;
            const double a = row.at("first").get<double>();
            const double b = row.at("second").get<double>();
            EXPECT_NEAR(row.at("difference").get<double>(), b - a, 1e-12);
            EXPECT_NEAR(row.at("relative_percent").get<double>(), 100 * (b / a - 1), 1e-9);
        }
        if (row.at("quantity") == "Li") {
            EXPECT_TRUE(row.at("first").is_null());
            EXPECT_TRUE(row.at("difference").is_null());
        }
    }
    EXPECT_TRUE(calcium);
    const Outcome text = run_here(command);
    EXPECT_EQ(text.code, 0);
    EXPECT_NE(text.out.find("saturation of aragonite"), std::string::npos);
    EXPECT_NE(text.out.find("the same in both: temperature."), std::string::npos) << text.out;
}

// A recipe and its water read their materials alike.
TEST(WaterShow, SaysWhereAMaterialStandsAlready) {
    const TestFolder folder;
    const std::string recipe = folder.path("recipe.toml");
    ASSERT_EQ(run_here(solve_example("natural.toml", {"--quiet", "--out", recipe})).code, 0);
    const std::string materials = example("materials.toml");
    const Outcome water = run_here({"water", "show", recipe, "--materials", materials, materials});
    EXPECT_EQ(water.code, 2);
    EXPECT_NE(water.err.find("stands at " + materials + ":"), std::string::npos) << water.err;
    const Outcome solved =
        run_here({"recipe", "solve", example("natural.toml"), "--materials", materials, materials});
    EXPECT_EQ(water.err, solved.err);
}

}  // namespace
