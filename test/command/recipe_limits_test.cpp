// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// recipe solve within limits on the finished water, and recipe trade.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>

#include <nlohmann/json.hpp>

#include "command/command_run.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;

Json json_of(const std::vector<std::string>& arguments) {
    const Outcome got = run_here(arguments);
    EXPECT_EQ(got.code, 0) << got.err;
    EXPECT_EQ(got.err, "");
    return Json::parse(got.out);
}

std::vector<std::string> trade(const std::string& target, const std::vector<std::string>& more) {
    std::vector<std::string> out{"recipe", "trade", target, "--materials",
                                 example("materials.toml")};
    out.insert(out.end(), more.begin(), more.end());
    return out;
}

/// The raised salt of the example with these limits alone.
std::string raised_with(const TestFolder& folder, const std::string& limits) {
    std::string text = read_bytes(example("raised.toml"));
    const auto at = text.find("[limits]");
    text.replace(at, text.find("\n[", at) - at, "[limits]\n" + limits);
    return folder.write("target.toml", text);
}

TEST(RecipeLimits, TheExampleHoldsEachAndSaysSo) {
    const Json d = json_of(solve_example("raised_clear.toml", {"--json"}));
    EXPECT_EQ(d.at("feasible"), true);
    ASSERT_EQ(d.at("limits").size(), 2U);
    const Json& omega = d.at("limits")[0];
    EXPECT_EQ(omega.at("limit"), "omega_aragonite");
    EXPECT_EQ(omega.at("held"), true);
    EXPECT_LE(omega.at("omega").get<double>(), omega.at("highest").get<double>() * (1 + 1e-6));
    EXPECT_EQ(omega.at("pCO2_uatm"), 420.0);
    EXPECT_EQ(omega.at("temperature_degC"), 25.0);
    EXPECT_GT(omega.at("trusted_within_factor").get<double>(), 1);
    const Json& time = d.at("limits")[1];
    EXPECT_EQ(time.at("limit"), "safe_time");
    EXPECT_GE(time.at("use_within_h").get<double>(), time.at("least_h").get<double>() * (1 - 1e-6));
    EXPECT_GT(time.at("hours").get<double>(), time.at("use_within_h").get<double>());
    ASSERT_EQ(d.at("without_limit").size(), 4U);
    EXPECT_EQ(d.at("without_limit")[1].at("limit"), "safe_time");
    EXPECT_FALSE(d.at("limit_sentences").empty());
    const Outcome text = run_here(solve_example("raised_clear.toml", {"--brief"}));
    EXPECT_EQ(text.code, 0);
    EXPECT_NE(text.out.find("Limits on the finished water"), std::string::npos);
    EXPECT_NE(text.out.find("Tightest is"), std::string::npos);
}

TEST(RecipeLimits, OutOfReachIsExitOneWithTheLowestOmega) {
    const TestFolder folder;
    const std::string target = raised_with(folder, "omega_aragonite = 6\n");
    const std::vector<std::string> solve{"recipe", "solve", target, "--materials",
                                         example("materials.toml")};
    const Outcome got = run_here(solve);
    EXPECT_EQ(got.code, 1);
    EXPECT_EQ(got.err, "");
    EXPECT_NE(got.out.find("The lowest Omega of aragonite found within the bands is"),
              std::string::npos)
        << got.out;
    EXPECT_NE(got.out.find("These cannot hold together"), std::string::npos);
    EXPECT_NE(got.out.find("Omega of aragonite at most 6"), std::string::npos);
}

TEST(RecipeTrade, AlkalinityFallsWithCalciumAndRisesWithMagnesium) {
    const TestFolder folder;
    const std::string target = raised_with(folder, "omega_aragonite = 8\n");
    const Json d = json_of(trade(target, {"--json", "--points", "4"}));
    EXPECT_EQ(d.at("units").at("alkalinity"), "dKH");
    // The raised target asks for 11.5 dKH where Omega of 8 leaves about 11.1.
    ASSERT_EQ(d.at("notes").size(), 1U);
    EXPECT_NE(d.at("notes")[0].get<std::string>().find("11.50 dKH lies above the curve"),
              std::string::npos);
    for (const Json& p : d.at("points")) {
        EXPECT_GT(p.at("cost_per_t_blend").get<double>(), 300);
    }
    std::map<double, std::vector<double>> by_magnesium;
    for (const Json& p : d.at("points")) {
        // The curve lies on the limit, but for what the aim of the search leaves.
        EXPECT_NEAR(p.at("omega_aragonite").get<double>(), 8, 0.01);
        by_magnesium[p.at("magnesium").get<double>()].push_back(p.at("alkalinity").get<double>());
    }
    ASSERT_EQ(by_magnesium.size(), 3U);
    const std::vector<double>* last = nullptr;
    for (const auto& [magnesium, curve] : by_magnesium) {
        ASSERT_EQ(curve.size(), 4U);
        EXPECT_TRUE(std::is_sorted(curve.rbegin(), curve.rend())) << magnesium;
        for (std::size_t i = 0; last != nullptr && i < curve.size(); ++i) {
            EXPECT_GT(curve[i], (*last)[i]) << "magnesium pairs with carbonate";
        }
        last = &curve;
    }
}

TEST(RecipeTrade, WritesPointsAndPicture) {
    const TestFolder folder;
    const std::string target = raised_with(folder, "omega_aragonite = 8\n");
    const std::string csv = folder.path("t.csv");
    const std::string svg = folder.path("t.svg");
    const Outcome got = run_here(
        trade(target, {"--points", "2", "--magnesium", "1345 mg/L", "--calcium-from", "420 mg/L",
                       "--calcium-to", "460 mg/L", "--csv", csv, "--svg", svg}));
    EXPECT_EQ(got.code, 0) << got.err;
    const std::string points = read_bytes(csv);
    EXPECT_EQ(std::count(points.begin(), points.end(), '\n'), 3);
    EXPECT_NE(points.find("highest alkalinity, dKH"), std::string::npos);
    const std::string picture = read_bytes(svg);
    for (const char* part : {"<svg ", "calcium, mg/L", "highest alkalinity, dKH", "Mg 1345 mg/L",
                             "the target", "</svg>"}) {
        EXPECT_NE(picture.find(part), std::string::npos) << part;
    }
    EXPECT_EQ(run_here(trade(target, {"--points", "2", "--quiet"})).out, "");
}

TEST(RecipeTrade, BadInputIsOneSentence) {
    const TestFolder folder;
    const std::string target = raised_with(folder, "omega_aragonite = 8\n");
    const auto refused = [&](const std::vector<std::string>& arguments, const std::string& says) {
        const Outcome got = run_here(arguments);
        EXPECT_EQ(got.code, 2) << says;
        EXPECT_EQ(got.out, "");
        EXPECT_EQ(std::count(got.err.begin(), got.err.end(), '\n'), 1) << got.err;
        EXPECT_NE(got.err.find(says), std::string::npos) << got.err;
    };
    refused(trade(example("raised.toml"), {}), "omega_aragonite or safe_time");
    refused(trade(target, {"--points", "1"}), "--points");
    refused(trade(target, {"--magnesium", "1345"}), "--magnesium");
    refused(trade(target, {"--magnesium", "0 mg/L"}), "above 0");
    refused(trade(target, {"--calcium-from", "460 mg/L", "--calcium-to", "420 mg/L"}), "must rise");
    refused(trade(target, {"--calcium-from", "3 EUR/kg"}), "--calcium-from");
    refused(trade(target, {"--csv", target}), "overwrite");
    refused(trade(target, {"--csv", "a", "--svg", "a"}), "name two");
}

}  // namespace
