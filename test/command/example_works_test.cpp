// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the example files of the works promise: exit codes, reasons, warnings, changes.
#include <cmath>

#include <nlohmann/json.hpp>

#include "command/command_run.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;

const std::vector<std::string> kSolvable{"natural.toml", "raised.toml", "hatchery.toml",
                                         "low_magnesium.toml", "raised_clear.toml"};

std::string all_text(const Json& list) {
    std::string out;
    for (const Json& item : list) {
        out += item.get<std::string>() + "\n";
    }
    return out;
}

TEST(ExampleWorks, SolvableTargetsExitWithZeroAndSilentStandardError) {
    for (const std::string& target : kSolvable) {
        SCOPED_TRACE(target);
        const TestFolder folder;
        const Outcome got = run_program(solve_example(target), folder.path());
        EXPECT_EQ(got.code, 0);
        EXPECT_EQ(got.err, "");
        EXPECT_NE(got.out.find("invented example"), std::string::npos);
        EXPECT_NE(got.out.find("sodium chloride"), std::string::npos);
        EXPECT_TRUE(folder.names().empty()) << "nothing is written unasked";
    }
}

TEST(ExampleWorks, QuietPrintsNothing) {
    const TestFolder folder;
    for (const std::string& target : kSolvable) {
        const Outcome got = run_program(solve_example(target, {"--quiet"}), folder.path());
        EXPECT_EQ(got.code, 0) << target;
        EXPECT_EQ(got.out, "") << target;
        EXPECT_EQ(got.err, "") << target;
    }
    const Outcome no = run_program(solve_example("impossible.toml", {"--quiet"}), folder.path());
    EXPECT_EQ(no.code, 1);
    EXPECT_EQ(no.out, "");
    EXPECT_EQ(no.err, "");
    const std::string recipe = folder.path("r.toml");
    ASSERT_EQ(run_here(solve_example("natural.toml", {"--quiet", "--out", recipe})).code, 0);
    const Outcome compared = run_here({"recipe", "compare", recipe, recipe, "--quiet"});
    EXPECT_EQ(compared.code, 0);
    EXPECT_EQ(compared.out, "");
    EXPECT_EQ(compared.err, "");
}

TEST(ExampleWorks, ImpossibleTargetNamesItsReasons) {
    const Outcome got = run_here(solve_example("impossible.toml", {"--json"}));
    EXPECT_EQ(got.code, 1);
    EXPECT_EQ(got.err, "");
    const Json d = Json::parse(got.out);
    EXPECT_EQ(d.at("feasible"), false);
    const Json& set = d.at("smallest_conflict");
    ASSERT_FALSE(set.empty());
    EXPECT_EQ(d.at("smallest_conflict_proven"), true);
    EXPECT_NE(all_text(set).find("K 0 to 1.5 mg/L"), std::string::npos) << all_text(set);
    EXPECT_NE(all_text(d.at("would_free")).find("K"), std::string::npos);
    const std::string said = all_text(d.at("conflicts"));
    for (const char* piece : {"cannot hold together", "nearest water", "free it", "K needs"}) {
        EXPECT_NE(said.find(piece), std::string::npos) << piece << "\n" << said;
    }
    EXPECT_GT(d.at("infeasibility_gap").get<double>(), 0);
}

TEST(ExampleWorks, NearestWaterBreaksOnlyWhatItSays) {
    const Json d = Json::parse(run_here(solve_example("impossible.toml", {"--json"})).out);
    int outside = 0;
    for (const Json& c : d.at("constituents")) {
        if (!c.at("inside").get<bool>()) {
            ++outside;
            EXPECT_EQ(c.at("symbol"), "K");
            EXPECT_GT(c.at("achieved").get<double>(), c.at("high").get<double>());
        }
    }
    EXPECT_EQ(outside, 1);
    EXPECT_FALSE(d.at("parts").empty());
    for (const Json& p : d.at("parts")) {
        EXPECT_GT(p.at("g_per_kg_purified_water").get<double>(), 1e-4)
            << "no dust of the solver's among the parts: " << p;
    }
}

TEST(ExampleWorks, ImpossibleTargetIsFreedAsItsNoteSays) {
    const TestFolder folder;
    std::string text = read_bytes(example("impossible.toml"));
    const auto replace = [&](const std::string& from, const std::string& to) {
        const auto at = text.find(from);
        ASSERT_NE(at, std::string::npos) << from;
        text.replace(at, from.size(), to);
    };
    replace("target = \"1.0 mg/L\"", "target = \"2 mg/L\"");
    replace("high = \"1.5 mg/L\"", "high = \"4 mg/L\"");
    const Outcome got = run_here({"recipe", "solve", folder.write("freed.toml", text),
                                  "--materials", example("materials.toml"), "--quiet"});
    EXPECT_EQ(got.code, 0) << got.err;
}

TEST(ExampleWorks, ReasonsStandInTheTextToo) {
    const Outcome got = run_here(solve_example("impossible.toml"));
    EXPECT_EQ(got.code, 1);
    EXPECT_EQ(got.err, "");
    for (const char* piece :
         {"There is no recipe", "cannot hold together", "nearest water", "free it", "OUTSIDE"}) {
        EXPECT_NE(got.out.find(piece), std::string::npos) << piece;
    }
}

