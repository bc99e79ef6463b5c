// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Waters that are refused: exit code 2 and one line that names the place and the mend.
#include "command/bad_case.hpp"

namespace {

using namespace bw::command_test;

constexpr std::string_view kWater = R"(format = "brinewright/1"
kind = "water"
temperature = "25 degC"
[constituents]
unit = "mmol/kg"
Na = 468.97
K = 10.21
Mg = 52.82
Ca = 10.28
Cl = 545.87
SO4 = 28.235
alkalinity = 2.30
)";

BadCase spoilt(std::string name, std::string_view from, std::string_view to,
               std::vector<std::string> says) {
    return {std::move(name), "water", instead(kWater, from, to), std::move(says)};
}
BadCase more(std::string name, std::string_view text, std::vector<std::string> says) {
    return {std::move(name), "water", std::string(kWater) + std::string(text), std::move(says)};
}

std::vector<BadCase> amounts() {
    return {
        spoilt("Negative", "Mg = 52.82", "@Mg = -52.82", {"-52.82", "Mg is negative"}),
        spoilt("NegativeText", "Mg = 52.82", "@Mg = \"-5 mg/L\"", {"-5 mg/L", "negative"}),
        spoilt("Nan", "Mg = 52.82", "@Mg = nan", {"finite number"}),
        spoilt("Infinite", "Mg = 52.82", "@Mg = inf", {"finite number"}),
        spoilt("NanAsText", "Mg = 52.82", "@Mg = \"nan\"", {"'nan'"}),
        spoilt("UnknownConstituent", "Mg = 52.82", "@Xx = 52.82", {"'Xx'", "not a constituent"}),
        spoilt("WrongCase", "Mg = 52.82", "@MG = 52.82", {"'MG'", "did you mean Mg?"}),
        spoilt("OneFormOfATotal", "Mg = 52.82", "@CO3 = 1.8", {"CO3", "alkalinity, carbon"}),
        spoilt("Silica", "Mg = 52.82", "@SiO2 = 0.1", {"write Si = \"... mg/L as SiO2\""}),
        spoilt("Iodate", "Mg = 52.82", "@IO3 = 0.0004", {"write I = \"... mg/L as IO3\""}),
        spoilt("Bicarbonate", "Mg = 52.82", "@HCO3 = 1.8",
               {"write alkalinity = \"1.8 mmol/kg\"; carbon or pH settles the rest"}),
        spoilt("BicarbonateByMass", "Mg = 52.82", "@HCO3 = \"285 mg/L\"",
               {"write alkalinity = \"285 mg/L as HCO3\"; carbon or pH settles the rest"}),
        spoilt("BicarbonateInATableOfMasses", "unit = \"mmol/kg\"\nNa",
               "unit = \"mg/L\"\n@HCO3 = 285\nNa",
               {"write alkalinity = \"285 mg/L as HCO3\"; carbon or pH settles the rest"}),
        spoilt("UnknownUnit", "Mg = 52.82", "@Mg = \"52.8 mmal/kg\"",
               {"mmal/kg", "did you mean mmol/kg?"}),
        spoilt("UnknownUnitOfTheTable", "unit = \"mmol/kg\"", "@unit = \"mmal/kg\"",
               {"mmal/kg", "did you mean mmol/kg?"}),
        spoilt("NoUnit", "unit = \"mmol/kg\"\nNa", "@Na", {"468.97 has no unit"}),
        spoilt("Ppm", "Mg = 52.82", "@Mg = \"1284 ppm\"", {"ppm", "mg/kg", "mg/L"}),
        spoilt("UnitOfAnotherKind", "Mg = 52.82", "@Mg = \"52 degC\"", {"Mg", "degC"}),
        {"MissingSulfate",
         "water",
         instead(instead(kWater, "SO4 = 28.235\n", ""), "[constituents]", "@[constituents]"),
         {"charges do not balance", "SO4 is probably missing", "28.2"}},
        spoilt("MilligramsForMillimoles", "Mg = 52.82", "Mg = 1284",
               {"Mg is 1284 mmol/kg", "mg rather than mmol"}),
        spoilt("AThousandTimes", "alkalinity = 2.30", "alkalinity = 2300",
               {"alkalinity is 2300 meq/kg", "a thousand times"}),
        spoilt("AlkalinityFarBelowZero", "alkalinity = 2.30", "alkalinity = -50",
               {"alkalinity is probably too low, -50.00 meq/kg"}),
        {"AlkalinityAlone",
         "water",
         "format = \"brinewright/1\"\nkind = \"water\"\n[constituents]\nalkalinity = \"2 "
         "meq/kg\"\n",
         {"charges do not balance", "no single ion explains it"}},
        spoilt("WholeTableMixedUp", "\"mmol/kg\"", "\"mg/kg\"",
               {"charges do not balance", "the same numbers balance in mmol"}),
        spoilt("MoreThanAKilogram", "Mg = 52.82", "@Mg = 52820",
               {"more than a kilogram per kilogram"}),
        spoilt("TooStrong", "Na = 468.97\nK = 10.21\nMg = 52.82\nCa = 10.28\nCl = 545.87",
               "Na = 6000\nCl = 6000", {"ionic strength", "8"}),
    };
}

