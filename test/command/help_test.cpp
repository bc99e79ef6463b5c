// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Every command, found by following --help from the top, explains itself with a worked example, and
// the examples of recipe solve and recipe compare work as they are printed.
#include <sstream>

#include "command/command_run.hpp"

namespace {

using namespace bw::command_test;

using Words = std::vector<std::string>;

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> out;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        out.push_back(line);
    }
    return out;
}

Words words_of(const std::string& line) {
    std::istringstream in(line);
    return {std::istream_iterator<std::string>(in), std::istream_iterator<std::string>()};
}

/// Lines indented by exactly two blanks after the line that starts with `head`.
std::vector<std::string> entries_under(const std::string& help, const std::string& head) {
    std::vector<std::string> out;
    bool inside = false;
    for (const std::string& line : lines_of(help)) {
        const bool entry = line.size() > 2 && line.substr(0, 2) == "  " && line[2] != ' ';
        if (inside && entry) {
            out.push_back(line.substr(2));
        }
        inside = line.substr(0, head.size()) == head || (inside && !line.empty());
    }
    return out;
}

Outcome help_of(Words command) {
    command.emplace_back("--help");
    return run_here(command);
}

/// Every command below this one that has no commands below it.
std::vector<Words> commands_below(const Words& command) {
    std::vector<Words> out;
    for (const std::string& entry : entries_under(help_of(command).out, "Subcommands:")) {
        Words inner = command;
        inner.push_back(words_of(entry).front());
        const auto leaves = commands_below(inner);
        out.insert(out.end(), leaves.begin(), leaves.end());
    }
    if (out.empty()) {
        out.push_back(command);
    }
    return out;
}

std::string joined(const Words& words) {
    std::string out;
    for (const std::string& word : words) {
        out += (out.empty() ? "" : " ") + word;
    }
    return out;
}

TEST(Help, EveryCommandHasAWorkedExampleAndTheOutputFlags) {
    const std::vector<Words> commands = commands_below({});
    ASSERT_GE(commands.size(), 2U);
    EXPECT_NE(std::find(commands.begin(), commands.end(), Words{"recipe", "solve"}),
              commands.end());
    EXPECT_NE(std::find(commands.begin(), commands.end(), Words{"recipe", "compare"}),
              commands.end());
    for (const Words& command : commands) {
        SCOPED_TRACE(joined(command));
        const Outcome got = help_of(command);
        EXPECT_EQ(got.code, 0);
        EXPECT_EQ(got.err, "");
        const auto examples = entries_under(got.out, "Example");
        ASSERT_FALSE(examples.empty()) << got.out;
        EXPECT_EQ(examples.front().find("brinewright " + joined(command)), 0U) << examples.front();
        if (command != Words{"manual"}) {  // a text for other programs, and nothing else
            EXPECT_NE(got.out.find("--json"), std::string::npos);
            EXPECT_NE(got.out.find("--quiet"), std::string::npos);
        }
        EXPECT_NE(got.out.find("Usage: brinewright " + joined(command)), std::string::npos)
            << "the usage line can be typed as it stands";
    }
}

TEST(Help, OfTheProgramAndOfANounLeadOn) {
    for (const Words& group : {Words{}, Words{"recipe"}, Words{"water"}}) {
        SCOPED_TRACE(joined(group));
        const Outcome got = help_of(group);
        EXPECT_EQ(got.code, 0);
        EXPECT_EQ(got.err, "");
        EXPECT_FALSE(entries_under(got.out, "Subcommands:").empty());
        ASSERT_FALSE(entries_under(got.out, "Example").empty()) << got.out;
    }
}

TEST(Help, GoesToStandardOutputOfTheRealProgram) {
    const TestFolder folder;
    for (const Words& command : {Words{"--help"}, Words{"recipe", "solve", "-h"}}) {
        const Outcome got = run_program(command, folder.path());
        EXPECT_EQ(got.code, 0);
        EXPECT_EQ(got.err, "");
        EXPECT_NE(got.out.find("Example"), std::string::npos);
    }
    EXPECT_TRUE(folder.names().empty());
}

/// Types the example of a command's help into a folder that holds the examples.
Outcome type_example(const TestFolder& folder, const Words& command) {
    const auto examples = entries_under(help_of(command).out, "Example");
    if (examples.empty()) {
        return {};
    }
    Words typed = words_of(examples.front());
    typed.erase(typed.begin());
    return run_program(typed, folder.path());
}

TEST(Help, ExamplesWorkAsPrinted) {
    const TestFolder folder;
    std::filesystem::copy(std::string(BW_SOURCE_DIR) + "/examples", folder.path("examples"),
                          std::filesystem::copy_options::recursive);
    const Outcome top = type_example(folder, {});
    EXPECT_EQ(top.code, 0) << top.err;
    const Outcome solved = type_example(folder, {"recipe", "solve"});
    EXPECT_EQ(solved.code, 0) << solved.err;
    ASSERT_TRUE(folder.has("raised-recipe.toml"));
    const std::string recipe = read_bytes(folder.path("raised-recipe.toml"));
    static_cast<void>(folder.write("standing.toml", recipe));
    static_cast<void>(folder.write("adjusted.toml", recipe));
    const Outcome compared = type_example(folder, {"recipe", "compare"});
    EXPECT_EQ(compared.code, 0) << compared.err;
    EXPECT_NE(compared.out.find("sodium chloride"), std::string::npos);
    for (const Words& command : {Words{"water", "show"}, Words{"water", "compare"}}) {
        const Outcome water = type_example(folder, command);
        EXPECT_EQ(water.code, 0) << water.err;
        EXPECT_NE(water.out.find("aragonite"), std::string::npos);
    }
}

}  // namespace
