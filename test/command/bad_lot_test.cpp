// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Lots and standing recipes that are refused, and lots that may not be chosen.
#include "command/bad_case.hpp"

namespace {

using namespace bw::command_test;

BadCase lots(std::string name, std::string text, std::vector<std::string> says) {
    return {std::move(name), "lots", std::move(text), std::move(says)};
}
BadCase more(std::string name, std::string_view text, std::vector<std::string> says) {
    return lots(std::move(name), std::string(kLots) + std::string(text), std::move(says));
}
BadCase standing(std::string name, std::string_view from, std::string_view to,
                 std::vector<std::string> says) {
    return {std::move(name), "standing", instead(kRecipe, from, to), std::move(says)};
}

std::vector<BadCase> bad_lots() {
    return {
        lots("UnknownMaterial", instead(kLots, "table salt", "table sald"),
             {"'table sald'", "did you mean 'table salt'?"}),
        lots("FarMaterial", instead(kLots, "table salt", "potash"),
             {"'potash' is not among the materials"}),
        lots("MaterialMissing", instead(kLots, "material = \"table salt\"\n", ""),
             {"material is missing"}),
        lots("NumberMissing", instead(kLots, "number = \"A1\"\n", ""), {"number is missing"}),
        lots("NumberIsANumber", instead(kLots, "number = \"A1\"", "@number = 26"),
             {"text in quotes is needed"}),
        more("SameNumber", "[[lot]]\nmaterial = \"table salt\"\n@number = \"A1\"\n",
             {"lot 'A1'", "already"}),
        more("UnknownState", "@state = \"good\"\n", {"'good'", "accepted, refused or used up"}),
        more("MisspeltKey", "@asay = \"99 %\"\n", {"'asay'", "did you mean assay?"}),
        more("AssayAbove110", "assay = \"150 %\"\n", {"at most 110 %"}),
        more("AssayZero", "assay = \"0 %\"\n", {"above 0"}),
        more("UnknownImpurity", "impurities = [ { of = \"Xx\", high = \"1 %\" } ]\n", {"'Xx'"}),
        more("StockNegative", "@stock = \"-4 kg\"\n", {"negative"}),
        more("MisspeltKeyOfMoisture", "@moisture = { value = \"1 %\", uu = \"0.1 %\" }\n",
             {"'uu'"}),
        more("CompositionForAFormula", "composition = [ { of = \"NaCl\", value = \"99 %\" } ]\n",
             {"composition"}),
        lots("NoLot", "format = \"brinewright/1\"\nkind = \"lots\"\n", {"[[lot]]"}),
        lots("OfAnotherKind", instead(kTarget, "kind", "@kind"),
             {"of kind \"lots\" is needed", "'target'"}),
    };
}

std::vector<BadCase> bad_standing_recipes() {
    return {
        standing("UnknownMaterial", "material = \"table salt\"", "@material = \"table sald\"",
                 {"'table sald' is not among the materials"}),
        standing("Negative", "g_per_kg_purified_water = 30", "@g_per_kg_purified_water = -30",
                 {"from 0 to 1000"}),
        standing("TooMuch", "g_per_kg_purified_water = 30", "@g_per_kg_purified_water = 3000",
                 {"from 0 to 1000"}),
        standing("Nan", "g_per_kg_purified_water = 30", "@g_per_kg_purified_water = nan",
                 {"finite number"}),
        standing("WithUnit", "g_per_kg_purified_water = 30", "@g_per_kg_purified_water = \"30 g\"",
                 {"'30 g'"}),
        standing("AmountMissing", "g_per_kg_purified_water = 30\n", "",
                 {"g_per_kg_purified_water"}),
        standing("MisspeltKey", "g_per_kg_purified_water", "@g_per_kg_purifed_water",
                 {"did you mean g_per_kg_purified_water?"}),
        standing("NameMissing", "name = \"Standing\"\n", "", {"name is missing"}),
        {"SamePartTwice",
         "standing",
         std::string(kRecipe) +
             "[[part]]\n@material = \"table salt\"\ng_per_kg_purified_water = 1\n",
         {"stands twice"}},
        {"NoPart",
         "standing",
         "format = \"brinewright/1\"\nkind = \"recipe\"\nname = \"Standing\"\n",
         {"[[part]]"}},
        {"OfAnotherKind",
         "standing",
         instead(kMaterials, "kind", "@kind"),
         {"of kind \"recipe\" is needed", "'materials'"}},
    };
}

BW_BAD_CASES(BadLots, bad_lots());
BW_BAD_CASES(BadStandingRecipe, bad_standing_recipes());

/// recipe solve for small files with lots and the choices given.
Outcome choose(const TestFolder& folder, std::string_view lots_text,
               const std::vector<std::string>& choices, std::string_view materials = kMaterials) {
    std::vector<std::string> arguments{"recipe",
                                       "solve",
                                       folder.write("target.toml", kTarget),
                                       "--materials",
                                       folder.write("materials.toml", materials),
                                       "--lots",
                                       folder.write("lots.toml", lots_text)};
    for (const std::string& choice : choices) {
        arguments.insert(arguments.end(), {"--choose", choice});
    }
    return run_here(arguments);
}

TEST(ChosenLot, OnHoldIsRefusedByRule) {
    for (const std::string state : {"received", "on hold", "refused", "used up"}) {
        const TestFolder folder;
        const Outcome got =
            choose(folder, std::string(kLots) + "state = \"" + state + "\"\n", {"table salt=A1"});
        expect_complaint(got, 4, folder.path("lots.toml") + ":5: ",
                         {"A1", "table salt", state, "only accepted lots are weighed"});
    }
}

TEST(ChosenLot, UnknownNumberIsBadInput) {
    const TestFolder folder;
    const Outcome got = choose(folder, kLots, {"table salt=A2"});
    expect_complaint(got, 2, "", {"--choose", "'table salt'", "'A2'"});
}

TEST(ChosenLot, UnknownMaterialIsBadInput) {
    const TestFolder folder;
    const Outcome got = choose(folder, kLots, {"sylvite=A1"});
    expect_complaint(got, 2, "", {"--choose", "'sylvite'"});
}

TEST(ChosenLot, ChoiceWithoutEqualsIsWrongUse) {
    for (const std::string choice : {"table salt", "=A1", "table salt="}) {
        const TestFolder folder;
        const Outcome got = choose(folder, kLots, {choice});
        expect_complaint(got, 2, "--choose: ", {"'" + choice + "'", "write --choose", "C26-0311"});
    }
}

TEST(ChosenLot, TwoOfOneMaterialContradict) {
    const TestFolder folder;
    const std::string two =
        std::string(kLots) + "[[lot]]\nmaterial = \"table salt\"\nnumber = \"A2\"\n";
    const Outcome got = choose(folder, two, {"table salt=A1", "table salt=A2"});
    expect_complaint(got, 2, "", {"--choose", "table salt"});
}

TEST(ChosenLot, NeedsLots) {
    const TestFolder folder;
    const Outcome got =
        run_here({"recipe", "solve", folder.write("target.toml", kTarget), "--materials",
                  folder.write("materials.toml", kMaterials), "--choose", "table salt=A1"});
    expect_complaint(got, 2, "--choose: ", {"--lots"});
}

TEST(Lots, CurrencyMustBeThatOfTheMaterials) {
    const TestFolder folder;
    const Outcome got = choose(folder, std::string(kLots) + "price = \"3 USD/kg\"\n", {},
                               std::string(kMaterials) + "price = \"3 EUR/kg\"\n");
    expect_complaint(got, 2, folder.path("lots.toml") + ":", {"EUR", "USD", "one currency"});
}

TEST(Materials, SameNameInTwoFilesNamesBoth) {
    const TestFolder folder;
    const std::string first = folder.write("first.toml", kMaterials);
    const std::string second = folder.write("second.toml", kMaterials);
    const Outcome got = run_here({"recipe", "solve", folder.write("target.toml", kTarget),
                                  "--materials", first, "--materials", second});
    expect_complaint(got, 2, second + ":4: ", {"'table salt'", first + ":4", "already"});
}

TEST(Materials, CurrenciesOfTwoFilesMustAgree) {
    const TestFolder folder;
    const std::string euro = std::string(kMaterials) + "price = \"3 EUR/kg\"\n";
    const std::string dollar = instead(instead(kMaterials, "table salt", "sea salt"), "assay",
                                       "price = \"3 USD/kg\"\nassay");
    const std::string second = folder.write("dollar.toml", dollar);
    const Outcome got = run_here({"recipe", "solve", folder.write("target.toml", kTarget),
                                  "--materials", folder.write("euro.toml", euro), second});
    expect_complaint(got, 2, second + ":", {"EUR and USD", "one currency"});
}

TEST(Materials, AtMostThreeHundred) {
    const TestFolder folder;
    std::string many = "format = \"brinewright/1\"\nkind = \"materials\"\n";
    for (int i = 0; i < 20000; ++i) {
        many += "[[material]]\nname = \"salt " + std::to_string(i) +
                "\"\nformula = \"NaCl\"\nassay = \"99 %\"\n";
    }
    const std::string path = folder.write("many.toml", many);
    const Outcome got =
        run_here({"recipe", "solve", folder.write("target.toml", kTarget), "--materials", path});
    expect_complaint(got, 2, path + ":", {"300"});
}

}  // namespace