std::vector<BadCase> acids() {
    return {
        more("ThreeStatements", "carbon = 2.0\npH = 8.1\n",
             {"alkalinity, carbon and pH 8.1 (total scale) are all stated", "leave one out"}),
        more("FourStatements", "carbon = 2.0\npH = 8.1\npCO2 = \"420 uatm\"\n",
             {"alkalinity, carbon, pH 8.1 (total scale) and pCO2", "leave two out"}),
        more("NoStateAtThatPh", "pH = 14\n", {": no acid-base state", "check alkalinity"}),
        more("PhOutOfRange", "@pH = 81\n", {"pH 81", "0 to 14"}),
        more("PhInWords", "@pH = \"high\"\n", {"'high'"}),
        more("UnknownScale", "pH = 8.1\n@pH_scale = \"sws\"\n", {"'sws'", "\"total\""}),
        more("ScaleWithoutPh", "@pH_scale = \"free\"\n", {"no pH"}),
        more("Pco2WithoutUnit", "@pCO2 = 420\n", {"pCO2 has no unit", "\"420 uatm\""}),
        more("Pco2InPpm", "@pCO2 = \"420 ppm\"\n", {"ppm", "\"420 uatm\""}),
        more("Pco2InAnotherUnit", "@pCO2 = \"420 mg/L\"\n", {"'420 mg/L' is not a pressure"}),
        more("Pco2Zero", "@pCO2 = \"0 uatm\"\n", {"above 0"}),
        more("Pco2Negative", "@pCO2 = \"-1 uatm\"\n", {"negative"}),
        more("Pco2OfAFullCylinder", "@pCO2 = \"420 atm\"\n", {"at most 1 atm"}),
        more("AlkalinityAmongMasses", "carbon = \"-2 mmol/kg\"\n", {"negative"}),
    };
}

std::vector<BadCase> heads() {
    return {
        spoilt("TooWarm", "temperature = \"25 degC\"", "@temperature = \"41 degC\"",
               {"41 degC", "0 to 40 degC"}),
        spoilt("TooCold", "temperature = \"25 degC\"", "@temperature = \"-1 degC\"",
               {"-1 degC", "0 to 40 degC"}),
        spoilt("TemperatureInBareC", "temperature = \"25 degC\"", "@temperature = \"25 C\"",
               {"'C'", "did you mean degC?"}),
        spoilt("TemperatureMisspelt", "temperature = \"25 degC\"", "@temperature = \"25 mgC\"",
               {"'mgC'", "known ones are"}),
        spoilt("TemperatureWithoutUnit", "temperature = \"25 degC\"", "@temperature = 25",
               {"25 has no unit", "25 degC"}),
        spoilt("UnknownKey", "temperature", "@temprature", {"'temprature'", "temperature?"}),
        spoilt("WrongKind", "kind = \"water\"", "@kind = \"target\"", {"\"water\"", "'target'"}),
        {"NothingDissolved",
         "water",
         "format = \"brinewright/1\"\nkind = \"water\"\n",
         {"names no constituent", "seawater = \"35\""}},
        spoilt("SeawaterTooStrong", "temperature", "@seawater = \"200\"\ntemperature",
               {"salinity 200", "120"}),
        spoilt("SeawaterNegative", "temperature", "@seawater = -35\ntemperature", {"-35"}),
        spoilt("SeawaterSpecificGravity", "temperature", "@seawater = 1.026\ntemperature",
               {"specific gravity"}),
    };
}

