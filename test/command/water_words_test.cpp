// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the texts of water show and water compare say once, and must not lose.
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/command_run.hpp"

namespace {

using namespace bw::command_test;
using testing::HasSubstr;
using testing::Not;
using Json = nlohmann::json;

// Charges off by 3 %; iodine and barium are traces.
const std::string kOff =
    "format = \"brinewright/1\"\nkind = \"water\"\nname = \"Off\"\ntemperature = \"25 degC\"\n"
    "[constituents]\nunit = \"mg/L\"\nNa = 10940\nK = 408\nMg = 1345\nCa = 445\nSr = 8.1\n"
    "Cl = 19000\nSO4 = 2775\nI = 0.06\nBa = 0.01\nB = \"26.4 mg/L as H3BO3\"\n"
    "alkalinity = \"11.5 dKH\"\npH = 8.15\npH_scale = \"nbs\"\n";

std::size_t count(const std::string& text, std::string_view what) {
    std::size_t out = 0;
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
        ++out;
    }
    return out;
}

class WaterWords : public testing::Test {
protected:
    TestFolder folder_;
    std::string off_ = folder_.write("off.toml", kOff);
    [[nodiscard]] std::string show(const std::vector<std::string>& more = {}) const {
        std::vector<std::string> words{"water", "show", off_};
        words.insert(words.end(), more.begin(), more.end());
        const Outcome got = run_here(words);
        EXPECT_EQ(got.code, 0) << got.err;
        return got.out;
    }
    [[nodiscard]] std::string compare(const std::vector<std::string>& more = {}) const {
        std::vector<std::string> words{"water", "compare", example("seawater.toml"), off_};
        words.insert(words.end(), more.begin(), more.end());
        const Outcome got = run_here(words);
        EXPECT_EQ(got.code, 0) << got.err;
        return got.out;
    }
};

TEST_F(WaterWords, ImbalanceIsANumberAndOneNotice) {
    const std::string text = show();
    EXPECT_THAT(text, HasSubstr("3.535 % more positive than negative"));
    EXPECT_EQ(count(text, "Charges do not balance"), 1U);
    EXPECT_THAT(text, Not(HasSubstr("not a real water")));
}

// 11.5 dKH is 4.1015 meq/L and 205.2 mg/L of CaCO3 (1 dKH: 10 mg of CaO per litre).
TEST_F(WaterWords, AlkalinityInTheUnitsOfTheTrade) {
    EXPECT_THAT(show(), HasSubstr(" meq/L, 11.50 dKH, 205.2 mg/L as CaCO3"));
}

TEST_F(WaterWords, FormsOfCarbonAddUp) {
    const std::string text = show();
    const auto number = [&](const std::string& after) {
        return std::stod(text.substr(text.find(after) + after.size()));
    };
    EXPECT_NEAR(number(": HCO3 ") + number(", CO3 ") + number(", CO2 "), number("carbon        "),
                0.01);
}

TEST_F(WaterWords, TracesHaveTheirOwnUnits) {
    const std::string text = show();
    EXPECT_THAT(text, HasSubstr("trace  umol/kg"));
    EXPECT_THAT(text, HasSubstr("ug/L"));
    EXPECT_THAT(text, Not(HasSubstr("0.00004622")));
}

TEST_F(WaterWords, AnotherTemperatureIsSaidAsSuch) {
    const std::string text = show({"--temperature", "20 degC"});
    EXPECT_THAT(text, HasSubstr("20 \u00B0C, asked for; the file says 25 \u00B0C"));
    EXPECT_THAT(text, HasSubstr("at 20 \u00B0C; the file's litres are those of its temperature"));
    EXPECT_THAT(text, HasSubstr("(589 nm, 20 \u00B0C)"));
    EXPECT_THAT(show(), Not(HasSubstr("asked for")));
}

TEST_F(WaterWords, StatedPhIsRepeated) {
    EXPECT_THAT(show(), HasSubstr("from alkalinity and pH 8.15 (NBS scale)"));
}

TEST_F(WaterWords, CompareKeepsTheNoticesOfBoth) {
    const std::string text = compare();
    EXPECT_THAT(text, HasSubstr("Second: Charges do not balance"));
    EXPECT_THAT(text, Not(HasSubstr("First: Charges")));
}

TEST_F(WaterWords, CompareSaysThatTemperaturesDiffer) {
    const std::string cold =
        folder_.write("cold.toml", std::string(kOff).replace(kOff.find("25 degC"), 7, "20 degC"));
    const Outcome got = run_here({"water", "compare", off_, cold});
    EXPECT_THAT(got.out, HasSubstr("The first is at 25 \u00B0C, the second at 20 \u00B0C"));
    EXPECT_THAT(run_here({"water", "compare", off_, cold, "--temperature", "22 degC"}).out,
                Not(HasSubstr("The first is at")));
}

TEST_F(WaterWords, CompareGivesRatiosAndUncertainties) {
    const Json d = Json::parse(compare({"--json"}));
    bool ratio = false;
    for (const Json& row : d["differences"]) {
        if (row["quantity"] == "Mg to Cl") {
            ratio = true;
            // Reference composition: 0.0528171 over 0.5458696 mol/kg [millero-2008].
            EXPECT_NEAR(row["first"].get<double>(), 1e3 * 0.0528171 / 0.5458696, 0.01);
        }
        if (row["quantity"] == "density") {
            EXPECT_EQ(row["within_uncertainty"], true);  // 0.3 of 0.4 kg/m3
        }
        if (row["quantity"] == "Ca") {
            EXPECT_TRUE(row["within_uncertainty"].is_null());
        }
    }
    EXPECT_TRUE(ratio);
    EXPECT_THAT(compare(), HasSubstr("within the uncertainty"));
}

}  // namespace
