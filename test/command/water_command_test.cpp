// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// reading convert and calibration-fluid plan: fields and exit codes that scripts rely on;
// complaints of these and of vat in one line.
#include <nlohmann/json.hpp>

#include "command/bad_case.hpp"
#include "command/water_answer.hpp"

namespace {

using namespace bw::command_test;

const std::string kDial = "refractometer 36.44 g/kg, dial sodium-chloride";

const std::string kMeter = "conductivity 53.07 mS/cm, uncompensated";

// The fixed fields; 35 and its properties as in test/check/instruments.toml, to what two decimals
// of a reading leave.
TEST(ReadingConvert, GivesTheFixedFields) {
    const Json got = json_of({"reading", "convert", kDial, kMeter, "--at", "25 degC"});
    EXPECT_NEAR(got["practical_salinity"].get<double>(), 35, 0.005);
    EXPECT_NEAR(got["salinity_g_per_kg"].get<double>(), 35.165, 0.005);
    EXPECT_GT(got["standard_uncertainty_g_per_kg"].get<double>(), 0.1);
    EXPECT_TRUE(got["consistent"].get<bool>());
    const Json& readings = got["readings"];
    EXPECT_NEAR(readings["conductivity_mS_per_cm"].get<double>(), 53.071, 0.01);
    EXPECT_NEAR(readings["sg_20_20"].get<double>(), 1.02661, 1e-5);
    EXPECT_NEAR(readings["sg_25_25"].get<double>(), 1.02637, 1e-5);
    EXPECT_NEAR(readings["density_kg_per_m3"].get<double>(), 1023.343, 0.01);
    EXPECT_NEAR(readings["refractive_index"].get<double>(), 1.33939, 1e-5);
    EXPECT_NEAR(readings["nacl_scale_ppt"].get<double>(), 36.42, 0.01);
    ASSERT_EQ(got["given"].size(), 2U);
    for (const char* part : {"reading", "standard", "temperature", "formula", "composition"}) {
        EXPECT_TRUE(got["given"][0]["budget"].contains(part + std::string("_g_per_kg"))) << part;
    }
}

TEST(ReadingConvert, GoesTheOtherWay) {
    const Json by_salinity = json_of({"reading", "convert", "--salinity", "35"});
    const Json by_mass = json_of({"reading", "convert", "--salinity", "35.16504 g/kg"});
    EXPECT_NEAR(by_salinity["readings"]["nacl_scale_ppt"].get<double>(), 36.42, 0.005);
    EXPECT_NEAR(by_mass["practical_salinity"].get<double>(), 35, 1e-9);
    EXPECT_FALSE(by_salinity.contains("given"));
}

TEST(ReadingConvert, NamesTheCauseAndGivesExitCodeOne) {
    const Json got = json_of({"reading", "convert", "hydrometer 1.0253, marked 25/25", kMeter,
                              "density 1023.34 kg/m3", "--at", "25 degC"},
                             1);
    EXPECT_FALSE(got["consistent"].get<bool>());
    EXPECT_TRUE(got["decisive"].get<bool>());
    EXPECT_EQ(got["causes"][0]["code"], "hydrometer_marks_differ");
    EXPECT_EQ(got["causes"][0]["reading"], 1);
    const Outcome text = run_here({"reading", "convert", "hydrometer 1.0253, marked 25/25", kMeter,
                                   "density 1023.34 kg/m3", "--at", "25 degC"});
    EXPECT_EQ(text.code, 1);
    EXPECT_NE(text.out.find("marked 20/20, not 25/25"), std::string::npos) << text.out;
}

TEST(ReadingConvert, ReadsEveryPhraseOfItsHelp) {
    for (const char* phrase :
         {"conductivity 53.1 mS/cm, to 25 degC by 2 %/K, at 22 degC",
          "conductivity 5.0 S/m, uncompensated, at 22 degC",
          "conductivity 53100 uS/cm, uncompensated, at 25 degC",
          "conductivity 53.1 +- 0.3 mS/cm, uncompensated, at 25 +- 0.1 degC",
          "conductivity 53.1 mS/cm, uncompensated, standard +- 0.2 mS/cm, at 25 degC",
          "salinity-meter 35.0, at 22 degC", "refractometer 36.4 g/kg, dial sodium-chloride",
          "refractometer 37.3 g/L, dial sodium-chloride",
          "refractometer 1.0261, dial sodium-chloride", "refractometer 35, dial seawater",
          "refractometer 1.3394, dial index",
          "refractometer 33, dial seawater, uncompensated, zeroed at 20 degC, at 24 degC",
          "hydrometer 1.0253, marked 20/20, at 25 degC",
          "hydrometer 1.0246, marked 60F/60F, at 25 degC",
          "hydrometer 1023.2 kg/m3, marked 20, at 25 degC", "density 1.0234 g/mL, at 25 degC",
          "density 1.0234 kg/L, at 25 degC", "weighed 36.5 g in 1000 g",
          "weighed 38.4 g in 1 kg, anhydrous 95 +- 0.3 %"}) {
        const Outcome got = run_here({"reading", "convert", phrase});
        EXPECT_EQ(got.code, 0) << phrase << ": " << got.err;
    }
}

// 0.3 mS/cm over 1.348 mS/cm for each unit of salinity.
TEST(ReadingConvert, TakesTheUncertaintyTyped) {
    const Json got = json_of({"reading", "convert",
                              "conductivity 53.07 +- 0.3 mS/cm, uncompensated, standard +- 0.1 "
                              "mS/cm, at 25 +- 0.5 degC"});
    const Json& budget = got["given"][0]["budget"];
    const double per_practical = 35.16504 / 35;
    EXPECT_NEAR(budget["reading_g_per_kg"].get<double>(), 0.3 / 1.348 * per_practical, 2e-4);
    EXPECT_NEAR(budget["standard_g_per_kg"].get<double>(), 0.1 / 1.348 * per_practical, 1e-4);
    EXPECT_NEAR(budget["temperature_g_per_kg"].get<double>(), 0.5 * 0.775 * per_practical, 5e-4);
}

TEST(CalibrationFluid, ItsMassesHaveTheUncertaintyOfTheAssay) {
    const Json got = json_of({"calibration-fluid", "plan", "refractometer, dial sodium-chloride",
                              "--assay", "99.5 +- 0.2 %"});
    EXPECT_NEAR(got["salt_standard_uncertainty_g"].get<double>(),
                got["salt_g"].get<double>() * 0.2 / 99.5, 1e-9);
    const Outcome text =
        run_here({"calibration-fluid", "plan", "refractometer, dial sodium-chloride", "--assay",
                  "99.5 +- 0.2 %"});
    EXPECT_NE(text.out.find("g\n  purified water"), std::string::npos) << text.out;
}

// A weak water on scales without unit: two places, as of any other salinity.
TEST(ReadingConvert, WeakSalinitiesAreShownLikeOthers) {
    const Outcome got = run_here({"reading", "convert", "salinity-meter 0.5", "--at", "25 degC"});
    EXPECT_NE(got.out.find("0.50  "), std::string::npos) << got.out;
    EXPECT_EQ(got.out.find("0.50000"), std::string::npos) << got.out;
}

TEST(CalibrationFluid, SaysWhatItTakesForGranted) {
    const Json plain = json_of({"calibration-fluid", "plan", "conductivity"});
    EXPECT_TRUE(mentions(plain, "taken to show the conductivity as it is"));
    EXPECT_TRUE(mentions(plain, "taken as pure and dry"));
    const Json stated = json_of(
        {"calibration-fluid", "plan", "conductivity, uncompensated", "--assay", "99.5 +- 0.2 %"});
    EXPECT_FALSE(mentions(stated, "taken to show"));
    EXPECT_FALSE(mentions(stated, "pure and dry"));
    const Json per_mass =
        json_of({"calibration-fluid", "plan", "refractometer, dial sodium-chloride"});
    EXPECT_TRUE(mentions(per_mass, "taken to show g per kg"));
    const Json per_litre =
        json_of({"calibration-fluid", "plan", "refractometer, dial sodium-chloride g/L"});
    EXPECT_FALSE(mentions(per_litre, "taken to show g per kg"));
    EXPECT_EQ(per_litre["shows_unit"], "g/L");
}

TEST(Reading, ADialsUnitMustBeTheReadings) {
    const Outcome got =
        run_here({"reading", "convert", "refractometer 36.4 g/kg, dial sodium-chloride g/L"});
    EXPECT_EQ(got.code, 2);
    EXPECT_NE(got.err.find("not that of the dial"), std::string::npos);
}

// A reading a little beyond what a water can show is no slip of a unit, though a thousandth of it
// could be shown; one far off is.
TEST(ReadingConvert, AsksForAThousandOnlyFarOffTheRange) {
    const auto complaint = [](const std::string& phrase) {
        const Outcome got = run_here({"reading", "convert", phrase});
        EXPECT_EQ(got.code, 2) << phrase;
        EXPECT_NE(got.err.find("outside what"), std::string::npos) << got.err;
        return got.err;
    };
    for (const char* phrase :
         {"salinity-meter 43, at 25 degC", "refractometer 45 g/kg, dial sodium-chloride",
          "conductivity 53.1 mS/cm, uncompensated, at 0 degC"}) {
        EXPECT_EQ(complaint(phrase).find("thousand"), std::string::npos) << phrase;
    }
    EXPECT_NE(complaint("salinity-meter 35000, at 25 degC").find("thousand times too large"),
              std::string::npos);
}

TEST(ReadingConvert, AsksAboutLikelySlips) {
    EXPECT_TRUE(mentions(json_of({"reading", "convert", "refractometer 1.0264, dial seawater"}),
                         "marked 20/20"));
    EXPECT_TRUE(mentions(
        json_of({"reading", "convert", "conductivity 53.1 uS/cm, uncompensated, at 25 degC"}),
        "uS/cm for mS/cm"));
    EXPECT_TRUE(json_of({"reading", "convert", kMeter, "--at", "25 degC"})["notices"].empty());
}

TEST(ReadingConvert, PureWaterHasAnUncertaintyAndANoticeStandsOnce) {
    const Json pure =
        json_of({"reading", "convert", "conductivity 0 mS/cm, uncompensated, at 25 degC"});
    EXPECT_EQ(pure["salinity_g_per_kg"].get<double>(), 0);
    EXPECT_GT(pure["standard_uncertainty_g_per_kg"].get<double>(), 0);
    const Json warm = json_of({"reading", "convert", "weighed 36.5 g in 1 kg", "--at", "45 degC"});
    EXPECT_EQ(warm["notices"].size(), 2U);
}

TEST(CalibrationFluid, ReachesTheEndOfPracticalSalinity) {
    const Json got = json_of({"calibration-fluid", "plan", "density", "--salinity", "42"});
    EXPECT_NEAR(got["shows"].get<double>(), 1028.643, 1e-3);
}

TEST(CalibrationFluid, PlansOneFluidForEachInstrument) {
    struct Wanted {
        const char* instrument;
        double percent;
    };
    for (const Wanted& w : {Wanted{"refractometer, dial sodium-chloride", 3.645},
                            {"density", 3.715},
                            {"hydrometer, marked 25/25", 3.715},
                            {"conductivity", 3.30}}) {
        const Json got = json_of({"calibration-fluid", "plan", w.instrument});
        EXPECT_NEAR(got["strength_percent"].get<double>(), w.percent, 0.01) << w.instrument;
        EXPECT_NEAR(got["salt_g"].get<double>() + got["purified_water_g"].get<double>(), 1000,
                    1e-9);
        EXPECT_GE(got["notices"].size(), 2U);
    }
}

// From nothing there is no change in per cent, and of what rounding leaves of 0 there is none.
TEST(WaterCompare, NextToNothingIsNoReferenceForAChange) {
    const TestFolder folder;
    const auto brine = [&](const char* name, const char* alkalinity, const char* magnesium) {
        return folder.write(name, std::string(R"(format = "brinewright/1"
kind = "water"
name = "Brine"
[constituents]
unit = "mmol/kg"
Na = 300
Cl = 300.001
carbon = 1
alkalinity = )") + alkalinity +
                                      "\nMg = " + magnesium + "\n");
    };
    const std::string none = brine("none.toml", "1e-12", "0.0005");
    const std::string some = brine("some.toml", "2", "1.0005");
    const Outcome text = run_here({"water", "compare", none, some});
    EXPECT_EQ(text.code, 0) << text.err;
    EXPECT_NE(text.out.find("the first is next to nothing"), std::string::npos) << text.out;
    EXPECT_EQ(text.out.find("e+"), std::string::npos) << text.out;
    const Json got = json_of({"water", "compare", none, some});
    EXPECT_EQ(got.dump().find("e+"), std::string::npos);
    const Outcome back = run_here({"water", "compare", some, none});
    EXPECT_NE(back.out.find("-100"), std::string::npos) << back.out;
}

TEST(WaterCommands, QuietPrintsNothing) {
    for (const Words& words : {Words{"reading", "convert", "--salinity", "35"},
                               Words{"vat", "plan", "--salinity", "35", "--volume", "10 L"},
                               Words{"vat", "mix", "6 L of 30", "4 L of 40"},
                               Words{"calibration-fluid", "plan", "density"}}) {
        Words quiet = words;
        quiet.emplace_back("--quiet");
        const Outcome got = run_here(quiet);
        EXPECT_EQ(got.code, 0);
        EXPECT_EQ(got.out + got.err, "");
        EXPECT_FALSE(run_here(words).out.empty());
    }
}

struct Complaint {
    Words words;
    std::vector<std::string> says;
};

TEST(WaterCommands, BadInputIsRefusedInOneLine) {
    const Words convert{"reading", "convert"};
    const auto reading = [&](const std::string& phrase) {
        return Words{"reading", "convert", phrase};
    };
    const auto plan = [&](const Words& more) {
        Words out{"vat", "plan", "--salinity", "35", "--volume", "9 L"};
        out.insert(out.end(), more.begin(), more.end());
        return out;
    };
    for (const Complaint& c : std::vector<Complaint>{
             {convert, {"nothing to convert", "--salinity"}},
             {{"reading", "convert", kDial, "--salinity", "35"}, {"two ways"}},
             {reading("refractometer 35 ppt, dial sodium-chloride"), {"ppt", "g/kg", "g/L"}},
             {reading("refractometer 35 g/kg"), {"dial"}},
             {reading("refractometer 35, dial sodium-chloride"), {"write the unit"}},
             {reading("hydrometer 1.025, at 25 degC"), {"marked 20/20"}},
             {reading("hydrometer 1.025, marked warm/20, at 25 degC"), {"60F/60F"}},
             {reading("hydrometer 1.025, marked 20/20"), {"temperature", "--at"}},
             {reading("hydrometer, marked 20/20"), {"no value"}},
             {reading("hydrometer 1.225, marked 20/20, at 25 degC"), {"1.225", "outside"}},
             {reading("conductivity 53 mS/cm, at 25 degC"), {"compensates"}},
             {reading("conductivity 53 g/kg, uncompensated, at 25 degC"), {"mS/cm"}},
             {reading("conductivity 53, uncompensated, at 25 degC"), {"mS/cm", "unit"}},
             {reading("conductivity 53 mS/cm, uncompensated, at 25 degC, upside down"),
              {"upside down"}},
             {reading("conductivity 53 mS/cm, uncompensated, at 25"), {"no unit"}},
             {reading("conductivity 53 mS/cm, uncompensated, at 90 degC"), {"90"}},
             {reading("thumb 35"), {"thumb", "hydrometer"}},
             {reading("density 1.0233 kg/m3, at 25 degC"),
              {"'density 1.0233 kg/m3", "997.05 to 1028.6", "a thousand times too small"}},
             {reading("hydrometer 1026.4, marked 25/25, at 25 degC"), {"times too large"}},
             {reading("weighed 36.5 kg in 1000 g"), {"973.33 g/kg is outside what is known of"}},
             {reading("weighed 36 g"), {"weighed 36.5 g in 1000 g"}},
             {reading("density 1023 +- 0 kg/m3, at 25 degC"), {"above 0"}},
             {reading(
                  "refractometer 36 g/kg, dial sodium-chloride, uncompensated, zeroed at 25 +- 2 "
                  "degC, at 25 degC"),
              {"25 +- 2 degC", "would not be used"}},
             {{"reading", "convert", "--salinity", "60"}, {"--salinity", "60"}},
             {{"reading", "convert", "--salinity", "36 g/L"}, {"--salinity", "g/kg"}},
             {{"reading", "convert", "--salinity", "35", "--salt", "rock"}, {"rock", "synthetic"}},
             {{"vat", "plan", "--salinity", "35"}, {"--volume", "--mass"}},
             {{"vat", "plan", "--salinity", "35", "--volume", "10 kg"}, {"--volume", "L"}},
             {{"vat", "plan", "--salinity", "35", "--volume", "0 L"}, {"--volume", "above 0"}},
             {{"vat", "plan", "--salinity", "35", "--volume", "9 L", "--anhydrous", "0 %"},
              {"anhydrous"}},
             {plan({"--anhydrous", "101 %"}), {"--anhydrous", "101 %", "0.1 to 100 %"}},
             {plan({"--anhydrous", "95 +- 200 %"}), {"--anhydrous", "below 100 %"}},
             {plan({"--weighing", "-1 %"}), {"--weighing", "0 to 10 %"}},
             {plan({"--purified-solids", "-1 g/kg"}), {"--purified-solids", "0 to 42 g/kg"}},
             {plan({"--purified-at", "90 degC"}), {"--purified-at", "0 to 40 degC"}},
             {plan({"--at", "-1 degC"}), {"--at", "0 to 40 degC"}},
             {{"vat", "plan", "--salinity", "50 g/kg", "--volume", "9 L"}, {"--salinity", "42"}},
             {{"vat", "plan", "--salinity", "35 +- 1", "--volume", "9 L"},
              {"--salinity", "would not be used"}},
             {{"vat", "plan", "--salinity", "35", "--volume", "9 +- 1 L"},
              {"--volume", "would not be used"}},
             {{"vat", "correct", "--volume", "9 L", "--holds", "33"}, {"--wanted", "--evaporated"}},
             {{"vat", "correct", "--volume", "9 L", "--holds", "33", "--wanted", "35",
               "--anhydrous", "150 %"},
              {"--anhydrous", "150 %"}},
             {{"vat", "correct", "--volume", "9 L", "--holds", "33", "--wanted", "35",
               "--anhydrous", "3 %"},
              {"--anhydrous", "cannot bring"}},
             {{"vat", "correct", "--volume", "9 L", "--holds", "33", "--wanted", "35",
               "--concentrate", "2000 g/kg"},
              {"--concentrate", "at most 400 g/kg"}},
             {{"vat", "correct", "--volume", "9 L", "--holds", "33", "--wanted", "35",
               "--concentrate", "30 g/kg"},
              {"--concentrate", "cannot bring"}},
             {{"vat", "correct", "--volume", "9 L", "--holds", "33", "--evaporated", "9 kg"},
              {"cannot lose"}},
             {{"vat", "mix", "600 L of 30"}, {"two waters"}},
             {{"vat", "mix", "-600 kg of 30", "400 L of 30"}, {"'-600 kg of 30'", "above 0"}},
             {{"vat", "mix", "6 kg of 30, at 45 degC", "400 L of 30"}, {"at 45 degC'", "0 to 40"}},
             {{"vat", "mix", "600 L", "400 L of 30"}, {"600 L of 30, at 25 degC"}},
             {{"calibration-fluid", "plan", "density", "--fluid", "sugar"}, {"sugar"}},
             {{"calibration-fluid", "plan", "density", "--fluid", "potassium-chloride"},
              {"sodium chloride"}},
             {{"calibration-fluid", "plan", "density", "--weighing", "-5 %"}, {"--weighing"}},
             {{"calibration-fluid", "plan", "density", "--assay", "150 %"}, {"--assay", "150 %"}},
             {{"calibration-fluid", "plan", "density", "--amount", "0 kg"}, {"--amount"}},
             {{"calibration-fluid", "plan", "thumb"}, {"thumb"}},
             {{"calibration-fluid", "plan", "density 1.02"}, {"instrument only"}},
         }) {
        SCOPED_TRACE(c.words.back());
        expect_complaint(run_here(c.words), 2, "", c.says);
    }
}

}  // namespace
