// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/mixing_sheet.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/invented.hpp"
#include "report/readers.hpp"

namespace bw::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string made(const MixingSheet& sheet, MixingFormat format = MixingFormat::A5) {
    const auto out = mixing_sheet_pdf(sheet, format);
    EXPECT_TRUE(out) << out.error().text();
    return out ? *out : std::string{};
}

class MixingSheetIn : public ::testing::TestWithParam<MixingFormat> {};

TEST_P(MixingSheetIn, SameInputSameBytes) {
    EXPECT_EQ(made(test::invented_mixing_sheet(), GetParam()),
              made(test::invented_mixing_sheet(), GetParam()));
}

TEST_P(MixingSheetIn, SaysAllThatAUserNeeds) {
    const std::string text = test::text_of(made(test::invented_mixing_sheet(), GetParam()));
    for (const char* wanted : {"39.03 g of salt per litre of finished water",
                               "39.66 g per kg of purified water",
                               "35.2 g/kg",
                               "practical salinity 35.0",
                               "at 25 °C",
                               "Shake or roll the container",
                               "A container that is dissolved whole needs no shaking.",
                               "Purified water first.",
                               "at most 10 µS/cm",
                               "Bring it to 20 to 26 °C",
                               "Salt into water.",
                               "Never pour water onto salt.",
                               "Stir for 45 min,",
                               "Check the salinity",
                               "Use the water within 48 h.",
                               "10 9.84 0.390",
                               "100 98.42 3.903",
                               "1000 984.2 39.03",
                               "L kg kg",
                               "25 53.1 1.0253 35.0 36.4",
                               "mS/cm",
                               "20 °C/20 °C",
                               "2.0 % per °C",
                               "cloudy after 4 h: do not use it",
                               "quality@example.invalid",
                               "Storing an open container",
                               "Use the salt by 2028-02-29.",
                               "B26-0142-K",
                               "Causes serious eye irritation (H319).",
                               "Page 1 of"}) {
        EXPECT_THAT(text, HasSubstr(wanted));
    }
    // Order: water before salt.
    EXPECT_LT(text.find("Purified water first."), text.find("Salt into water."));
}

TEST_P(MixingSheetIn, PromisesNothingThatLives) {
    const std::string text = test::text_of(made(test::invented_mixing_sheet(), GetParam()));
    for (const char* never :
         {"coral", "Coral", "fish", "Fish", "animal", "alive", "healthy", "safe for"}) {
        EXPECT_THAT(text, Not(HasSubstr(never)));
    }
}

TEST_P(MixingSheetIn, SquareCodeIsPlainText) {
    EXPECT_THAT(test::codes_of(made(test::invented_mixing_sheet(), GetParam())),
                HasSubstr("QR-Code:Reef salt R\nBatch B26-0142-K\n39.03 g of salt per litre of "
                          "finished water\n39.66 g per kg of purified water\nSalinity 35.2 "
                          "g/kg\nUse by 2028-02-29"));
}

INSTANTIATE_TEST_SUITE_P(Formats, MixingSheetIn,
                         ::testing::Values(MixingFormat::A5, MixingFormat::NarrowA6));

TEST(MixingSheet, PagesAreOfTheFormat) {
    EXPECT_THAT(test::facts_of(made(test::invented_mixing_sheet())),
                HasSubstr("419.528 x 595.276 pts"));
    EXPECT_THAT(test::facts_of(made(test::invented_mixing_sheet(), MixingFormat::NarrowA6)),
                HasSubstr("297.638 x 419.528 pts"));
    EXPECT_EQ(test::page_texts(made(test::invented_mixing_sheet())).size(), 2U);
}

TEST(MixingSheet, InstrumentsWithoutReadingsAreLeftOut) {
    MixingSheet sheet = test::invented_mixing_sheet();
    for (CheckReading& reading : sheet.readings) {
        reading.dial_sodium_chloride.clear();
    }
    EXPECT_THAT(test::text_of(made(sheet)), Not(HasSubstr("NaCl dial")));
}

TEST(MixingSheet, NamesNoContactWhereThereIsNone) {
    MixingSheet sheet = test::invented_mixing_sheet();
    EXPECT_THAT(test::text_of(made(sheet)), HasSubstr("contact us: "));
    sheet.maker.contact.clear();
    const std::string text = test::text_of(made(sheet));
    EXPECT_THAT(text, Not(HasSubstr("contact us")));
    EXPECT_THAT(text, HasSubstr("tell the maker."));
}

TEST(MixingSheet, RefusesWithoutASignedDecisionOnSafety) {
    MixingSheet sheet = test::invented_mixing_sheet();
    sheet.safety.decided_by.clear();
    const auto out = mixing_sheet_pdf(sheet, MixingFormat::A5);
    ASSERT_FALSE(out);
    EXPECT_EQ(out.error().code, ProblemCode::Refused);
    sheet = test::invented_mixing_sheet();
    sheet.stir_time.clear();
    ASSERT_FALSE(mixing_sheet_pdf(sheet, MixingFormat::A5));
    EXPECT_THAT(mixing_sheet_pdf(sheet, MixingFormat::A5).error().text(),
                HasSubstr("stir_time is missing"));
}

}  // namespace
}  // namespace bw::report
