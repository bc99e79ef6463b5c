// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Materials that are refused: exit code 2 and one line that names the place and the mend.
#include "command/bad_case.hpp"
#include "figure.hpp"

namespace {

using namespace bw::command_test;

BadCase more(std::string name, std::string_view text, std::vector<std::string> says) {
    return {std::move(name), "materials", std::string(kMaterials) + std::string(text),
            std::move(says)};
}
BadCase formula(std::string name, std::string_view text, std::vector<std::string> says) {
    return {std::move(name), "materials",
            instead(kMaterials, "\"NaCl\"", "\"" + std::string(text) + "\""), std::move(says)};
}
BadCase assay(std::string name, std::string_view text, std::vector<std::string> says) {
    return {std::move(name), "materials", instead(kMaterials, "assay = \"99 %\"", text),
            std::move(says)};
}

std::vector<BadCase> formulas() {
    return {
        formula("UnknownElement", "NaXx", {"table salt: formula", "Xx is not an element"}),
        formula("OpenBracket", "Na(Cl", {"a bracket is not closed", "MgCl2.6H2O"}),
        formula("ClosingBracketAlone", "NaCl)", {"a bracket closes that was not opened"}),
        formula("EmptyBracket", "NaCl()", {"a bracket holds nothing"}),
        formula("LowerCase", "nacl", {"capital letter"}),
        formula("EndsWithADot", "NaCl.", {"ends with a dot"}),
        formula("CountOfZero", "Na0Cl", {"'0'", "between 1 and 10000"}),
        formula("LeadingZero", "0NaCl", {"leading number"}),
        formula("OnlyACharge", "+", {"charge"}),
        formula("AnIon", "Na+", {"Na+ is an ion"}),
        formula("NotAConstituent", "NaAr", {"Ar"}),
        formula("FateUnknown", "NaCN", {"'NaCN'", "is not known"}),
        formula("TooLong", std::string(300, 'H'), {"300 characters", "at most"}),
        formula("Comma", "NaCl,KCl", {"'NaCl,KCl'"}),
        formula("Umlaut", "N\u00e4Cl", {"is not a formula"}),
    };
}

std::vector<BadCase> assays() {
    return {
        assay("Zero", "assay = \"0 %\"", {"table salt: assay", "above 0"}),
        assay("Above110", "assay = \"111 %\"", {"111", "at most 110 %"}),
        assay("LimitAbove110", "assay = { low = \"99 %\", high = \"115 %\" }", {"at most 110 %"}),
        assay("InAWrongUnit", "assay = \"990000 g/kg\"", {"at most 110 %"}),
        assay("Negative", "@assay = \"-3 %\"", {"'-3 %' is negative"}),
        assay("LowAboveHigh", "@assay = { low = \"99 %\", high = \"98 %\" }",
              {"low is above high"}),
        assay("PerLitre", "@assay = \"99 mg/L\"", {"'99 mg/L' is not a share", "use %"}),
        assay("ByAmount", "@assay = \"5 mol/kg\"", {"a share by mass, such as 99.2 %"}),
        assay("WithoutUnit", "@assay = 99", {"99 has no unit", "99 %"}),
        assay("Ppm", "@assay = \"990000 ppm\"", {"ppm"}),
        assay("Empty", "@assay = {}", {"say one of: value"}),
        assay("List", "@assay = []", {"not a list"}),
        assay("ValueAndLimits", "@assay = { value = \"99 %\", low = \"98 %\", high = \"100 %\" }",
              {"say one of: value"}),
        assay("LowAlone", "@assay = { low = \"98 %\" }", {"low needs a high"}),
        assay("UncertaintyInAnotherUnit", "@assay = { value = \"99 %\", u = \"1 mol/kg\" }",
              {"value and u must both be"}),
        assay("UncertaintyNegative", "@assay = { value = \"99 %\", u = \"-1 %\" }", {"negative"}),
        assay("UncertaintyWithLimits", "@assay = { low = \"98 %\", high = \"99 %\", u = \"1 %\" }",
              {"u goes with value"}),
        assay("MisspeltKey", "@assay = { vaule = \"99 %\" }", {"'vaule'", "did you mean value?"}),
        assay("MisspeltBasis", "@assay = { value = \"99 %\", bass = \"dried\" }",
              {"'bass'", "did you mean basis?"}),
        assay("UnknownBasis", "@assay = { value = \"99 %\", basis = \"dry\" }",
              {"'dry'", "\"as is\", \"dried\" or \"ignited\""}),
        assay("DriedWithoutMoisture", "assay = { value = \"99 %\", basis = \"dried\" }",
              {"give moisture"}),
        assay("IgnitedWithoutLoss", "assay = { value = \"99 %\", basis = \"ignited\" }",
              {"give loss_on_ignition"}),
        assay("AsAnotherSalt", "assay = { value = \"99 %\", as = \"K2O\" }",
              {"NaCl cannot be assayed as K2O"}),
        assay("AsNonsense", "assay = { value = \"99 %\", as = \"xyz\" }", {"'xyz'"}),
    };
}

std::vector<BadCase> impurities() {
    return {
        more("Unknown", "impurities = [ { of = \"Xx\", high = \"1 %\" } ]\n",
             {"table salt: impurities", "'Xx'", "insoluble"}),
        more("LowAboveHigh", "@impurities = [ { of = \"K\", low = \"2 %\", high = \"1 %\" } ]\n",
             {"low is above high"}),
        more("Negative", "@impurities = [ { of = \"K\", high = \"-2 %\" } ]\n", {"negative"}),
        more("MisspeltKey", "@impurities = [ { of = \"K\", hgh = \"2 %\" } ]\n",
             {"'hgh'", "did you mean high?"}),
        more("Twice",
             "@impurities = [ { of = \"K\", high = \"1 %\" }, { of = \"K\", high = \"2 %\" } ]\n",
             {"K stands twice in impurities"}),
        more("MoreThanAll", "impurities = [ { of = \"K\", high = \"50 %\" } ]\n",
             {"dry parts add up", "101 %"}),
        more("TextForTables", "@impurities = [ \"K\" ]\n", {"a table is needed"}),
        more("AlkalinityByMass", "impurities = [ { of = \"alkalinity\", value = \"1 %\" } ]\n",
             {"meq/kg"}),
        more("ValueAndBelow",
             "@impurities = [ { of = \"K\", value = \"1 %\", below = \"2 %\" } ]\n",
             {"say one of: value"}),
        more("WithoutOf", "@impurities = [ { high = \"1 %\" } ]\n", {"of is missing"}),
        more("Ppm", "@impurities = [ { of = \"K\", high = \"10 ppm\" } ]\n", {"ppm"}),
        more("MisspeltKeyOfMoisture", "@moisture = { value = \"1 %\", uu = \"0.1 %\" }\n",
             {"'uu'"}),
        more("MisspeltKeyOfLoss", "@loss_on_ignition = { value = \"1 %\", hihg = \"2 %\" }\n",
             {"'hihg'", "did you mean high?"}),
        more("MoistureAll", "@moisture = \"100 %\"\n", {"below 100 %"}),
        more("MoisturePerLitre", "@moisture = \"1 mg/L\"\n", {"not a share"}),
        more("BothFormulaAndComposition", "composition = [ { of = \"NaCl\", value = \"9 %\" } ]\n",
             {"either a formula", "or a composition"}),
        {"NeitherFormulaNorComposition",
         "materials",
         instead(kMaterials, "formula = \"NaCl\"\n", ""),
         {"give a formula with an assay, or a composition"}},
        {"ChargeNotClosed",
         "materials",
         instead(kMaterials, "formula = \"NaCl\"\nassay = \"99 %\"",
                 "composition = [ { of = \"Na\", value = \"30 %\" } ]"),
         {"charge", "balance"}},
        more("BalanceUnknown", "balance = \"Xx\"\n", {"'Xx'"}),
        more("BalanceWithoutCharge", "balance = \"B\"\n", {"cannot close a charge", "Cl"}),
    };
}

std::vector<BadCase> purchases() {
    return {
        more("MisspeltKey", "@prise = \"1 EUR/kg\"\n", {"'prise'", "did you mean price?"}),
        more("PriceWithoutUnit", "@price = \"0.6\"\n", {"'0.6' has no unit", "EUR/kg"}),
        more("PriceInWords", "@price = \"0.6 euro/kg\"\n", {"euro/kg", "EUR/kg"}),
        more("PricePerLitre", "@price = \"0.6 EUR/L\"\n", {"per kg, t or g"}),
        more("PriceNegative", "@price = \"-1 EUR/kg\"\n", {"'-1 EUR/kg' is not a price"}),
        more("PriceWithoutMass", "@price = \"0.6 EUR\"\n", {"EUR"}),
        more("PriceBeyondReason", "@price = \"1e308 EUR/g\"\n", {"1e308"}),
        more("TwoCurrencies",
             "price = \"0.6 EUR/kg\"\n[[material]]\nname = \"sylvite\"\nformula = \"KCl\"\n"
             "assay = \"99 %\"\nprice = \"1 USD/kg\"\n",
             {"EUR and USD", "one currency"}),
        more("PackageZero", "@package = \"0 kg\"\n", {"more than 0"}),
        more("PackageWithoutUnit", "@package = 25\n", {"25 has no unit", "25 kg"}),
        more("WholePackagesOfWhat", "@whole_packages = true\n", {"package = \"25 kg\""}),
        more("StockNegative", "@stock = \"-1 kg\"\n", {"negative"}),
        more("StepZero", "@step = \"0 g\"\n", {"above 0"}),
        more("LeastAboveMost", "@least = \"2 g/kg\"\nmost = \"1 g/kg\"\n", {"least is above most"}),
        more("LeastBeyondReason", "@least = \"900 g/kg\"\n", {"least"}),
        more("GrainIncomplete", "@grain = { d10 = \"1 mm\" }\n", {"d10, d50 and d90"}),
        more("GrainFalling", "@grain = { d10 = \"3 mm\", d50 = \"2 mm\", d90 = \"1 mm\" }\n",
             {"rising order"}),
        more("DensityZero", "@density = \"0 g/cm3\"\n", {"0.1 and 23 g/cm3"}),
        more("DensityAsMass", "@density = \"2 kg\"\n", {"is not a density"}),
        more("HazardUnknown", "@hazards = [\"H999\"]\n", {"'H999'", "such as H319"}),
        more("HazardAsText", "@hazards = \"H319\"\n", {"a list of texts is needed"}),
        more("HazardAsNumber", "@hazards = [319]\n", {"only text"}),
        more("RoleUnknown", "@role = \"boss\"\n", {"'boss'", "major, minor, trace or premix"}),
        more("SameName",
             "[[material]]\n@name = \"table salt\"\nformula = \"KCl\"\nassay = \"99 %\"\n",
             {"'table salt'", "already"}),
        {"NoMaterial",
         "materials",
         "format = \"brinewright/1\"\nkind = \"materials\"\n",
         {"[[material]]"}},
        {"TableForTables",
         "materials",
         instead(kMaterials, "[[material]]", "@[material]"),
         {"[[material]]", "not a table"}},
        {"NameMissing",
         "materials",
         instead(kMaterials, "name = \"table salt\"\n", ""),
         {"name is missing"}},
    };
}

BW_BAD_CASES(BadFormula, formulas());
BW_BAD_CASES(BadAssay, assays());
BW_BAD_CASES(BadImpurity, impurities());
BW_BAD_CASES(BadPurchase, purchases());

TEST(BadAssays, OutOfRangeAreAllRefused) {
    int tried = 0;
    int refused = 0;
    for (const BadCase& bad : assays()) {
        if (bad.name == "Zero" || bad.name == "Above110" || bad.name == "LimitAbove110" ||
            bad.name == "Negative") {
            ++tried;
            run_bad_case(bad, false);
            refused += HasFailure() ? 0 : 1;
        }
    }
    bw::test::record(
        {"Recipes", "materials with an assay of 0, below 0 or over 110 %", "refused, exit code 2",
         fmt::format("{} of {}, each in one sentence; nothing written", refused, tried),
         refused == tried && tried == 4});
}

}  // namespace
