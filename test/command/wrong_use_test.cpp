// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Wrong use of the command line: exit code 2, one line on stderr that names the word at fault.
#include "command/bad_case.hpp"

namespace {

using namespace bw::command_test;

struct WrongUse {
    std::string name;
    std::vector<std::string> arguments;
    std::vector<std::string> says;
};
void PrintTo(const WrongUse& w, std::ostream* out) { *out << w.name; }

std::vector<std::string> solve(const std::vector<std::string>& more) {
    std::vector<std::string> out{"recipe", "solve", "target.toml", "--materials", "materials.toml"};
    out.insert(out.end(), more.begin(), more.end());
    return out;
}

std::vector<WrongUse> wrong_uses() {
    return {
        {"Nothing", {}, {"subcommand is required", "--help"}},
        {"NounAlone", {"recipe"}, {"subcommand is required", "--help"}},
        {"UnknownNoun", {"soup"}, {"soup"}},
        {"UnknownVerb", {"recipe", "cook"}, {"cook"}},
        {"TargetMissing", {"recipe", "solve"}, {"TARGET is required"}},
        {"MaterialsMissing", {"recipe", "solve", "target.toml"}, {"--materials is required"}},
        {"MaterialsWithoutFile",
         {"recipe", "solve", "target.toml", "--materials"},
         {"--materials"}},
        {"SecondRecipeMissing", {"recipe", "compare", "target.toml"}, {"B is required"}},
        {"OneFileTooMany", {"recipe", "compare", "a", "b", "c"}, {"c"}},
        {"UnknownOption", solve({"--seeed", "4"}), {"--seeed"}},
        {"OptionOfAnotherCommand", {"recipe", "compare", "a", "b", "--seed", "4"}, {"--seed"}},
        {"LotsWithoutFile", solve({"--lots"}), {"--lots"}},
        {"DrawsInWords", solve({"--draws", "many"}), {"--draws", "many", "100"}},
        {"DrawsTooFew", solve({"--draws", "99"}), {"--draws", "99", "100"}},
        {"DrawsTooMany", solve({"--draws", "10000001"}), {"--draws", "10000000"}},
        {"DrawsNegative", solve({"--draws", "-5"}), {"--draws", "-5"}},
        {"DrawsInHalves", solve({"--draws", "100.5"}), {"--draws", "100.5"}},
        {"DrawsEmpty", solve({"--draws", ""}), {"--draws"}},
        {"DrawsWithoutNumber", solve({"--draws"}), {"--draws"}},
        {"SeedInWords", solve({"--seed", "pepper"}), {"--seed", "pepper"}},
        {"SeedNegative", solve({"--seed", "-1"}), {"--seed", "-1"}},
        {"SeedTooLarge", solve({"--seed", "99999999999999999999999"}), {"--seed"}},
        {"OutTwice", solve({"--out", "a.toml", "--out", "b.toml"}), {"--out"}},
        {"LotsTwice", solve({"--lots", "a.toml", "--lots", "b.toml"}), {"--lots"}},
        {"WaterAlone", {"water"}, {"subcommand is required", "--help"}},
        {"UnknownVerbOfWater", {"water", "taste"}, {"taste"}},
        {"WaterMissing", {"water", "show"}, {"WATER is required"}},
        {"SecondWaterMissing", {"water", "compare", "target.toml"}, {"B is required"}},
        {"TemperatureWithoutValue",
         {"water", "show", "w.toml", "--temperature"},
         {"--temperature"}},
        {"FlagWithNonsense", solve({"--json=maybe"}), {"--json", "maybe"}},
    };
}

class CommandLine : public testing::TestWithParam<WrongUse> {};

TEST_P(CommandLine, WrongUseIsRefusedInOneLine) {
    const TestFolder folder;
    static_cast<void>(folder.write("target.toml", kTarget));
    static_cast<void>(folder.write("materials.toml", kMaterials));
    const auto before = folder.names();
    expect_complaint(run_program(GetParam().arguments, folder.path()), 2, "", GetParam().says);
    EXPECT_EQ(folder.names(), before);
}

INSTANTIATE_TEST_SUITE_P(Use, CommandLine, testing::ValuesIn(wrong_uses()),
                         [](const auto& tested) { return tested.param.name; });

TEST(CommandLine, WordWithALineBreakStaysOneLine) {
    const Outcome got = run_here({"recipe", "compare", "a", "b", "c\nd"});
    expect_complaint(got, 2, "", {"c"});
}

TEST(CommandLine, VersionNamesProgramAndData) {
    const Outcome got = run_here({"--version"});
    EXPECT_EQ(got.code, 0);
    EXPECT_EQ(got.err, "");
    EXPECT_EQ(got.out.substr(0, 12), "brinewright ");
    EXPECT_NE(got.out.find("data "), std::string::npos);
    EXPECT_EQ(std::count(got.out.begin(), got.out.end(), '\n'), 1);
}

}  // namespace
