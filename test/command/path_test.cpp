// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// path run and path compare on the works' recipes: what the trade knows comes out as a computed
// order, files and fields hold, and bad input is refused in one line.
#include <algorithm>
#include <map>
#include <stdexcept>

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/bad_case.hpp"
#include "figure.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;
using Words = std::vector<std::string>;

const std::string kWorks = std::string(BW_SOURCE_DIR) + "/examples/works/";

/// The recipe of one of the works' targets, solved once.
const std::string& recipe_of(const std::string& target) {
    static TestFolder folder;
    static std::map<std::string, std::string> made;
    auto& path = made[target];
    if (path.empty()) {
        path = folder.path(target + "-recipe.toml");
        const Outcome got = run_here({"recipe", "solve", kWorks + target + ".toml", "--materials",
                                      kWorks + "materials.toml", "--out", path, "--quiet"});
        EXPECT_EQ(got.code, 0) << got.err;
    }
    return path;
}

Outcome path(const std::string& verb, const std::string& target, const Words& more = {}) {
    Words words{"path", verb, recipe_of(target), "--materials", kWorks + "materials.toml"};
    words.insert(words.end(), more.begin(), more.end());
    return run_here(words);
}

Json json(const std::string& verb, const std::string& target, Words more = {}) {
    more.emplace_back("--json");
    const Outcome got = path(verb, target, more);
    EXPECT_EQ(got.err, "");
    Json out = Json::parse(got.out, nullptr, false);
    EXPECT_FALSE(out.is_discarded()) << got.out.substr(0, 200);
    EXPECT_EQ(out.value("version", 0), 1);
    return out;
}

/// path compare's JSON, made once, with its comma-separated text under "csv".
const Json& compared(const std::string& target) {
    static std::map<std::string, Json> made;
    auto& out = made[target];
    if (out.is_null()) {
        const TestFolder folder;
        const std::string csv = folder.path("vats.csv");
        out = json("compare", target, {"--csv", csv});
        out["csv"] = read_bytes(csv);
    }
    return out;
}

double peak(const Json& way) { return way["peak_omega_aragonite"].get<double>(); }
double safe_h(const Json& way) { return way["safe_h"].get<double>(); }
double score(const Json& way) { return way["score_h"].get<double>(); }

const Json& named(const Json& ways, const std::string& name) {
    for (const Json& w : ways) {
        if (w["name"] == name) {
            return w;
        }
    }
    throw std::out_of_range(name);
}

// Common practice: salt goes into water, not water onto salt.
TEST(PathCompare, SaltIntoWaterIsSaferThanWaterOntoSalt) {
    for (const char* target : {"natural", "raised"}) {
        const Json& c = compared(target);
        EXPECT_GT(peak(c["water_onto_salt"]), 5 * peak(c["salt_into_water"])) << target;
        EXPECT_GT(score(c["water_onto_salt"]), score(c["salt_into_water"])) << target;
        EXPECT_EQ(c["water_onto_salt"]["risk"], "will cloud") << target;
        EXPECT_NE(c["salt_into_water"]["risk"], "will cloud") << target;
        double gypsum = 0;
        for (const Json& row : c["pile"]) {
            gypsum = std::max(gypsum, row.value("omega_gypsum", 0.0));
        }
        EXPECT_GT(gypsum, 3) << target;
    }
    bw::test::record(
        {"Dissolving", "salt goes into water, not water onto salt", "the same order computed",
         "natural and raised salt: water onto salt clouds, at over 5 times the peak of "
         "supersaturation; salt into water does not",
         !HasFailure()});
}

