// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// One bad input each: how the files are spoilt, which line is at fault, what must be said of it.
// A mark '@' opens the line at fault and is taken out before the file is written; without a mark
// any line will do.
#pragma once
#include <algorithm>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "command/command_run.hpp"
#include "command/document_as_json.hpp"

namespace bw::command_test {

inline constexpr std::string_view kTarget = R"(format = "brinewright/1"
kind = "target"
name = "Small"
salinity = "35"
temperature = "25 degC"
rest = "natural"
)";
inline constexpr std::string_view kMaterials = R"(format = "brinewright/1"
kind = "materials"
[[material]]
name = "table salt"
formula = "NaCl"
assay = "99 %"
)";
inline constexpr std::string_view kLots = R"(format = "brinewright/1"
kind = "lots"
[[lot]]
material = "table salt"
number = "A1"
)";
inline constexpr std::string_view kRecipe = R"(format = "brinewright/1"
kind = "recipe"
name = "Standing"
[[part]]
material = "table salt"
g_per_kg_purified_water = 30
)";

/// `text` with the first `from` replaced; the test is wrong when there is none.
inline std::string instead(std::string_view text, std::string_view from, std::string_view to) {
    std::string out(text);
    const auto at = out.find(from);
    if (at == std::string::npos) {
        throw std::logic_error("the text to replace is not there: " + std::string(from));
    }
    return out.replace(at, from.size(), to);
}

struct BadCase {
    std::string name;
    std::string which;  ///< the file at fault: "target", "materials", "lots" or "standing"
    std::string text;   ///< of that file, with the mark
    std::vector<std::string> says;
};
inline void PrintTo(const BadCase& c, std::ostream* out) { *out << c.name; }

/// Takes the mark out and gives its line, or 0.
inline int take_mark(std::string& text) {
    const auto at = text.find('@');
    if (at == std::string::npos) {
        return 0;
    }
    text.erase(at, 1);
    return 1 + static_cast<int>(
                   std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

/// Exit code, one line on stderr that starts with the place and says what it must, nothing else.
inline void expect_complaint(const Outcome& got, int code, const std::string& place,
                             const std::vector<std::string>& says) {
    EXPECT_EQ(got.code, code) << got.err;
    EXPECT_TRUE(got.out.empty()) << got.out.substr(0, 200);
    EXPECT_EQ(std::count(got.err.begin(), got.err.end(), '\n'), 1) << got.err;
    EXPECT_TRUE(!got.err.empty() && got.err.back() == '\n') << got.err;
    const std::string start = "brinewright: " + place;
    EXPECT_EQ(got.err.substr(0, start.size()), start);
    for (const std::string& piece : says) {
        EXPECT_NE(got.err.find(piece), std::string::npos)
            << "wanted: " << piece << "\ngot: " << got.err;
    }
}

/// Runs recipe solve with one file spoilt, and with every kind of output asked for.
inline void run_bad_case(const BadCase& c, bool json) {
    const TestFolder folder;
    std::string spoilt = c.text;
    const int line = take_mark(spoilt);
    if (json) {
        const auto converted = as_json(spoilt);
        ASSERT_TRUE(converted) << "not a document, so it cannot be converted";
        spoilt = *converted;
    }
    const std::string suffix = json ? ".json" : ".toml";
    const auto file = [&](const std::string& kind, std::string_view good) {
        return folder.write(kind + (kind == c.which ? suffix : ".toml"),
                            kind == c.which ? std::string_view(spoilt) : good);
    };
    std::vector<std::string> arguments{"recipe", "solve", file("target", kTarget), "--materials",
                                       file("materials", kMaterials)};
    if (c.which == "lots" || c.which == "standing") {
        arguments.push_back("--" + c.which);
        arguments.push_back(file(c.which, ""));
    }
    for (const std::string output : {"out", "csv", "xlsx"}) {
        arguments.push_back("--" + output);
        arguments.push_back(folder.path("result." + output));
    }
    const auto before = folder.names();
    const Outcome got = run_here(arguments);
    const std::string place =
        folder.path(c.which + suffix) +
        (line > 0 && !json ? ":" + std::to_string(line) + ": " : std::string(":"));
    expect_complaint(got, 2, place, c.says);
    EXPECT_EQ(folder.names(), before) << "nothing may be written";
    if (json) {
        EXPECT_EQ(got.err.find("line 0"), std::string::npos) << got.err;
        EXPECT_EQ(got.err.find(":0"), std::string::npos) << got.err;
    }
}

inline std::string case_name(const testing::TestParamInfo<BadCase>& info) {
    return info.param.name;
}

/// The cases whose spoilt text is still a document, to be run as JSON too.
inline std::vector<BadCase> that_are_documents(const std::vector<BadCase>& cases) {
    std::vector<BadCase> out;
    std::copy_if(cases.begin(), cases.end(), std::back_inserter(out), [](const BadCase& c) {
        std::string text = c.text;
        static_cast<void>(take_mark(text));
        return as_json(text).has_value();
    });
    return out;
}

}  // namespace bw::command_test

/// A suite that runs a list of bad cases, as TOML and as JSON.
#define BW_BAD_CASES(suite, cases)                                                              \
    class suite : public testing::TestWithParam<BadCase> {};                                    \
    TEST_P(suite, IsRefusedInOneLine) { run_bad_case(GetParam(), false); }                      \
    INSTANTIATE_TEST_SUITE_P(Toml, suite, testing::ValuesIn(cases), case_name);                 \
    class suite##InJson : public testing::TestWithParam<BadCase> {};                            \
    TEST_P(suite##InJson, IsRefusedInOneLine) { run_bad_case(GetParam(), true); }               \
    INSTANTIATE_TEST_SUITE_P(Json, suite##InJson, testing::ValuesIn(that_are_documents(cases)), \
                             case_name)
