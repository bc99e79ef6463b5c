// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/figure.hpp"
#include "report/pdf.hpp"
#include "report/readers.hpp"
#include "report/status.hpp"
#include "report/strip.hpp"
#include "report/table.hpp"
#include "report/text.hpp"
#include "report/typeface.hpp"

namespace bw::report {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

constexpr double kSmall = 1e-9;

std::vector<TextItem> texts(const Drawing& drawing) {
    std::vector<TextItem> out;
    for (const Item& item : drawing) {
        if (const auto* text = std::get_if<TextItem>(&item)) {
            out.push_back(*text);
        }
    }
    return out;
}

// The table of the SI Brochure, 5.4.4, and of JCGM 100:2008, 7.2.6.
TEST(Figure, GroupsOfThreeAndMinus) {
    EXPECT_EQ(printed("19350"), "19\u202F350");
    EXPECT_EQ(printed("1290"), "1290");
    EXPECT_EQ(printed("0.00187"), "0.001\u202F87");
    EXPECT_EQ(printed("43279.16829"), "43\u202F279.168\u202F29");
    EXPECT_EQ(printed("-0.4"), "−0.4");
    EXPECT_EQ(printed("−0.4"), "−0.4");
    EXPECT_EQ(printed("<0.5"), "< 0.5");
    EXPECT_EQ(printed("not tested"), "not tested");
    EXPECT_EQ(printed(""), "");
    EXPECT_EQ(printed("1e5"), "1e5");
    EXPECT_EQ(printed("1234567890"), "1\u202F234\u202F567\u202F890");
}

TEST(Figure, RoundingDoesNotContradictTheVerdict) {
    // 440.04 lies above 440 and must not be printed as 440.0 beside it.
    const Figure above = figure(440.04, 2.5, 400, 440);
    EXPECT_EQ(above.value, "440.04");
    EXPECT_EQ(above.expanded, "2.50");
    // 439.96 lies within; "440.0" says so as well.
    EXPECT_EQ(figure(439.96, 2.5, 400, 440).value, "440.0");
    EXPECT_EQ(figure(399.98, 2.5, 400, 440).value, "399.98");
    EXPECT_EQ(figure(412.347, 2.472).value, "412.3");
    EXPECT_EQ(figure(412.347, 2.472).expanded, "2.5");
    EXPECT_EQ(figure(412.347, 0).value, "412.3");
    EXPECT_EQ(figure(412.347, 0).expanded, "");
}

TEST(Typeface, HasWhatPapersNeed) {
    const Typeface typeface;
    for (const Face face : {Face::Regular, Face::Bold, Face::Italic}) {
        EXPECT_TRUE(typeface.printable("µ±²³¹⁰⁴⁵⁶⁷⁸⁹⁻⁺₀₁₂₃₄₅₆₇₈₉·ΔΩ°‰×≤≥−–†…\u202F\u00A0", face));
        EXPECT_TRUE(typeface.printable("ÄÖÜäöüßéèçñøåŁłŽžŐő", face));
        EXPECT_TRUE(typeface.printable("αβγδλμσωΣ АБВгдеж", face));
    }
}

TEST(Typeface, FiguresStandBelowEachOther) {
    const Typeface typeface;
    const Style style{Face::Regular, 10, kInk, true};
    for (const char* figure : {"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "−"}) {
        EXPECT_NEAR(typeface.width(figure, style), typeface.width("0", style), kSmall);
    }
    // Kerning is at work in words and not in figures.
    const Style words{Face::Regular, 10, kInk, false};
    EXPECT_LT(typeface.width("AVAV", words), typeface.width("AVAV", style));
}

TEST(Text, LinesAreNoWiderThanAsked) {
    const Typeface typeface;
    const Style style{Face::Regular, 9, kInk};
    const std::string text =
        "The salt was dissolved at 39.66 g per kg of purified water at 25 °C; results are per kg "
        "of "
        "the water made up in this way, at a practical salinity of 35.0 and a temperature of 25 "
        "°C.";
    for (const double width : {60.0, 90.0, 140.0, 300.0}) {
        std::string joined;
        for (const std::string& line : broken_lines(text, style, width, typeface)) {
            EXPECT_LE(typeface.width(line, style), width + kSmall) << line;
            EXPECT_NE(line.back(), ' ');
            joined += (joined.empty() ? "" : " ") + line;
            // A number does not part from its unit.
            EXPECT_FALSE(line.ends_with(" 25")) << line;
            EXPECT_FALSE(line.ends_with("39.66")) << line;
        }
        EXPECT_EQ(joined, text);
    }
}

TEST(Text, WordsWiderThanALineAreBrokenWithin) {
    const Typeface typeface;
    const Style style{Face::Regular, 9, kInk};
    const std::string word(200, 'm');
    std::string joined;
    for (const std::string& line : broken_lines(word, style, 50, typeface)) {
        EXPECT_LE(typeface.width(line, style), 50 + kSmall);
        joined += line;
    }
    EXPECT_EQ(joined, word);
    // Characters of several bytes stay whole.
    for (const std::string& line : broken_lines("µµµµµµµµµµµµµµµµµµµµµµµµ", style, 20, typeface)) {
        EXPECT_TRUE(typeface.printable(line, Face::Regular));
    }
}

TEST(Text, HyphensBreakBetweenLettersOnly) {
    const Typeface typeface;
    const Style style{Face::Regular, 9, kInk};
    const double narrow = typeface.width("B26-0142-K", style) - 1;
    EXPECT_THAT(broken_lines("ion-free", style, typeface.width("ion-f", style), typeface),
                ElementsAre("ion-", "free"));
    EXPECT_EQ(broken_lines("B26-0142-K", style, narrow + 2, typeface).size(), 1U);
}

TEST(Table, DecimalMarksStandBelowEachOther) {
    const Typeface typeface;
    Table of;
    of.width = 300;
    of.columns = {{"Value", "mg/kg", Fit::Figures}, {"Word", {}, Fit::Words}};
    const std::vector<std::pair<const char*, const char*>> numbers{{"19350", "120"},
                                                                   {"412.3", "2.5"},
                                                                   {"0.00187", "0.00010"},
                                                                   {"-0.40", "0.62"},
                                                                   {"<0.5", ""}};
    for (const auto& [value, u] : numbers) {
        of.rows.push_back({{{value, u}, {"x"}}, {}});
    }
    std::vector<double> marks, u_marks;
    const Strips strips = table(of, typeface);
    for (std::size_t row = 1; row < strips.size(); ++row) {
        bool after_sign = false;
        for (const TextItem& text : texts(strips[row].items)) {
            if (text.text == "±") {
                after_sign = true;
                continue;
            }
            if (text.text == "x") {
                continue;
            }
            const std::string whole = text.text.substr(0, text.text.find('.'));
            (after_sign ? u_marks : marks).push_back(text.x + typeface.width(whole, text.style));
        }
    }
    ASSERT_EQ(marks.size(), 5U);
    ASSERT_EQ(u_marks.size(), 4U);
    for (const double mark : marks) {
        EXPECT_NEAR(mark, marks.front(), kSmall);
    }
    for (const double mark : u_marks) {
        EXPECT_NEAR(mark, u_marks.front(), kSmall);
    }
    EXPECT_GT(u_marks.front(), marks.front());
}

TEST(Table, StaysWithinItsWidth) {
    const Typeface typeface;
    Table of;
    of.width = 200;
    for (int c = 0; c < 6; ++c) {
        of.columns.push_back(
            {"Head " + std::to_string(c), {}, c % 2 == 0 ? Fit::Words : Fit::Figures});
    }
    of.rows.push_back({{{"averyveryverylongword"},
                        {"12345.678", "0.012"},
                        {"another long text"},
                        {"1"},
                        {"x"},
                        {"2"}},
                       {}});
    for (const Strip& strip : table(of, typeface)) {
        for (const TextItem& text : texts(strip.items)) {
            const double width = typeface.width(text.text, text.style);
            const double left = text.anchor == Anchor::Middle ? text.x - width / 2 : text.x;
            EXPECT_GE(left, -kSmall) << text.text;
            EXPECT_LE(left + width, of.width + kSmall) << text.text;
        }
    }
}

TEST(Pages, RunsThatBelongTogetherMoveTogether) {
    const PageForm form{{100, 100}, 10, 10, 10, 10};
    Strips strips(10);
    for (std::size_t i = 0; i < strips.size(); ++i) {
        strips[i].height = 15;
        strips[i].items.emplace_back(TextItem{0, 10, std::to_string(i), {}});
    }
    strips[4].with_next = true;  // 4 would end the first page of 80 points
    const auto made = pages(strips, form, [](std::size_t, std::size_t) { return Drawing{}; });
    ASSERT_TRUE(made);
    ASSERT_EQ(made->size(), 3U);
    EXPECT_EQ(texts((*made)[0]).size(), 4U);
    EXPECT_EQ(texts((*made)[1]).front().text, "4");
}

TEST(Pages, StripHigherThanAPageIsRefused) {
    Strips strips(1);
    strips[0].height = 1000;
    const auto made = pages(strips, {{100, 100}, 10, 10, 10, 10},
                            [](std::size_t, std::size_t) { return Drawing{}; });
    ASSERT_FALSE(made);
    EXPECT_EQ(made.error().code, ProblemCode::TooLarge);
}

TEST(Pdf, TextBeyondTheEdgeIsAFault) {
    const Typeface typeface;
    const FileFacts facts{"t", {}, {}, {}, "2026-03-09T14:05:00Z"};
    for (const TextItem& outside :
         {TextItem{95, 50, "wide", {}}, TextItem{-1, 50, "left", {}}, TextItem{10, 2, "up", {}},
          TextItem{10, 99, "low", {}}, TextItem{10, 20, "turned text", {}, Anchor::Start, true}}) {
        const std::vector<Drawing> page{{outside}};
        const auto made = pdf_bytes(page, {100, 100}, facts, typeface);
        ASSERT_FALSE(made) << outside.text;
        EXPECT_THAT(made.error().text(), HasSubstr("does not lie on the page"));
    }
    const std::vector<Drawing> page{{TextItem{10, 50, "in", {}}}};
    EXPECT_TRUE(pdf_bytes(page, {100, 100}, facts, typeface));
}

TEST(Pdf, SuperscriptsAndGreekAreReadBack) {
    const Typeface typeface;
    const FileFacts facts{"t", {}, {}, {}, "2026-03-09T14:05:00Z"};
    const std::string text = "µmol·kg⁻¹ ± 2 m² m³ ΔT Ω 25 °C SO₄²⁻ office fluffy ≤ − ‰";
    const std::vector<Drawing> page{{TextItem{10, 50, text, {}}}};
    const auto made = pdf_bytes(page, {500, 100}, facts, typeface);
    ASSERT_TRUE(made);
    EXPECT_THAT(test::text_of(*made), HasSubstr(text));
}

TEST(Status, WordsAreThoseOfTheVocabulary) {
    const Typeface typeface;
    for (const Status status : {Status::Within, Status::TooClose, Status::Outside, Status::OnHold,
                                Status::Information, Status::NotTested}) {
        const std::string word(name(status));
        const Drawing mark = status_mark(status, word, 0, 10, 8, typeface);
        ASSERT_EQ(texts(mark).size(), 1U);
        EXPECT_EQ(texts(mark).front().text, word);
        // Ground, at least one piece of the shape, the word.
        EXPECT_GE(mark.size(), 3U);
    }
}

}  // namespace
}  // namespace bw::report
