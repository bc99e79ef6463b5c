// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/batch_sheet.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/invented.hpp"
#include "report/readers.hpp"

namespace bw::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string made(const BatchSheet& sheet) {
    const auto out = batch_sheet_pdf(sheet);
    EXPECT_TRUE(out) << out.error().text();
    return out ? *out : std::string{};
}

TEST(BatchSheet, SameInputSameBytes) {
    EXPECT_EQ(made(test::invented_batch_sheet()), made(test::invented_batch_sheet()));
}

TEST(BatchSheet, SafetyComesBeforeAnyWork) {
    const std::string text = test::text_of(made(test::invented_batch_sheet()));
    for (const char* wanted :
         {"Warning", "Causes serious eye irritation (H319).", "P305 + P351 + P338",
          "safety data sheets and the rules of the place come before this box",
          "Decided by D. Example, 2026-01-12"}) {
        EXPECT_THAT(text, HasSubstr(wanted));
    }
    EXPECT_LT(text.find("H319"), text.find("Before the start"));
    EXPECT_LT(text.find("H319"), text.find("Weigh in this order"));
}

TEST(BatchSheet, HoldsTargetsAndWeighings) {
    const std::string text = test::text_of(made(test::invented_batch_sheet()));
    for (const char* wanted :
         {"1 Sodium chloride L26-0071-A 312.05 0.50 Scale F1, shows 50 g 312.10",
          "312.10 1.85 C. Example 2026-02-26 08:12 Within limits",
          "62.70 1.85 C. Example 2026-02-26 08:25 Within limits",
          "1.85 C. Example 2026-02-26 08:31 Outside limits",
          "typed by hand, not read from the scale",
          "17.250 0.020",
          "5.4880 0.0050",
          "0.000 42 0.000 01",
          "Target Tolerance",
          "kg ± kg",
          "Add P2 and the rest of the sodium chloride, blend 20 min.",
          "Blend 20 min at 18 turns/min",
          "10 increments of 100 g",
          "D26-0030",
          "Yield",
          "Unexplained",
          "Made by",
          "shift leader",
          "signature, date and time",
          "Trail mark 1834-0123456789abcdef",
          "recipe version 7"}) {
        EXPECT_THAT(text, HasSubstr(wanted));
    }
}

TEST(BatchSheet, PartsAreBoxesAndTheLastOfThemIsJudged) {
    BatchSheet parts = test::invented_batch_sheet();
    parts.premixes.clear();
    parts.additions[0].parts = 3;
    parts.additions[0].part = "104.0";
    parts.additions[0].weighings[0].whole = false;
    parts.additions[0].weighings[0].correction = "corrected from 301.20 kg: misread";
    const std::string text = test::text_of(made(parts));
    EXPECT_THAT(text, HasSubstr("in 3 parts of about 104.0 kg"));
    EXPECT_THAT(text, HasSubstr("2026-02-26 08:12 part"));
    EXPECT_THAT(text, HasSubstr("part 3"));
    EXPECT_THAT(text, HasSubstr("Step 1, part 1: corrected from 301.20 kg: misread"));
    EXPECT_THAT(text, HasSubstr("Planned on 2026-02-26"));
}

TEST(BatchSheet, EachPremixStandsWhereItIsMade) {
    BatchSheet sheet = test::invented_batch_sheet();
    sheet.premixes.push_back({"Late premix", "", {sheet.additions[4]}, {"Mix"}, 3});
    sheet.additions.pop_back();
    const std::string text = test::text_of(made(sheet));
    std::size_t last = 0;
    for (const char* each :
         {"Trace premix P26-0031-D", "Weigh in this order", "L26-0071-A", "L26-0075-R",
          "Late premix", "P26-0031-D", "Go on weighing", "L26-0069-T"}) {
        const std::size_t at = text.find(each, last);
        ASSERT_NE(at, std::string::npos) << each << " is not after the one before:\n" << text;
        last = at + 1;
    }
}