void record_temperatures(const Json& at) {
    constexpr double kHoursPerDay = 24;
    std::string found = "safe time";
    for (const Json& one : at) {
        found += fmt::format(" {:.0f} days ({}),", safe_h(one) / kHoursPerDay,
                             one["name"].get<std::string>());
    }
    found.pop_back();
    bw::test::record({"Dissolving", "raised salt: mixing at 20 to 23 degC is safer than warmer",
                      "the same order computed", found, !testing::Test::HasFailure()});
    // By how much the logarithm of the safe time falls with each kelvin, from one temperature to
    // the next: 20, 23, 25 and 28 degC.
    ASSERT_EQ(at.size(), 4U);
    const auto fall = [&](std::size_t i, double kelvin) {
        return std::log(safe_h(at[i]) / safe_h(at[i + 1])) / kelvin;
    };
    const double below = fall(0, 3), across = fall(1, 2), above = fall(2, 3);
    bw::test::record_miss(
        {"Dissolving", "raised salt: risk rises above some 24 degC",
         "a rise there that is not there below",
         fmt::format("the safe time falls by {:.0f} % for each kelvin from 20 to 23, by {:.0f} % "
                     "from 23 to 25 and by {:.0f} % from 25 to 28 degC",
                     -100 * std::expm1(-below), -100 * std::expm1(-across),
                     -100 * std::expm1(-above)),
         std::max(across, above) > 1.5 * below},
        "each law changes steadily with the temperature, and none knows a threshold");
    bw::test::record({"Dissolving", "mixing cool and heating afterwards beats mixing warm",
                      "the same order computed",
                      "later and less supersaturated for the natural and the raised salt",
                      !testing::Test::HasFailure()});
}

void record_order(const char* claim, const std::string& found) {
    bw::test::record(
        {"Dissolving", claim, "the same order computed", found, !testing::Test::HasFailure()});
}

// Common practice: mixing at 20 to 23 degC and heating afterwards beats mixing warm, and the risk
// rises with the temperature.
TEST(PathCompare, CoolThenWarmBeatsWarm) {
    for (const char* target : {"natural", "raised"}) {
        const Json& c = compared(target);
        EXPECT_LE(score(c["cool_then_warm"]), score(c["warm_from_start"])) << target;
        EXPECT_LT(peak(c["cool_then_warm"]), peak(c["warm_from_start"])) << target;
        EXPECT_GE(safe_h(c["cool_then_warm"]), safe_h(c["warm_from_start"])) << target;
    }
    const Json& at = compared("raised")["temperatures"];
    ASSERT_EQ(at.size(), 4U);
    for (std::size_t i = 1; i < at.size(); ++i) {
        EXPECT_LT(safe_h(at[i]), safe_h(at[i - 1]));
        EXPECT_GT(peak(at[i]), peak(at[i - 1]));
    }
    record_temperatures(at);
}

// Common practice: calcium and alkalinity do not meet before magnesium is there.
TEST(PathCompare, MagnesiumFirst) {
    const Json& orders = compared("raised")["orders"];
    ASSERT_EQ(orders.size(), 8U);
    const Json& best = orders.front();
    const Json& worst = orders.back();
    EXPECT_EQ(worst["name"], "calcium and alkalinity, the rest, magnesium");
    EXPECT_EQ(worst["risk"], "will cloud");
    EXPECT_LT(safe_h(worst), 1);
    EXPECT_GT(peak(worst), 5 * peak(best));
    EXPECT_EQ(best["risk"], "clear");
    EXPECT_GT(score(named(orders, "the rest, calcium and alkalinity, magnesium")), score(best));
    record_order("calcium and alkalinity do not meet before magnesium is there",
                 "of 8 orders of the raised salt magnesium last is the worst: clouds within 1 h, "
                 "peak of supersaturation over 5 times that of the best, which stays clear");
}

// Common practice: supplements of calcium, magnesium and alkalinity poured together in little
// water fall out at once; each in the whole vat does not.
TEST(PathCompare, ConcentratesFallOutAtOnce) {
    const auto minutes = [](const std::string& parts, double strength) {
        for (const Json& k : compared("raised")["concentrates"]) {
            if (k["parts"] == parts && k["strength"] == strength) {
                return k["minutes_to_onset"].is_null() ? 1e9 : k["minutes_to_onset"].get<double>();
            }
        }
        throw std::out_of_range(parts);
    };
    const std::string all = "calcium, magnesium and alkalinity";
    EXPECT_LT(minutes(all, 30), 60);
    EXPECT_LT(minutes(all, 10), minutes(all, 3));
    EXPECT_GT(minutes(all, 1), 24 * 60);
    EXPECT_LT(minutes("calcium and alkalinity", 10), 1);
    EXPECT_EQ(minutes("magnesium and alkalinity", 30), 1e9);
    record_order("calcium, magnesium and alkalinity poured together in little water fall out",
                 fmt::format("in {:.2g} min at 30 times the strength, calcium and alkalinity alone "
                             "in {:.2g} min at 10 times; more than a day at that of the vat",
                             minutes(all, 30), minutes("calcium and alkalinity", 10)));
}