void run_bad_water(const BadCase& c, bool json, const std::vector<std::string>& command) {
    const TestFolder folder;
    std::string text = c.text;
    const int line = take_mark(text);
    if (json) {
        const auto converted = as_json(text);
        ASSERT_TRUE(converted);
        text = *converted;
    }
    const std::string file = folder.write(json ? "water.json" : "water.toml", text);
    std::vector<std::string> arguments = command;
    arguments.insert(arguments.end(), 2 - static_cast<std::size_t>(command[1] == "show"), file);
    if (command[1] == "show") {
        arguments.insert(arguments.end(), {"--csv", folder.path("water.csv")});
    }
    const Outcome got = run_here(arguments);
    expect_complaint(
        got, 2, file + (line > 0 && !json ? ":" + std::to_string(line) + ": " : std::string(":")),
        c.says);
    EXPECT_FALSE(folder.has("water.csv")) << "nothing may be written";
}

class BadWater : public testing::TestWithParam<BadCase> {};
TEST_P(BadWater, IsRefusedInOneLine) { run_bad_water(GetParam(), false, {"water", "show"}); }
TEST_P(BadWater, IsRefusedByCompareToo) { run_bad_water(GetParam(), false, {"water", "compare"}); }
INSTANTIATE_TEST_SUITE_P(Amounts, BadWater, testing::ValuesIn(amounts()), case_name);
INSTANTIATE_TEST_SUITE_P(Acids, BadWater, testing::ValuesIn(acids()), case_name);
INSTANTIATE_TEST_SUITE_P(Heads, BadWater, testing::ValuesIn(heads()), case_name);

class BadWaterInJson : public testing::TestWithParam<BadCase> {};
TEST_P(BadWaterInJson, IsRefusedInOneLine) { run_bad_water(GetParam(), true, {"water", "show"}); }
INSTANTIATE_TEST_SUITE_P(Amounts, BadWaterInJson, testing::ValuesIn(that_are_documents(amounts())),
                         case_name);
INSTANTIATE_TEST_SUITE_P(Acids, BadWaterInJson, testing::ValuesIn(that_are_documents(acids())),
                         case_name);
INSTANTIATE_TEST_SUITE_P(Heads, BadWaterInJson, testing::ValuesIn(that_are_documents(heads())),
                         case_name);

TEST(BadWaterUse, TemperatureOfTheCommandLine) {
    const TestFolder folder;
    const std::string file = folder.write("water.toml", kWater);
    const auto at = [&](const std::string& t) {
        return run_here({"water", "show", file, "--temperature", t});
    };
    expect_complaint(at("50 degC"), 2, "--temperature: ", {"50 degC", "0 to 40 degC"});
    expect_complaint(at("20"), 2, "--temperature: ", {"'20' has no unit", "20 degC"});
    expect_complaint(at("20 mg/L"), 2, "--temperature: ", {"not a temperature"});
}

TEST(BadWaterUse, ARecipeNeedsItsMaterials) {
    const TestFolder folder;
    const std::string recipe = folder.write("recipe.toml", kRecipe);
    const std::string materials = folder.write("materials.toml", kMaterials);
    expect_complaint(run_here({"water", "show", recipe}), 2, recipe, {"add the file of materials"});
    const std::string other = folder.write("other.toml", instead(kMaterials, "table salt", "soda"));
    expect_complaint(run_here({"water", "show", recipe, "--materials", other}), 2,
                     recipe + ":5: ", {"'table salt' is not among the materials"});
    EXPECT_EQ(run_here({"water", "show", recipe, "--materials", materials}).code, 0);
}

TEST(BadWaterUse, AWaterTakesNoMaterials) {
    const TestFolder folder;
    const std::string water = folder.write("water.toml", kWater);
    const std::string recipe = folder.write("recipe.toml", kRecipe);
    const std::string materials = folder.write("materials.toml", kMaterials);
    expect_complaint(run_here({"water", "show", water, "--materials", materials}), 2,
                     "--materials: ", {"kind \"recipe\""});
    EXPECT_EQ(run_here({"water", "compare", water, recipe, "--materials", materials}).code, 0);
}

TEST(BadWaterUse, TheFileReadIsNotOverwritten) {
    const TestFolder folder;
    const std::string file = folder.write("water.toml", kWater);
    expect_complaint(run_here({"water", "show", file, "--csv", file}), 2, "", {"would overwrite"});
    EXPECT_EQ(read_bytes(file), kWater);
    expect_complaint(run_here({"water", "show", file, "--csv", folder.path("no/folder.csv")}), 3,
                     folder.path("no/folder.csv"), {"No such file"});
}

}  // namespace