TEST(ExampleWorks, LowMagnesiumCarriesTheWarning) {
    const Outcome json = run_here(solve_example("low_magnesium.toml", {"--json"}));
    EXPECT_EQ(json.code, 0);
    const std::string notices = all_text(Json::parse(json.out).at("notices"));
    for (const char* piece : {"Mg/Ca", "calcium carbonate", "magnesium"}) {
        EXPECT_NE(notices.find(piece), std::string::npos) << notices;
    }
    for (const auto& more : std::vector<std::vector<std::string>>{{}, {"--brief"}}) {
        const Outcome text = run_here(solve_example("low_magnesium.toml", more));
        EXPECT_EQ(text.code, 0);
        EXPECT_NE(text.out.find("Mg/Ca is"), std::string::npos);
        EXPECT_NE(text.out.find("calcium carbonate"), std::string::npos);
    }
    const Outcome natural = run_here(solve_example("natural.toml", {"--json"}));
    const std::string calm = all_text(Json::parse(natural.out).at("notices"));
    EXPECT_EQ(calm.find("too little magnesium"), std::string::npos) << calm;
}

TEST(ExampleWorks, LotsPrintTheChangesOfTheWeighings) {
    const std::string lots = example("lots.toml");
    const Outcome text = run_here(solve_example("raised.toml", {"--lots", lots}));
    EXPECT_EQ(text.code, 0) << text.err;
    EXPECT_EQ(text.err, "");
    EXPECT_NE(text.out.find("Change of the weighings"), std::string::npos);
    EXPECT_NE(text.out.find("change, %"), std::string::npos);
    const Json d =
        Json::parse(run_here(solve_example("raised.toml", {"--lots", lots, "--json"})).out);
    ASSERT_FALSE(d.at("changes").empty());
    EXPECT_EQ(d["changes"].size(), d.at("parts").size());
    bool changed = false;
    for (const Json& c : d["changes"]) {
        EXPECT_FALSE(c.at("lot").get<std::string>().empty()) << c;
        const double standing = c.at("standing_g_per_kg_purified_water");
        const double adjusted = c.at("adjusted_g_per_kg_purified_water");
        changed = changed || std::abs(adjusted - standing) > 1e-4 * standing;
    }
    EXPECT_TRUE(changed);
    for (const Json& c : d.at("constituents")) {
        EXPECT_EQ(c.at("inside"), true) << c;
    }
}

TEST(ExampleWorks, OnlyAcceptedLotsAreWeighed) {
    for (const std::string& target : kSolvable) {
        for (const auto& more : std::vector<std::vector<std::string>>{{}, {"--split-lots"}}) {
            std::vector<std::string> options{"--lots", example("lots.toml"), "--json"};
            options.insert(options.end(), more.begin(), more.end());
            const Json d = Json::parse(run_here(solve_example(target, options)).out);
            EXPECT_EQ(d.at("feasible"), true) << target;
            for (const Json& p : d.at("parts")) {
                const std::string lot = p.value("lot", "");
                for (const char* not_accepted :
                     {"A26-0304", "B26-0140", "B26-0156", "D25-0412", "D26-0082", "P26-0011"}) {
                    EXPECT_NE(lot, not_accepted) << target;
                }
            }
        }
    }
}

TEST(ExampleWorks, AChosenLotIsWeighed) {
    const Json d = Json::parse(
        run_here(solve_example("raised.toml", {"--lots", example("lots.toml"), "--json", "--choose",
                                               "calcium chloride dihydrate=C26-0340"}))
            .out);
    bool weighed = false;
    for (const Json& p : d.at("parts")) {
        if (p.at("material") == "calcium chloride dihydrate") {
            EXPECT_EQ(p.at("lot"), "C26-0340");
            weighed = true;
        }
    }
    EXPECT_TRUE(weighed);
}

/// A lot that runs short in the batch is not weighed alone.
TEST(ExampleWorks, ABatchIsNotWeighedFromALotThatRunsShort) {
    const Json d = Json::parse(
        run_here(solve_example("hatchery.toml", {"--lots", example("lots.toml"), "--json"})).out);
    ASSERT_EQ(d.at("feasible"), true);
    for (const Json& p : d.at("parts")) {
        const std::string lot = p.at("lot");
        const double kg = p.at("weighing_kg");
        EXPECT_LE(kg, lot == "A26-0107" ? 400.0 : lot == "C26-0311" ? 22.0 : 6000.0) << p;
        EXPECT_NEAR(kg / 0.01, std::round(kg / 0.01), 1e-6) << "in steps of the scale: " << p;
    }
}

TEST(ExampleWorks, BriefLeavesOutTheExplanations) {
    const Outcome whole = run_here(solve_example("natural.toml"));
    const Outcome brief = run_here(solve_example("natural.toml", {"--brief"}));
    EXPECT_EQ(brief.code, 0);
    EXPECT_LT(brief.out.size(), whole.out.size());
    EXPECT_NE(brief.out.find("Recipe"), std::string::npos);
}

}  // namespace
