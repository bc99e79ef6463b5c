// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// recipe solve --json: one document with at least the fields that the contract names, in its units,
// and numbers that agree with one another.
#include <cmath>

#include <nlohmann/json.hpp>

#include "command/command_run.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;

const std::vector<std::string> kSolvable{"natural.toml", "raised.toml", "hatchery.toml",
                                         "low_magnesium.toml", "raised_clear.toml"};

Json solve(std::string_view target, std::vector<std::string> more = {}) {
    more.emplace_back("--json");
    const Outcome got = run_here(solve_example(target, more));
    EXPECT_EQ(got.err, "");
    EXPECT_FALSE(got.out.empty());
    EXPECT_EQ(got.out.back(), '\n');
    return Json::parse(got.out);  // throws when more than one document stands there
}

bool number_or_null(const Json& v) { return v.is_number() || v.is_null(); }

void expect_texts(const Json& v) {
    ASSERT_TRUE(v.is_array());
    for (const Json& item : v) {
        EXPECT_TRUE(item.is_string() && !item.get<std::string>().empty()) << item;
    }
}

void expect_contract_fields(const Json& d) {
    EXPECT_EQ(d.at("version"), 1);
    EXPECT_TRUE(d.at("feasible").is_boolean());
    EXPECT_TRUE(d.at("charge_balance_percent").is_number());
    EXPECT_TRUE(number_or_null(d.at("cost_per_t_blend")));
    EXPECT_TRUE(d.at("dissolved_g_per_kg").is_number());
    expect_texts(d.at("conflicts"));
    expect_texts(d.at("notices"));
    for (const Json& p : d.at("parts")) {
        EXPECT_TRUE(p.at("material").is_string());
        EXPECT_TRUE(p.at("g_per_kg_purified_water").is_number());
        EXPECT_TRUE(p.at("share_percent").is_number());
        EXPECT_TRUE(number_or_null(p.at("cost_per_t_blend")));
    }
    ASSERT_FALSE(d.at("constituents").empty());
    for (const Json& c : d.at("constituents")) {
        EXPECT_TRUE(c.at("symbol").is_string());
        EXPECT_TRUE(c.at("unit").is_string());
        EXPECT_TRUE(c.at("inside").is_boolean());
        EXPECT_TRUE(c.at("achieved").is_number());
        EXPECT_TRUE(c.at("standard_uncertainty").is_number());
        for (const char* key : {"target", "low", "high", "deviation_percent"}) {
            EXPECT_TRUE(number_or_null(c.at(key))) << key;
        }
    }
    ASSERT_TRUE(d.at("ratios").is_array());
}

TEST(SolveJson, HoldsTheFieldsOfTheContract) {
    for (const std::string& target : kSolvable) {
        SCOPED_TRACE(target);
        const Json d = solve(target);
        expect_contract_fields(d);
        EXPECT_EQ(d["feasible"], true);
        EXPECT_TRUE(d["conflicts"].empty());
        EXPECT_GE(d["parts"].size(), 5U);
    }
}

TEST(SolveJson, HoldsThemForAnInfeasibleTargetToo) {
    const Json d = solve("impossible.toml");
    expect_contract_fields(d);
    EXPECT_EQ(d["feasible"], false);
    EXPECT_FALSE(d["conflicts"].empty());
}

TEST(SolveJson, SharesAndCostsAddUp) {
    for (const std::string& target : kSolvable) {
        SCOPED_TRACE(target);
        const Json d = solve(target);
        double share = 0;
        double cost = 0;
        double blend = 0;
        for (const Json& p : d["parts"]) {
            EXPECT_GT(p["g_per_kg_purified_water"].get<double>(), 0);
            share += p["share_percent"].get<double>();
            cost += p["cost_per_t_blend"].get<double>();
            blend += p["g_per_kg_purified_water"].get<double>();
        }
        EXPECT_NEAR(share, 100, 1e-9);
        EXPECT_NEAR(cost, d["cost_per_t_blend"].get<double>(), 1e-9 * cost);
        for (const Json& p : d["parts"]) {
            EXPECT_NEAR(p["g_per_kg_purified_water"].get<double>() / blend * 100,
                        p["share_percent"].get<double>(), 1e-9);
        }
        // Purified water may bring ions that are not quite neutral together.
        EXPECT_NEAR(d["charge_balance_percent"].get<double>(), 0, 1e-4);
    }
}