// Common practice: too little magnesium lets calcium carbonate fall. The same alkalinity is
// carried by the raised salt with more magnesium.
TEST(PathRun, LittleMagnesiumIsWorse) {
    const Words seeded{"--seed", "0.1 mg/kg"};
    const Json low = json("run", "low_magnesium");
    const Json raised = json("run", "raised");
    EXPECT_LT(low["safe_time"]["hours"].get<double>(), raised["safe_time"]["hours"].get<double>());
    EXPECT_LT(json("run", "low_magnesium", seeded)["safe_time"]["hours"].get<double>(),
              json("run", "raised", seeded)["safe_time"]["hours"].get<double>());
    EXPECT_LT(raised["safe_time"]["hours"].get<double>(),
              json("run", "natural")["safe_time"]["hours"].get<double>());
    record_order("too little magnesium lets calcium carbonate fall",
                 "less magnesium clouds sooner than the raised salt, with and without 0.1 mg/kg of "
                 "seed; the raised salt sooner than the natural one");
}

// Common practice: a raised salt is ready after about half an hour of good mixing. Computed: the
// slowest lump, gently stirred.
TEST(PathRun, ReadyWithinAboutHalfAnHour) {
    const double gentle = json("run", "raised", {"--stirring", "0.01 W/kg"})["stir_h"];
    const double strong = json("run", "raised", {"--stirring", "1 W/kg"})["stir_h"];
    EXPECT_GT(gentle, 0.25);
    EXPECT_LT(gentle, 1);
    EXPECT_LT(strong, gentle);
    bw::test::record({"Dissolving", "raised salt is ready after good mixing",
                      "about half an hour; gently stirred, from 15 to 60 min",
                      fmt::format("{:.0f} min gently stirred (0.01 W/kg), {:.0f} min strongly "
                                  "(1 W/kg): the slowest lump",
                                  60 * gentle, 60 * strong),
                      gentle > 0.25 && gentle < 1});
}

// The hatchery's alkalinity is all carbonate: fresh, the water stands near pH 9.7, where brucite is
// supersaturated (common practice: above pH 9.5 magnesium falls).
TEST(PathRun, AllCarbonateBringsBrucite) {
    const Json got = json("run", "hatchery");
    EXPECT_EQ(got["risk"], "will cloud");
    EXPECT_THAT(got["reasons"][0].get<std::string>(), testing::StartsWith("brucite"));
    EXPECT_EQ(got["other_solids"], Json::array({"brucite"}));
    EXPECT_THAT(path("run", "hatchery").out,
                testing::AllOf(testing::HasSubstr("do not count on a time: brucite before"),
                               testing::HasSubstr("calcium carbonate alone, and brucite is in")));
}

TEST(PathRun, SeedShortensTheSafeTime) {
    double before = 1e9;
    for (const char* seed : {"0.01 mg/kg", "0.1 mg/kg", "1 mg/kg", "10 mg/kg"}) {
        const double hours = json("run", "raised", {"--seed", seed})["safe_time"]["hours"];
        EXPECT_LT(hours, before) << seed;
        before = hours;
    }
}

// Carbon that leaves raises Omega; a closed vat keeps it.
TEST(PathRun, AClosedVatStaysAsItWasMixed) {
    const Json closed = json("run", "raised", {"--gas-exchange", "0 /h"});
    const Json& course = closed["course"];
    const double mixed = course[10]["omega_aragonite"];
    EXPECT_NEAR(course.back()["omega_aragonite"].get<double>(), mixed, 0.02 * mixed);
    const Json open = json("run", "raised", {"--gas-exchange", "5 /h"});
    EXPECT_GT(open["course"].back()["omega_aragonite"].get<double>(), 1.3 * mixed);
    EXPECT_GT(closed["safe_time"]["hours"].get<double>(), open["safe_time"]["hours"].get<double>());
}

TEST(PathRun, TheLimitIsAtSaturation) {
    const Json got = json("run", "raised");
    ASSERT_FALSE(got["limit"].is_null());
    EXPECT_NEAR(got["limit"]["omega_aragonite"].get<double>(), 1, 1e-6);
    const double fallen = got["limit"]["fallen_mg_per_kg"]["aragonite"];
    EXPECT_GT(fallen, 50);
    EXPECT_LT(fallen, 250);  // all alkalinity of 4 meq/kg would be 200 mg
}

