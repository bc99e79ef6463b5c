// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// recipe sweep: cases of recipe solve, shares of the work, going on after a stop, bad input.
#include <filesystem>
#include <fstream>
#include <set>
#include <thread>

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/command_run.hpp"

namespace {

using namespace bw::command_test;
using Json = nlohmann::json;
using Words = std::vector<std::string>;
using testing::HasSubstr;
namespace fs = std::filesystem;

class Sweep : public testing::Test {
protected:
    void SetUp() override {
        natural_ = example("natural.toml");
        materials_ = example("materials.toml");
        into_ = folder_.path("sweep");
    }
    static std::string example(const std::string& name) {
        return std::string(BW_SOURCE_DIR) + "/examples/works/" + name;
    }
    [[nodiscard]] Words words(Words more = {}) const {
        Words out{"recipe", "sweep", natural_,  "--materials", materials_,
                  "--into", into_,   "--draws", "1000",        "--json"};
        out.insert(out.end(), more.begin(), more.end());
        return out;
    }
    [[nodiscard]] Json json(int code, const Words& more = {}) const {
        const Outcome got = run_here(words(more));
        EXPECT_EQ(got.code, code) << got.err;
        Json out = Json::parse(got.out, nullptr, false);
        EXPECT_FALSE(out.is_discarded()) << got.out;
        return out;
    }
    [[nodiscard]] std::set<std::string> files() const {
        std::set<std::string> out;
        for (const auto& entry : fs::directory_iterator(into_)) {
            out.insert(entry.path().filename().string());
        }
        return out;
    }
    TestFolder folder_;
    std::string natural_, materials_, into_;
};

const Words kPrices{"--price", "sodium chloride=0.5,1,2", "--price",
                    "magnesium chloride hexahydrate=1,3"};

TEST_F(Sweep, ACaseIsWhatRecipeSolveSays) {
    const Json answer = json(0, {"--price", "sodium chloride=1"});
    ASSERT_EQ(answer.at("cases").size(), 1U);
    const Json& one = answer.at("cases")[0];
    const Outcome alone = run_here(
        {"recipe", "solve", natural_, "--materials", materials_, "--draws", "1000", "--json"});
    const Json solved = Json::parse(alone.out);
    EXPECT_NEAR(one.at("cost_per_t_blend").get<double>(),
                solved.at("cost_per_t_blend").get<double>(), 1e-6);
    double shares = 0;
    for (const Json& part : one.at("parts")) {
        shares += part.at("share").get<double>();
    }
    EXPECT_NEAR(shares, 1, 1e-9);
}

// Doubling a price costs what the material's share cost, as long as the recipe stays the same.
TEST_F(Sweep, PricesAreMultiplied) {
    const Json answer = json(0, {"--price", "sodium chloride=1,1.001"});
    const Json &one = answer.at("cases")[0], &dearer = answer.at("cases")[1];
    double share = 0;
    for (const Json& part : one.at("parts")) {
        share += part.at("material") == "sodium chloride" ? part.at("share").get<double>() : 0;
    }
    ASSERT_GT(share, 0.5);
    constexpr double kPrice = 0.29, kKgPerT = 1000;  // EUR/kg in examples/works/materials.toml
    EXPECT_NEAR(
        dearer.at("cost_per_t_blend").get<double>() - one.at("cost_per_t_blend").get<double>(),
        0.001 * kPrice * share * kKgPerT, 1e-4);
}

TEST_F(Sweep, SharesTogetherAreTheWhole) {
    std::set<std::string> ids;
    std::size_t worked = 0;
    for (const char* shard : {"1/4", "3/4", "2/4"}) {
        Words more = kPrices;
        more.insert(more.end(), {"--shard", shard});
        worked += json(1, more).at("worked_out_now").get<std::size_t>();
    }
    Words last = kPrices;
    last.insert(last.end(), {"--shard", "4/4"});
    const Json whole = json(0, last);
    worked += whole.at("worked_out_now").get<std::size_t>();
    EXPECT_EQ(worked, 6U);
    EXPECT_EQ(whole.at("still_open"), 0);
    const std::string other = folder_.path("at_once");
    into_ = other;
    EXPECT_EQ(json(0, kPrices).at("cases"), whole.at("cases"));
}

TEST_F(Sweep, GoesOnWhereItStoppedAndWorksNothingTwice) {
    EXPECT_EQ(json(0, kPrices).at("worked_out_now"), 6);
    EXPECT_EQ(json(0, kPrices).at("worked_out_now"), 0);
    const std::string gone = *files().begin();
    fs::remove(fs::path(into_) / gone);
    EXPECT_EQ(json(0, kPrices).at("worked_out_now"), 1);
    EXPECT_EQ(files().size(), 6U);
    // Another seed is another sweep in the same folder.
    Words seeded = kPrices;
    seeded.insert(seeded.end(), {"--seed", "2"});
    EXPECT_EQ(json(0, seeded).at("worked_out_now"), 6);
    EXPECT_EQ(files().size(), 12U);
    std::ofstream(fs::path(into_) / gone, std::ios::trunc) << "{}";
    const Outcome broken = run_here(words(kPrices));
    EXPECT_EQ(broken.code, 2);
    EXPECT_THAT(broken.err, HasSubstr(gone));
    EXPECT_THAT(broken.err, HasSubstr("take the file away"));
    const std::string id = gone.substr(0, gone.find('.'));
    for (const std::string& text : {std::string("{\"case\":5}"), "{\"case\":\"" + id + "\"}",
                                    "{\"case\":\"" + id + "\",\"solved\":\"yes\"}"}) {
        std::ofstream(fs::path(into_) / gone, std::ios::trunc) << text;
        const Outcome damaged = run_here(words(kPrices));
        EXPECT_EQ(damaged.code, 2) << text;
        EXPECT_THAT(damaged.err, HasSubstr("take the file away"));
    }
}

TEST_F(Sweep, FilesThatSayTheSameAreOneCaseUnderTheirOwnNames) {
    const std::string copy = folder_.write("copy.toml", read_bytes(natural_));
    Words both = words();
    both.insert(both.begin() + 3, copy);
    const Json answer = Json::parse(run_here(both).out);
    EXPECT_EQ(answer.at("worked_out_now"), 1);
    EXPECT_EQ(answer.at("cases")[0].at("target_file"), natural_);
    EXPECT_EQ(answer.at("cases")[1].at("target_file"), copy);
}

TEST_F(Sweep, ATableDoesNotLieAmongTheCases) {
    EXPECT_EQ(json(0).at("worked_out_now"), 1);
    Words more{"--csv", into_ + "/" + *files().begin()};
    const Outcome got = run_here(words(more));
    EXPECT_EQ(got.code, 2);
    EXPECT_THAT(got.err, HasSubstr("among the cases"));
}

TEST_F(Sweep, TwoProcessesMayWorkOnOneShare) {
    std::vector<std::thread> both;
    std::array<int, 2> codes{};
    for (std::size_t i = 0; i < 2; ++i) {
        both.emplace_back([&, i] { codes[i] = run_here(words(kPrices)).code; });
    }
    for (std::thread& one : both) {
        one.join();
    }
    EXPECT_THAT(codes, testing::Each(0));
    EXPECT_EQ(files().size(), 6U);
}

TEST_F(Sweep, ATargetWithoutARecipeIsACaseToo) {
    const std::string salt = folder_.write(
        "salt.toml",
        "format = \"brinewright/1\"\nkind = \"materials\"\n[[material]]\nname = \"table salt\"\n"
        "formula = \"NaCl\"\nassay = \"99 %\"\nprice = \"0.3 EUR/kg\"\n");
    const Outcome got =
        run_here({"recipe", "sweep", natural_, "--materials", salt, "--into", into_});
    EXPECT_EQ(got.code, 1) << got.err;
    EXPECT_THAT(got.out, HasSubstr("no recipe"));
    EXPECT_THAT(got.out, HasSubstr("1 case: 1 worked out now, 1 without a recipe"));
    EXPECT_THAT(got.out, HasSubstr("* no recipe in 1 case: "));
}

TEST_F(Sweep, RefusesWhatCannotBe) {
    const std::string file = folder_.write("taken", "x");
    const std::pair<Words, const char*> cases[] = {
        {{"--price", "sodium chloride"}, "--price"},
        {{"--price", "sodium chloride=1,x"}, "not a number"},
        {{"--price", "sodium chloride=0"}, "above 0"},
        {{"--price", "unobtainium=1"}, "not among the materials"},
        {{"--price", "sodium chloride=1", "--price", "sodium chloride=2"}, "stepped twice"},
        {{"--shard", "0/2"}, "--shard"},
        {{"--shard", "3/2"}, "--shard"},
        {{"--shard", "half"}, "2/8"},
        {{"--csv", natural_}, "would overwrite"},
    };
    for (const auto& [more, said] : cases) {
        const Outcome got = run_here(words(more));
        EXPECT_EQ(got.code, 2) << said << got.err;
        EXPECT_THAT(got.err, HasSubstr(said));
        EXPECT_EQ(std::count(got.err.begin(), got.err.end(), '\n'), 1) << got.err;
    }
    into_ = file;
    EXPECT_EQ(run_here(words()).code, 3);
}

}  // namespace