TEST(BatchSheet, SafetyNamesMaterialsAndWhatWasSigned) {
    BatchSheet sheet = test::invented_batch_sheet();
    sheet.safety.hazards[0].of = "calcium chloride";
    sheet.safety.signed_for = {"Recipe version approved by A.", "Lot adjustment approved by B."};
    const std::string text = test::text_of(made(sheet));
    EXPECT_THAT(text, HasSubstr("Causes serious eye irritation (H319): calcium chloride."));
    sheet.safety.hazards[0].text += ".";  // a phrase of two sentences has a stop of its own
    EXPECT_THAT(test::text_of(made(sheet)), HasSubstr("eye irritation (H319): calcium chloride."));
    EXPECT_THAT(text, HasSubstr("Recipe version approved by A. Lot adjustment approved by B."));
    EXPECT_THAT(text, Not(HasSubstr("Decided by")));
}

TEST(BatchSheet, FortyAdditionsBreakWithTheHeadOnEachPage) {
    BatchSheet long_one = test::invented_batch_sheet();
    long_one.premixes.clear();
    long_one.additions.clear();
    for (int i = 1; i <= 40; ++i) {
        long_one.additions.push_back({std::to_string(i),
                                      "Material number " + std::to_string(i),
                                      "L26-0001-A",
                                      "12.345",
                                      "0.010",
                                      "Scale F2",
                                      "5 g",
                                      "kg",
                                      {}});
    }
    const auto pages = test::page_texts(made(long_one));
    std::size_t heads = 0, with_rows = 0, rows = 0;
    for (const std::string& page : pages) {
        heads += test::times(page, "Step Material Lot");
        with_rows += page.find("Material number") != std::string::npos ? 1U : 0U;
        rows += test::times(page, "Material number");
    }
    EXPECT_EQ(rows, 40U);
    EXPECT_GE(with_rows, 3U);
    EXPECT_EQ(heads, with_rows);
}

TEST(BatchSheet, UnitsThatDifferGetAColumn) {
    BatchSheet mixed = test::invented_batch_sheet();
    mixed.additions[4].unit = "g";
    EXPECT_THAT(test::text_of(made(mixed)), HasSubstr("Lot Unit Target Tolerance"));
}

TEST(BatchSheet, WithoutADecisionOnSafetyNobodyStarts) {
    BatchSheet open = test::invented_batch_sheet();
    open.safety.decided_by.clear();
    const std::string text = test::text_of(made(open));
    EXPECT_THAT(text, HasSubstr("Safety not yet decided"));
    EXPECT_THAT(text, HasSubstr("Nobody may start"));
    EXPECT_THAT(text, Not(HasSubstr("H319")));
}

TEST(BatchSheet, LongSafetyBoxGoesOnOverleaf) {
    BatchSheet dangerous = test::invented_batch_sheet();
    for (int i = 0; i < 60; ++i) {
        dangerous.safety.hazards.push_back({"H3" + std::to_string(10 + i), "Invented hazard"});
    }
    const std::string text = test::text_of(made(dangerous));
    EXPECT_THAT(text, HasSubstr("(H369)"));
}

TEST(BatchSheet, RefusesWhatIsMissing) {
    BatchSheet none = test::invented_batch_sheet();
    none.additions.clear();
    none.premixes.clear();
    ASSERT_FALSE(batch_sheet_pdf(none));
    EXPECT_THAT(batch_sheet_pdf(none).error().text(), HasSubstr("additions"));
    BatchSheet no_version = test::invented_batch_sheet();
    no_version.recipe_version.clear();
    ASSERT_FALSE(batch_sheet_pdf(no_version));
    EXPECT_THAT(batch_sheet_pdf(no_version).error().text(), HasSubstr("recipe_version is missing"));
    BatchSheet many = test::invented_batch_sheet();
    many.additions.resize(301, many.additions[0]);
    ASSERT_FALSE(batch_sheet_pdf(many));
    EXPECT_EQ(batch_sheet_pdf(many).error().code, ProblemCode::TooLarge);
}

}  // namespace
}  // namespace bw::report
