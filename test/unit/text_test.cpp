// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/text.hpp"

#include <array>
#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "base/result.hpp"

namespace {

using namespace bw::base;

TEST(Text, TrimTakesBlanksFromBothEndsOnly) {
    EXPECT_EQ(trim("  440 mg/L\t\r\n"), "440 mg/L");
    EXPECT_EQ(trim(" \t\r\n"), "");
    EXPECT_EQ(trim(""), "");
}

TEST(Text, LowerAsciiLeavesOtherBytesAlone) {
    EXPECT_EQ(lower_ascii("MgSO4 \u00C4"), "mgso4 \u00C4");
}

// Well-formed byte sequences: the Unicode Standard, table 3-7.
TEST(Text, FindsTheFirstByteThatIsNotUtf8) {
    EXPECT_FALSE(first_invalid_utf8("plain, \u00B5, \u2082, \U0001F30A").has_value());
    struct Row {
        std::string text;
        std::size_t at;
        const char* what;
    };
    const std::vector<Row> rows = {
        {std::string("ab\xFF", 3), 2, "a byte that never occurs"},
        {std::string("a\xC0\x80", 3), 1, "overlong two bytes"},
        {std::string("a\xE0\x9F\xBF", 4), 1, "overlong three bytes"},
        {std::string("a\xED\xA0\x80", 4), 1, "a surrogate"},
        {std::string("a\xF4\x90\x80\x80", 5), 1, "above U+10FFFF"},
        {std::string("a\xE2\x82", 3), 1, "cut short"},
        {std::string("\xB5g/L", 4), 0, "Latin-1 micro"},
    };
    for (const Row& row : rows) {
        const auto found = first_invalid_utf8(row.text);
        ASSERT_TRUE(found.has_value()) << row.what;
        EXPECT_EQ(*found, row.at) << row.what;
    }
}

TEST(Text, WidthCountsCodePointsNotBytes) {
    EXPECT_EQ(display_width("MgCl\u2082\u00B76H\u2082O"), 10U);  // 10 signs, 15 bytes
    EXPECT_EQ(display_width(""), 0U);
}

TEST(Text, ClosestForgivesASlipButInventsNothing) {
    constexpr std::array<std::string_view, 4> kNames = {"salinity", "temperature", "Na", "K"};
    EXPECT_EQ(closest("salinty", kNames), "salinity");
    EXPECT_EQ(closest("TEMPERATUR", kNames), "temperature");
    EXPECT_EQ(closest("na", kNames), "Na");
    EXPECT_FALSE(closest("grain", kNames).has_value());
    EXPECT_FALSE(closest("", kNames).has_value());
    // Three letters of eight missing is no slip: more than a third.
    EXPECT_FALSE(closest("sality", std::array<std::string_view, 1>{"temperature"}).has_value());
    EXPECT_FALSE(closest(std::string(65, 'x'), kNames).has_value());
}

TEST(Text, JoinsWordsAsASentenceDoes) {
    EXPECT_EQ(join_words(std::vector<std::string>{}), "");
    EXPECT_EQ(join_words(std::vector<std::string>{"a"}), "a");
    EXPECT_EQ(join_words(std::vector<std::string>{"a", "b"}), "a and b");
    EXPECT_EQ(join_words(std::vector<std::string>{"a", "b", "c"}, "or"), "a, b or c");
}

TEST(Text, QuotedIsSafeToPrint) {
    EXPECT_EQ(bw::base::quoted("440 mg/L"), "'440 mg/L'");
    EXPECT_EQ(bw::base::quoted("a\x1B[31m\n"), "'a?[31m?'");
    EXPECT_EQ(bw::base::quoted("\xFF\u00B5"), "'?\u00B5'");
    // Cut at 60 bytes, and never within a sign: 31 two-byte signs are 62 bytes.
    std::string micro;
    for (int i = 0; i < 31; ++i) {
        micro += "\u00B5";
    }
    EXPECT_EQ(bw::base::quoted(micro), "'" + micro.substr(0, 60) + "...'");
    EXPECT_FALSE(first_invalid_utf8(bw::base::quoted("x" + micro)).has_value());
}

TEST(Text, WrapKeepsEveryWordAndTheWidth) {
    const std::string text = "the nearest water has calcium above its band of 440 to 450 mg/L";
    const auto lines = wrap(text, 20);
    std::string again;
    for (const std::string& line : lines) {
        EXPECT_LE(display_width(line), 20U) << line;
        again += (again.empty() ? "" : " ") + line;
    }
    EXPECT_EQ(again, text);
    EXPECT_EQ(wrap("tetrahydroxoborate", 5), std::vector<std::string>{"tetrahydroxoborate"});
    EXPECT_TRUE(wrap("", 20).empty());
}

TEST(Problem, TextNamesOnlyWhatIsKnown) {
    EXPECT_EQ((bw::Problem{bw::ProblemCode::BadUnit, "no unit", {"a.toml", 7, "Ca"}}).text(),
              "a.toml:7: Ca: no unit");
    EXPECT_EQ((bw::Problem{bw::ProblemCode::BadUnit, "no unit", {"a.json", 0, "Ca"}}).text(),
              "a.json: Ca: no unit");
    EXPECT_EQ((bw::Problem{bw::ProblemCode::BadUnit, "no unit", {}}).text(), "no unit");
}

// Scripts tell input (2), disk (3), refusal (4) and a fault of the program (70, EX_SOFTWARE of
// sysexits.h) apart by these codes; JSON readers by the names, which must differ.
TEST(Problem, ExitCodesAndNamesAreThePromisedOnes) {
    EXPECT_EQ(exit_code(bw::ProblemCode::BadInput), 2);
    EXPECT_EQ(exit_code(bw::ProblemCode::Disk), 3);
    EXPECT_EQ(exit_code(bw::ProblemCode::Refused), 4);
    EXPECT_EQ(exit_code(bw::ProblemCode::Internal), 70);
    std::set<std::string_view> names;
    std::size_t count = 0;
#define BW_PROBLEM(name, wire, exit)            \
    names.insert(wire_name(ProblemCode::name)); \
    ++count;
#include "base/problem_codes.def"
#undef BW_PROBLEM
    EXPECT_EQ(names.size(), count);
    EXPECT_EQ(wire_name(ProblemCode::TooLarge), "too_large");
}

}  // namespace