TEST(PathRun, ExitCodesFollowTheVerdict) {
    EXPECT_EQ(path("run", "natural", {"--quiet"}).code, 0);
    const Outcome clouds = path("run", "raised", {"--seed", "10 mg/kg", "--quiet"});
    EXPECT_EQ(clouds.code, 1);
    EXPECT_EQ(clouds.out, "");
    EXPECT_THAT(path("run", "raised", {"--seed", "10 mg/kg"}).out,
                testing::StartsWith("Raised reef salt (invented): will cloud\n"));
}

TEST(PathRun, OrderHeatAndSolutionAreTaken) {
    const Outcome got = path("run", "raised",
                             {"--add", "sodium hydrogencarbonate=30 min", "--predissolved",
                              "sodium hydrogencarbonate", "--heat-to", "26 degC", "--heat-from",
                              "2 h", "--temperature", "20 degC", "--film", "0.1 m/h"});
    EXPECT_EQ(got.code, 0) << got.err;
    EXPECT_THAT(got.out,
                testing::HasSubstr("sodium hydrogencarbonate after 30 min, as a solution"));
    EXPECT_THAT(got.out, testing::HasSubstr("heated to 26"));
}

TEST(PathRun, TheCourseIsWrittenWhole) {
    const TestFolder folder;
    const std::string csv = folder.path("course.csv");
    EXPECT_EQ(path("run", "natural", {"--csv", csv, "--quiet"}).code, 0);
    const std::string text = read_bytes(csv);
    EXPECT_THAT(text, testing::StartsWith("h,temperature degC,dissolved %,pH total"));
    EXPECT_GT(std::count(text.begin(), text.end(), '\n'), 20);
    EXPECT_EQ(text.find("nan"), std::string::npos);
}

// One vat, told twice: the text's table and the file with every vat agree.
TEST(PathCompare, TheFileAgreesWithTheTables) {
    const Json& c = compared("raised");
    const std::string csv = c["csv"];
    for (const Json& order : c["orders"]) {
        const std::string start = "\"" + order["name"].get<std::string>() + "\",25,0,";
        const std::string plain = order["name"].get<std::string>() + ",25,0,";
        const auto quoted = csv.find(start);
        const auto at =
            quoted != std::string::npos ? quoted + start.size() : csv.find(plain) + plain.size();
        const std::string row = csv.substr(at, csv.find('\n', at) - at);
        EXPECT_THAT(row, testing::StartsWith(order["risk"].get<std::string>()));
        const auto safe = row.find(',') + 1;
        EXPECT_NEAR(std::stod(row.substr(safe)), safe_h(order), 1e-6 * safe_h(order)) << row;
    }
}

// A verdict without dust says what a little of it would do, and what the bag is like.
TEST(PathRun, DustAndTheBagAreToldWithTheVerdict) {
    const Json clean = json("run", "raised");
    EXPECT_EQ(clean["risk"], "clear");
    EXPECT_EQ(clean["with_dust"]["risk"], "will cloud");
    EXPECT_LT(clean["with_dust"]["safe_time"]["hours"], clean["safe_time"]["hours"]);
    EXPECT_EQ(clean["bag"], "gets wet");
    EXPECT_GT(clean["at_rest_with_air"]["omega_aragonite"],
              clean["course"].back()["omega_aragonite"]);
    EXPECT_THAT(path("run", "raised").out,
                testing::StartsWith("Raised reef salt (invented): clear as long as the bag brings "
                                    "no dust of CaCO3, else will cloud\n"));
    EXPECT_TRUE(json("run", "raised", {"--seed", "1 mg/kg"})["with_dust"].is_null());
}

TEST(PathCompare, EveryVatIsWritten) {
    const std::string text = compared("natural")["csv"];
    EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 1 + 8 * 4 * 5);
}

struct Refused {
    Words words;
    std::string says;
};

