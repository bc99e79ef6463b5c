// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// blend scatter and blend budget: figures by hand, missing data that are said, exit codes and
// complaints.
#include <cmath>
#include <numbers>

#include "command/blend_case.hpp"

namespace {

using namespace bw::command_test;
using testing::HasSubstr;

/// Sodium chloride with a little strontium chloride.
class Blend : public testing::Test, public BlendCase {
protected:
    void SetUp() override { write(grain_of("1 mm")); }
    void write(const std::string& grain,
               const std::string& density = "density = \"1.93 g/cm3\"\n") {
        write_minor(*this, "strontium salt", "SrCl2.6H2O", grain + density);
    }
};

// By hand: 41.3 g with w = 5.81e-4 of 1.0106 mg grains hold 23.7 of them, 1/sqrt = 20.5 %.
TEST_F(Blend, ScatterIsTheNumberOfGrains) {
    const Json got = json("scatter", 1, {"--portion", "41.3 g", "--portion", "1 kg"});
    const Json sr = of(got, "Sr");
    EXPECT_NEAR(sr["relative_sd"][0]["expected"].get<double>(), 0.205, 0.001);
    EXPECT_NEAR(sr["relative_sd"][1]["expected"].get<double>(), 0.0417, 0.0002);
    EXPECT_EQ(sr["from"][0]["material"], "strontium salt");
    EXPECT_GT(sr["from"][0]["share"].get<double>(), 0.99);
    EXPECT_GT(sr["outside"][0].get<double>(), 0.8);
    // 95 of 100 within 2 %: 1.02 % of scatter, 1 mm (0.0102/0.205)^(2/3) = 0.135 mm.
    EXPECT_NEAR(sr["remedy"]["finer_median_mm"].get<double>(), 0.135, 0.003);
    EXPECT_EQ(sr["remedy"]["carrier"], "salt");
    EXPECT_LT(sr["remedy"]["relative_sd_on_carrier"].get<double>(), 0.001);
    EXPECT_TRUE(of(got, "Na")["remedy"].is_null());
}

TEST_F(Blend, NamesCannotSteerATerminal) {
    const std::string named = folder().write(
        "steering.toml",
        "format = \"brinewright/1\"\nkind = \"recipe\"\nname = \"a\\u001b[31mb\"\n[[part]]\n"
        "material = \"salt\"\ng_per_kg_purified_water = 41.276\n");
    for (const char* what : {"scatter", "budget", "mixing"}) {
        const Outcome got = run_here({"blend", what, named, "--materials", materials()});
        EXPECT_EQ(got.out.find('\x1b'), std::string::npos) << what;
        EXPECT_THAT(got.out, HasSubstr("a?[31mb")) << got.err;
    }
}

TEST_F(Blend, FineGrainsKeepThePromise) {
    write("grain = { d10 = \"0.02 mm\", d50 = \"0.04 mm\", d90 = \"0.08 mm\" }\n");
    const Json got = json("scatter", 0, {"--portion", "41.3 g"});
    EXPECT_TRUE(of(got, "Sr")["remedy"].is_null());
    EXPECT_EQ(run("scatter", {"--portion", "41.3 g", "--quiet"}).out, "");
}

TEST_F(Blend, WhatIsNotStatedIsSaidAndBounded) {
    write("", "");
    const Outcome text = run("scatter", {"--portion", "1 kg"});
    EXPECT_THAT(text.out, HasSubstr("The grain sizes of 'strontium salt' are not stated: 0.5 mm is "
                                    "reckoned"));
    EXPECT_THAT(text.out, HasSubstr("The density of 'strontium salt' is not stated"));
    const Json sr = of(json("scatter", 1, {"--portion", "1 kg"}), "Sr");
    const Json& sd = sr["relative_sd"][0];
    EXPECT_NEAR(sd["high"].get<double>() / sd["expected"].get<double>(),
                std::pow(6, 1.5) * std::sqrt(2.7 / 2), 0.01);
    EXPECT_LT(sd["low"].get<double>(), sd["expected"].get<double>() / 10);
    EXPECT_THAT(run("budget", {"--draws", "1000"}).out, HasSubstr("are not stated"));
}

TEST_F(Blend, TheBudgetAddsWhatItIsGiven) {
    write("grain = { d10 = \"0.02 mm\", d50 = \"0.04 mm\", d90 = \"0.08 mm\" }\n");
    const Words given{"--portion", "1 kg",       "--mixed", "--reading", "1 %",  "--analysis",
                      "0.5 %",     "--analysis", "Sr=2 %",  "--draws",   "20000"};
    const Json got = json("budget", 0, given);
    const Json sr = of(got, "Sr");
    // 0.1 g steps, 290 g of it in the batch: 0.014 %; the reading's 1 % is nearly all.
    EXPECT_NEAR(sr["vat"]["standard_uncertainty"].get<double>(), 0.0101, 0.0003);
    EXPECT_NEAR(sr["release"]["standard_uncertainty"].get<double>(), 0.02, 0.0005);
    EXPECT_NEAR(sr["vat"]["inside"].get<double>(), 0.954, 0.006);
    EXPECT_NEAR(of(got, "Na")["release"]["standard_uncertainty"].get<double>(), 0.005, 0.0002);
    double shares = 0;
    for (const Json& step : sr["vat"]["steps"]) {
        shares += step["first_order"].get<double>();
    }
    EXPECT_NEAR(shares, 1, 0.03);
    EXPECT_TRUE(got["kept"].get<bool>());
    EXPECT_EQ(run("budget", given).out, run("budget", given).out);
}

TEST_F(Blend, TheWayToThePromiseBeginsWithTheLargestSource) {
    const Json got = json(
        "budget", 1, {"--portion", "100 g", "--mixed", "--reading", "0.5 %", "--draws", "20000"});
    ASSERT_FALSE(got["changes"].empty());
    EXPECT_THAT(got["changes"][0]["what"].get<std::string>(),
                HasSubstr("strontium salt ground to a median of 0.5 mm"));
    EXPECT_TRUE(got["reached"].get<bool>());
    EXPECT_GE(got["changes"].back()["least_inside"].get<double>(), 0.95);
}

TEST_F(Blend, WhatHasNoMeaningIsRefusedInOneLine) {
    const std::vector<std::pair<Words, std::string>> cases{
        {{"scatter", "--portion", "30 kg"}, "--portion: a portion of 30000 g"},
        {{"scatter", "--portion", "0 g"}, "--portion: a portion of 0 g"},
        {{"scatter", "--portion", "50"}, "--portion: '50' has no unit"},
        {{"scatter", "--container", "600 kg"}, "--container: a container of 600 kg"},
        {{"scatter", "--wanted", "2"}, "--wanted: '2' is not in %"},
        {{"scatter", "--wanted", "0 %"}, "--wanted: a promise lies between 0 and 100 %"},
        {{"budget", "--portion", "30 kg"}, "--portion: a portion of 30 kg"},
        {{"budget", "--sample", "-1 g"}, "--sample: a sample of -0.001 kg"},
        {{"budget", "--band", "Xx=2 %"}, "--band: 'Xx' is not a constituent"},
        {{"budget", "--band", "Mg=2 %"}, "--band: no material of the recipe is weighed for Mg"},
        {{"budget", "--analysis", "0 %"}, "--analysis: a relative figure lies between"},
        {{"budget", "--reading", "100 %"}, "--reading: a relative uncertainty is 0 or more"},
        {{"budget", "--layered", "101 %"}, "--layered: a container layers by 0 to 100 %"},
        {{"budget", "--seed", "-1"}, "--seed: '-1' is below 0"},
        {{"budget", "--draws", "10"}, "--draws: 1000 to 10000000 draws"}};
    for (const auto& [words, expected] : cases) {
        const Outcome got = run(words[0], Words(words.begin() + 1, words.end()));
        EXPECT_EQ(got.code, 2) << expected;
        EXPECT_THAT(got.err, HasSubstr(expected));
        EXPECT_EQ(got.out, "");
        EXPECT_EQ(std::count(got.err.begin(), got.err.end(), '\n'), 1) << got.err;
    }
    const std::string dust = folder().write(
        "dust.toml",
        "format = \"brinewright/1\"\nkind = \"materials\"\n[[material]]\nname = \"salt\"\n"
        "composition = [{ of = \"NaCl\", high = \"1 %\" }]\n[[material]]\nname = \"strontium "
        "salt\"\ncomposition = [{ of = \"KCl\", high = \"1 %\" }]\n");
    const Outcome nothing = run_here({"blend", "budget", recipe(), "--materials", dust});
    EXPECT_EQ(nothing.code, 2) << nothing.out;
    EXPECT_THAT(nothing.err, HasSubstr("a budget has nothing to follow"));
    write("grain = { d10 = \"1 mm\", d50 = \"0.5 mm\", d90 = \"2 mm\" }\n");
    EXPECT_THAT(run("scatter").err, HasSubstr("grain needs d10, d50 and d90"));
    write("", "density = \"0 g/cm3\"\n");
    EXPECT_EQ(run("scatter").code, 2);
}

}  // namespace