TEST(SolveJson, ASolvedWaterIsInsideEveryLimit) {
    for (const std::string& target : kSolvable) {
        SCOPED_TRACE(target);
        const Json d = solve(target);
        for (const Json& c : d["constituents"]) {
            SCOPED_TRACE(c.dump());
            EXPECT_EQ(c["inside"], true);
            const double achieved = c["achieved"];
            const double slack = 1e-6 * std::abs(achieved);
            if (c["low"].is_number()) {
                EXPECT_GE(achieved, c["low"].get<double>() - slack);
            }
            if (c["high"].is_number()) {
                EXPECT_LE(achieved, c["high"].get<double>() + slack);
            }
            if (c["target"].is_number() && c["target"].get<double>() != 0) {
                EXPECT_NEAR(c["deviation_percent"].get<double>(),
                            (achieved / c["target"].get<double>() - 1) * 100, 1e-9);
            }
            EXPECT_GE(c["standard_uncertainty"].get<double>(), 0);
        }
        for (const Json& r : d["ratios"]) {
            EXPECT_EQ(r["inside"], true) << r;
        }
        for (const Json& c : d["ceilings"]) {
            EXPECT_LE(c["worst"].get<double>(), c["high"].get<double>() * (1 + 1e-6)) << c;
        }
    }
}

/// Numbers and symbols are those of the file, in the file's units.
TEST(SolveJson, SpeaksInTheUnitsOfTheFile) {
    const Json d = solve("raised.toml");
    const auto find = [&](const std::string& symbol) {
        for (const Json& c : d["constituents"]) {
            if (c["symbol"] == symbol) {
                return c;
            }
        }
        return Json();
    };
    const Json calcium = find("Ca");
    EXPECT_EQ(calcium["unit"], "mg/L");
    EXPECT_NEAR(calcium["target"].get<double>(), 445, 1e-9);
    EXPECT_NEAR(calcium["low"].get<double>(), 440, 1e-9);
    EXPECT_NEAR(calcium["high"].get<double>(), 450, 1e-9);
    const Json alkalinity = find("alkalinity");
    EXPECT_EQ(alkalinity["unit"], "dKH");
    EXPECT_NEAR(alkalinity["target"].get<double>(), 11.5, 1e-9);
    const Json carbon = find("carbon");
    EXPECT_EQ(carbon["unit"], "mmol/kg");
    EXPECT_NEAR(carbon["target"].get<double>(), 3.6, 1e-9);
}

TEST(SolveJson, KeysAreSnakeCaseWithUnits) {
    const Json d = solve("natural.toml");
    const auto check = [](const auto& self, const Json& v) -> void {
        if (v.is_object()) {
            for (const auto& [key, value] : v.items()) {
                EXPECT_EQ(key.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_"),
                          std::string::npos)
                    << key;
                self(self, value);
            }
        } else if (v.is_array()) {
            for (const Json& item : v) {
                self(self, item);
            }
        }
    };
    check(check, d);
    EXPECT_TRUE(d.contains("currency"));
}

TEST(CompareJson, IsOneDocumentOfVersionOne) {
    const TestFolder folder;
    const std::string a = folder.path("a.toml");
    const std::string b = folder.path("b.toml");
    ASSERT_EQ(run_here(solve_example("natural.toml", {"--quiet", "--out", a})).code, 0);
    ASSERT_EQ(run_here(solve_example("raised.toml", {"--quiet", "--out", b})).code, 0);
    const Outcome got = run_here({"recipe", "compare", a, b, "--json"});
    EXPECT_EQ(got.code, 0);
    EXPECT_EQ(got.err, "");
    const Json d = Json::parse(got.out);
    EXPECT_EQ(d.at("version"), 1);
    EXPECT_EQ(d.at("first"), "Natural seawater salt");
    EXPECT_EQ(d.at("second"), "Raised reef salt");
    ASSERT_FALSE(d.at("parts").empty());
    for (const Json& p : d["parts"]) {
        const double first = p.at("first_g_per_kg_purified_water");
        const double second = p.at("second_g_per_kg_purified_water");
        EXPECT_GT(first + second, 0);
        if (first > 0) {
            EXPECT_NEAR(p.at("change_percent").get<double>(), (second / first - 1) * 100, 1e-9);
        } else {
            EXPECT_TRUE(p.at("change_percent").is_null());
        }
    }
}

}  // namespace