TEST(PathRun, BadInputIsRefusedInOneLine) {
    const std::vector<Refused> cases{
        {{"--volume", "0 L"}, "above 0"},
        {{"--volume", "-5 L"}, "above 0"},
        {{"--temperature", "4 degC"}, "5 to 40"},
        {{"--temperature", "41 degC"}, "--temperature: "},
        {{"--temperature", "25"}, "degC"},
        {{"--air", "0 uatm"}, "without CO2"},
        {{"--gas-exchange", "-1 /h"}, "gas exchange"},
        {{"--gas-exchange", "1 /h", "--film", "0.1 m/h"}, "more than one way"},
        {{"--add", "sand=1 h"}, "not a part of the recipe"},
        {{"--add", "sodium chloride"}, "goes in when"},
        {{"--add", "sodium chloride=50 h"}, "--add: "},
        {{"--add", "sodium chloride=1 h", "--add", "sodium chloride=2 h"}, "twice"},
        {{"--predissolved", "sand"}, "not a part of the recipe"},
        {{"--seed", "-1 mg/kg"}, "seed"},
        {{"--seed", "1 mg"}, "mass per mass"},
        {{"--hours", "0 h"}, "--hours: "},
        {{"--keep", "0 h"}, "keep"},
        {{"--stirring", "0 W/kg"}, "--stirring: "},
        {{"--depth", "0 m", "--film", "0.1 m/h"}, "--depth: "},
        {{"--depth", "2 m"}, "without --film or --stone"},
        {{"--room", "20 degC"}, "write --drift"},
        {{"--room", "50 degC", "--drift", "0.1 /h"}, "--room: "},
        {{"--heat-from", "2 h"}, "--heat-to"},
        {{"--csv", ""}, "name is empty"},
        {{"--air", "3 atm"}, "--air: "},
        {{"--seed", "2000 mg/kg"}, "--seed: "},
        {{"--heat-to", "60 degC"}, "--heat-to: "},
        {{"--heat-to", "26 degC", "--heat-rate", "0 K/h"}, "--heat-rate: "},
        {{"--particles", "0"}, "--particles: "},
        {{"--csv", recipe_of("natural")}, "overwrite"},
    };
    for (const Refused& c : cases) {
        const Outcome got = path("run", "natural", c.words);
        EXPECT_EQ(got.code, 2) << c.words[0] << ' ' << c.words[1] << ": " << got.err;
        EXPECT_THAT(got.err, testing::HasSubstr(c.says));
        EXPECT_EQ(std::count(got.err.begin(), got.err.end(), '\n'), 1) << got.err;
        EXPECT_EQ(got.out, "");
    }
    bw::test::record({"Dissolving", "a vat at a temperature outside 5 to 40 degC",
                      "refused, exit code 2", "4 degC and 41 degC refused, each in one sentence",
                      !HasFailure()});
}

TEST(PathCompare, TheTankIsOneThatTheModelKnows) {
    for (const char* tank : {"45 degC", "4 degC"}) {
        const Outcome got = path("compare", "natural", {"--tank", tank});
        EXPECT_EQ(got.code, 2);
        EXPECT_THAT(got.err, testing::HasSubstr("--tank: the tank's temperature is"));
    }
}

// A salt whose alkalinity is all carbonate: the page says what hydrogencarbonate would make of it,
// and that an order with alkalinity last is better, as path compare does.
TEST(PathRun, ACloudySaltIsToldItsCure) {
    const Json bad = json("run", "hatchery");
    EXPECT_EQ(bad["risk"], "will cloud");
    const std::string all = bad["instructions"].dump();
    EXPECT_THAT(all, testing::HasSubstr("Were all its carbonate hydrogencarbonate"));
    EXPECT_THAT(all, testing::HasSubstr("the rest, calcium, alkalinity"));
    EXPECT_EQ(named(compared("hatchery")["orders"], "the rest, calcium, alkalinity")["risk"],
              "watch");
    EXPECT_EQ(compared("hatchery")["carbonate"][0]["risk"], "clear");
}

TEST(PathRun, ADenseRecipeIsRefused) {
    const TestFolder folder;
    const std::string recipe =
        folder.write("r.toml",
                     "format = \"brinewright/1\"\nkind = \"recipe\"\nname = \"Brine\"\n[[part]]\n"
                     "material = \"salt\"\ng_per_kg_purified_water = 300\n[[part]]\nmaterial = "
                     "\"lime\"\ng_per_kg_purified_water = 700\n");
    const std::string materials = folder.write(
        "m.toml",
        "format = \"brinewright/1\"\nkind = \"materials\"\n[[material]]\nname = \"salt\"\nformula "
        "= \"NaCl\"\nassay = \"100 %\"\n[[material]]\nname = \"lime\"\nformula = \"CaCl2\"\nassay "
        "= \"100 %\"\n");
    const Outcome got = run_here({"path", "run", recipe, "--materials", materials});
    EXPECT_EQ(got.code, 2);
    EXPECT_THAT(got.err, testing::HasSubstr("up to 120 g/kg"));
}

}  // namespace
