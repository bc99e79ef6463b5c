// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Targets that are refused: exit code 2 and one line that names the place and the mend.
#include "command/bad_case.hpp"

namespace {

using namespace bw::command_test;

BadCase more(std::string name, std::string_view text, std::vector<std::string> says) {
    return {std::move(name), "target", std::string(kTarget) + std::string(text), std::move(says)};
}
BadCase spoilt(std::string name, std::string_view from, std::string_view to,
               std::vector<std::string> says) {
    return {std::move(name), "target", instead(kTarget, from, to), std::move(says)};
}
BadCase calcium(std::string name, std::string_view text, std::vector<std::string> says) {
    return more(std::move(name), "[[constituent]]\nsymbol = \"Ca\"\n" + std::string(text),
                std::move(says));
}

std::vector<BadCase> names() {
    return {
        more("UnknownConstituent", "[[constituent]]\n@symbol = \"Xx\"\ntarget = \"1 mg/L\"\n",
             {"'Xx'", "is not a constituent", "Na, Mg, SO4"}),
        more("MisspeltConstituent", "[[constituent]]\n@symbol = \"SO3\"\ntarget = \"1 mg/L\"\n",
             {"'SO3'", "did you mean"}),
        more("NameForASymbol", "[[constituent]]\n@symbol = \"Calcium\"\ntarget = \"1 mg/L\"\n",
             {"'Calcium'", "did you mean Ca?"}),
        more("WrongCaseOfSymbol", "[[constituent]]\n@symbol = \"MG\"\ntarget = \"1 mg/L\"\n",
             {"'MG'", "did you mean Mg?"}),
        more("MissingSymbol", "@[[constituent]]\ntarget = \"1 mg/L\"\n", {"symbol is missing"}),
        more("UnknownInCeiling", "[[ceiling]]\n@symbol = \"Cuu\"\nhigh = \"1 ug/L\"\n",
             {"'Cuu'", "did you mean Cu?"}),
        more("UnknownInRatio", "[[ratio]]\n@of = \"Mg/Cz\"\nlow = 1\n",
             {"'Cz'", "did you mean Ca?"}),
        more("UnknownInWater", "[purified_water]\nunit = \"mg/L\"\n@Sj = 1\n",
             {"'Sj'", "did you mean"}),
        more("SameConstituentTwice",
             "[[constituent]]\nsymbol = \"Ca\"\ntarget = \"400 mg/L\"\n"
             "[[constituent]]\n@symbol = \"Ca\"\ntarget = \"400 mg/L\"\n",
             {"Ca stands twice"}),
        more("SameCeilingTwice",
             "[[ceiling]]\nsymbol = \"Cu\"\nhigh = \"1 ug/L\"\n"
             "[[ceiling]]\n@symbol = \"Cu\"\nhigh = \"2 ug/L\"\n",
             {"Cu stands twice"}),
        more("SameRatioTwice",
             "[[ratio]]\nof = \"Mg/Ca\"\nlow = 5\n[[ratio]]\n@of = \"Mg/Ca\"\nhigh = 4\n",
             {"Mg/Ca", "twice"}),
        more("RatioToItself", "[[ratio]]\n@of = \"Ca/Ca\"\nlow = 5\n", {"Ca"}),
        more("RatioOfAnAbsentConstituent", "[[ratio]]\n@of = \"Mg/Li\"\nlow = 5\n",
             {"Li", "not among the constituents", "name it"}),
        more("RatioWithoutSlash", "[[ratio]]\n@of = \"MgCa\"\nlow = 5\n", {"'MgCa'", "\"Mg/Ca\""}),
        calcium("MisspeltKey", "@targt = \"1 mg/L\"\n", {"'targt'", "did you mean target?"}),
        spoilt("MisspeltKeyAtTheTop",
               "salinity =", "@salnity =", {"'salnity'", "did you mean salinity?"}),
        more("MisspeltKeyOfLimits", "[limits]\n@smallest_dos = \"2 mg/kg\"\n",
             {"'smallest_dos'", "did you mean smallest_dose?"}),
        more("MisspeltKeyOfBatch", "[batch]\n@blnd = \"2 kg\"\n",
             {"'blnd'", "did you mean blend?"}),
        more("FarKey", "@colour = \"blue\"\n", {"'colour'", "allowed are", "salinity"}),
        calcium("NoNaturalAmount",
                "target = \"400 mg/L\"\n[[constituent]]\nsymbol = \"EDTA\"\n"
                "@target = \"natural\"\n",
                {"EDTA", "write a quantity"}),
    };
}

std::vector<BadCase> quantities() {
    return {
        calcium("UnknownUnit", "@target = \"420 mgg/L\"\n", {"'mgg/L'", "did you mean mg/L?"}),
        calcium("FarUnit", "@target = \"420 furlong\"\n", {"'furlong'", "known ones are"}),
        calcium("Ppm", "@target = \"420 ppm\"\n", {"ppm", "mg/kg", "mg/L", "write one of them"}),
        calcium("Ppb", "@target = \"420 ppb\"\n", {"ppb", "ug/kg", "ug/L", "write one of them"}),
        spoilt("SalinityInPpt", "\"35\"", "\"35 ppt\"", {"ppt", "g/kg", "g/L"}),
        calcium("NumberWithoutUnit", "@target = 420\n", {"420 has no unit", "\"420 mg/L\""}),
        calcium("TextWithoutUnit", "@target = \"420\"\n", {"'420' has no unit", "\"420 mg/L\""}),
        calcium("UnitOfAnotherKind", "@target = \"420 degC\"\n", {"degC", "use mg/L"}),
        calcium("FormUnknown", "@target = \"420 mg/L as Xx2\"\n", {"'Xx2'", "not an element"}),
        calcium("FormWithoutIt", "@target = \"420 mg/L as NaCl\"\n", {"NaCl holds no calcium"}),
        calcium("FormMissing", "@target = \"420 mg/L as\"\n", {"as"}),
        calcium("DecimalComma", "@target = \"4,2 mg/L\"\n", {"'4,2'", "decimal point"}),
        calcium("ThousandsComma", "@target = \"1,420 mg/L\"\n", {"no thousands separators"}),
        calcium("ThousandsBlank", "@target = \"1 420 mg/L\"\n", {"1 420"}),
        calcium("TwoPoints", "@target = \"1.2.3 mg/L\"\n", {"'1.2.3'", "12.5"}),
        calcium("Nan", "@target = nan\n", {"nan", "finite number"}),
        calcium("Infinite", "@high = inf\n", {"inf", "finite number"}),
        calcium("NanAsText", "@target = \"nan mg/L\"\n", {"'nan mg/L'", "\"440 mg/L\""}),
        calcium("InfAsText", "@target = \"inf mg/L\"\n", {"'inf mg/L'", "\"440 mg/L\""}),
        calcium("TooLargeForANumber", "@target = \"1e999 mg/L\"\n", {"'1e999'", "too large"}),
        calcium("MoreThanTheWaterHolds", "low = \"1 mg/kg\"\n@high = \"1e300 kg/kg\"\n", {"1e300"}),
        calcium("Negative", "@target = \"-4 mg/L\"\n", {"'-4 mg/L' is negative"}),
        calcium("NegativeLow", "@low = \"-4 mg/L\"\nhigh = \"4 mg/L\"\n", {"negative"}),
        calcium("LowAboveHigh", "@low = \"430 mg/L\"\nhigh = \"410 mg/L\"\n",
                {"low of Ca is above its high"}),
        calcium("TargetOutsideItsBand",
                "@target = \"420 mg/L\"\nlow = \"430 mg/L\"\nhigh = \"450 mg/L\"\n",
                {"target of Ca", "between its low and its high"}),
        calcium("NothingAsked", "note = \"only a note\"\n", {"neither target, nor low, nor high"}),
        calcium("FlagForAQuantity", "@target = true\n", {"\"440 mg/L\"", "not true or false"}),
        calcium("ListForAQuantity", "@target = [420]\n", {"\"440 mg/L\"", "not a list"}),
        calcium("TableForAQuantity", "@target = { value = 420 }\n", {"\"440 mg/L\"", "a table"}),
        calcium("PriorityZero", "target = \"420 mg/L\"\n@priority = 0\n",
                {"0 is not a whole number from 1 to 9"}),
        calcium("PriorityInWords", "target = \"420 mg/L\"\n@priority = \"high\"\n", {"'high'"}),
        calcium("PriorityInHalves", "target = \"420 mg/L\"\n@priority = 1.5\n",
                {"1.5 is not a whole number"}),
        calcium("UnknownAim", "target = \"420 mg/L\"\n@aim = \"middle\"\n",
                {"'middle'", "\"target\" or \"band\""}),
        more("RatioLowAboveHigh", "[[ratio]]\nof = \"Mg/Ca\"\n@low = 5\nhigh = 4\n",
             {"low of the ratio is above its high"}),
        more("RatioTargetOutside", "[[ratio]]\nof = \"Mg/Ca\"\nlow = 5\nhigh = 5.2\n@target = 6\n",
             {"between its low and its high"}),
        more("RatioNegative", "[[ratio]]\nof = \"Mg/Ca\"\nlow = -5\n", {"above 0"}),
        more("RatioBeyondReason", "[[ratio]]\nof = \"Mg/Ca\"\n@target = 1e300\n",
             {"beyond reason", "1e-9 to 1e9"}),
        more("RatioNextToNothing", "[[ratio]]\nof = \"Mg/Ca\"\n@low = 1e-30\n",
             {"beyond reason", "1e-9 to 1e9"}),
        more("AmountBeyondReason", "[[constituent]]\nsymbol = \"I\"\n@target = \"1e-30 mg/L\"\n",
             {"beyond reason", "1e-15 mol/kg", "1.3e-10 mg/L"}),
        more("CeilingBeyondReason", "[[ceiling]]\nsymbol = \"Cu\"\n@high = \"1e-20 ug/L\"\n",
             {"beyond reason", "1e-15 mol/kg"}),
        more("RatioNan", "[[ratio]]\nof = \"Mg/Ca\"\n@low = nan\n", {"finite number"}),
        more("RatioWithUnit", "[[ratio]]\nof = \"Mg/Ca\"\n@low = \"5 mol\"\n", {"'5 mol'"}),
        more("RatioWithoutLimits", "@[[ratio]]\nof = \"Mg/Ca\"\n", {"neither low, nor high"}),
        more("RatioBasis", "[[ratio]]\nof = \"Mg/Ca\"\nlow = 5\n@basis = \"weight\"\n",
             {"'weight'", "\"mol\" or \"mass\""}),
        more("CeilingZero", "[[ceiling]]\nsymbol = \"Cu\"\n@high = \"0 ug/L\"\n", {"above 0"}),
        more("CeilingNegative", "[[ceiling]]\nsymbol = \"Cu\"\n@high = \"-1 ug/L\"\n",
             {"negative"}),
        more("CeilingWithoutHigh", "@[[ceiling]]\nsymbol = \"Cu\"\n", {"no high"}),
    };
}

std::vector<BadCase> waters() {
    return {
        spoilt("SalinityZero", "salinity = \"35\"", "@salinity = \"0\"", {"salinity", "0"}),
        spoilt("SalinitySixty", "salinity = \"35\"", "@salinity = \"60\"", {"60", "42"}),
        spoilt("SalinityNegative", "salinity = \"35\"", "@salinity = -3", {"salinity", "-3"}),
        spoilt("SalinityNearlyZero", "salinity = \"35\"", "@salinity = 1e-300", {"salinity"}),
        spoilt("SalinityNan", "salinity = \"35\"", "@salinity = nan", {"finite number"}),
        spoilt("SalinityMissing", "salinity = \"35\"\n", "", {"salinity is missing", "\"35\""}),
        spoilt("SalinityPerLitre", "salinity = \"35\"", "@salinity = \"35 g/L\"", {"'35 g/L'"}),
        spoilt("SalinityLowAbove", "temperature", "@salinity_low = \"36\"\ntemperature",
               {"between its low and its high"}),
        spoilt("SalinityHighBelow", "temperature", "@salinity_high = \"34\"\ntemperature",
               {"between its low and its high"}),
        spoilt("TemperatureEighty", "temperature = \"25 degC\"", "@temperature = \"80 degC\"",
               {"0 to 40 degC", "80 degC"}),
        spoilt("TemperatureBelowZero", "temperature = \"25 degC\"", "@temperature = \"-5 degC\"",
               {"0 to 40 degC", "-5 degC"}),
        spoilt("TemperatureWithoutUnit", "temperature = \"25 degC\"", "@temperature = 25",
               {"25 has no unit", "\"25 degC\""}),
        spoilt("TemperatureInAnotherUnit", "temperature = \"25 degC\"",
               "@temperature = \"25 mg/L\"", {"'25 mg/L' is not a temperature", "degC"}),
        spoilt("RestUnknown", "rest = \"natural\"", "@rest = \"nature\"",
               {"'nature'", "\"natural\""}),
        spoilt("NoConstituent", "rest = \"natural\"\n", "", {"[[constituent]]", "natural"}),
        spoilt("NameMissing", "name = \"Small\"\n", "", {"name is missing"}),
        spoilt("NameEmpty", "name = \"Small\"", "@name = \" \"", {"name"}),
        spoilt("NameIsANumber", "name = \"Small\"", "@name = 5",
               {"text in quotes is needed, not a number"}),
        more("FlagInWords", "@invented = \"yes\"\n", {"true or false is needed, not text"}),
        more("ListOfTextForTables", "@constituent = [\"Ca\"]\n", {"a table is needed", "text"}),
        more("TextForTables", "@constituent = \"Ca\"\n", {"[[constituent]]", "not text"}),
        more("TableForTables", "@constituent = { symbol = \"Ca\" }\n",
             {"[[constituent]]", "not a table"}),
        more("NumberForATable", "@limits = 3\n", {"a table is needed here, not a number"}),
        more("MaterialsZero", "[limits]\n@most_materials = 0\n", {"from 1 to 200"}),
        more("DosePerLitre", "[limits]\n@smallest_dose = \"2 mg/L\"\n", {"'2 mg/L'", "mg/kg"}),
        more("BlendZero", "[batch]\n@blend = \"0 kg\"\n", {"above 0"}),
        more("BlendMissing", "[batch]\nblend_swing = \"2 %\"\n", {"blend"}),
        more("SwingTooLarge", "[batch]\nblend = \"10 kg\"\n@blend_swing = \"50 %\"\n", {"20 %"}),
        more("StepZero", "[batch]\nblend = \"10 kg\"\n@weighing_step = \"0 g\"\n", {"above 0"}),
        more("BlendAsPrice", "[batch]\n@blend = \"10 EUR/kg\"\n", {"is not a mass, such as kg"}),
        more("PurifiedWaterNegative", "[purified_water]\n@Si = \"-1 mg/L\"\n", {"negative"}),
        more("PurifiedWaterWithoutUnit", "[purified_water]\n@Si = 1\n", {"1 has no unit"}),
        more("PurifiedWaterSaltierThanTheSea", "[purified_water]\n@Na = \"1e300 g/L\"\n", {"Na"}),
        more("PurifiedWaterAsPrice", "[purified_water]\nunit = \"EUR/kg\"\n@Si = 1\n", {"Si"}),
        more("DateForANumber", "@note = 2024-01-01\n", {"date", "in quotes"}),
    };
}

std::vector<BadCase> limits() {
    return {
        more("OmegaAsText", "[limits]\n@omega_aragonite = \"ten\"\n",
             {"omega_aragonite", "number"}),
        more("OmegaZero", "[limits]\n@omega_aragonite = 0\n", {"1e-6 to 1e6"}),
        more("OmegaNegative", "[limits]\n@omega_brucite = -1\n", {"1e-6 to 1e6"}),
        more("OmegaOfAnUnknownSolid", "[limits]\n@omega_aragonit = 5\n",
             {"'omega_aragonit'", "did you mean omega_aragonite?"}),
        more("AirWithoutALimit", "[limits]\n@pCO2 = \"420 uatm\"\n",
             {"pCO2 says where", "none is given"}),
        more("TemperatureWithoutALimit", "[limits]\n@temperature = \"25 degC\"\n",
             {"temperature says where", "none is given"}),
        more("AirWithoutCarbonDioxide", "[limits]\nomega_gypsum = 1\n@pCO2 = \"0 uatm\"\n",
             {"10 to 100000 uatm"}),
        more("AirWithoutUnit", "[limits]\nomega_gypsum = 1\n@pCO2 = 420\n", {"420 has no unit"}),
        more("AirInAnotherUnit", "[limits]\nomega_gypsum = 1\n@pCO2 = \"420 mg/L\"\n",
             {"'420 mg/L'", "uatm"}),
        more("LimitsTooWarm", "[limits]\nomega_gypsum = 1\n@temperature = \"41 degC\"\n",
             {"5 to 40 degC", "41"}),
        more("LimitsTooCold", "[limits]\nomega_gypsum = 1\n@temperature = \"4 degC\"\n",
             {"5 to 40 degC", "4"}),
        more("SafeTimeZero", "[limits]\n@safe_time = \"0 h\"\n", {"above 0 h"}),
        more("SafeTimeOverAYear", "[limits]\n@safe_time = \"1681 h\"\n",
             {"at most 1680 h", "a year"}),
        more("SafeTimeWithoutUnit", "[limits]\n@safe_time = 24\n", {"24 has no unit"}),
        more("SafeTimeAsAMass", "[limits]\n@safe_time = \"24 kg\"\n", {"'24 kg'", "h"}),
        more("ChanceAsAShare", "[limits]\n@chance_inside = \"0.9\"\n", {"write \"90 %\""}),
        more("SeedWithoutSafeTime", "[limits]\n@seed = \"1 mg/kg\"\n", {"safe_time"}),
        more("SeedTooMuch", "[limits]\nsafe_time = \"24 h\"\n@seed = \"2 g/kg\"\n", {"1000 mg/kg"}),
        more("ChanceOfAHalf", "[limits]\n@chance_inside = \"50 %\"\n", {"60 % to 99.99 %"}),
        more("ChanceOfOne", "[limits]\n@chance_inside = \"100 %\"\n", {"60 % to 99.99 %"}),
        more("ChanceWithoutUnit", "[limits]\n@chance_inside = 0.95\n", {"write \"95 %\""}),
    };
}

BW_BAD_CASES(BadTargetNames, names());
BW_BAD_CASES(BadTargetLimits, limits());
BW_BAD_CASES(BadTargetQuantities, quantities());
BW_BAD_CASES(BadTargetWaters, waters());

}  // namespace
