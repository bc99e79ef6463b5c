// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Hazard pictograms: drawn inside their diamond, with their names beside them on the papers.
#include "report/pictogram.hpp"

#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/invented.hpp"
#include "report/readers.hpp"

namespace bw::report {
namespace {

using testing::HasSubstr;

const std::vector<std::string> kCodes = {"GHS02", "GHS03", "GHS05", "GHS06",
                                         "GHS07", "GHS08", "GHS09"};

TEST(Pictograms, StayInsideTheirRedDiamond) {
    constexpr double kSide = 30, kX = 7, kY = 11;
    for (const std::string& code : kCodes) {
        EXPECT_FALSE(pictogram_name(code).empty()) << code;
        const Drawing drawing = pictogram(code, kX, kY, kSide);
        ASSERT_GT(drawing.size(), 3U) << code;
        for (std::size_t i = 0; i < drawing.size(); ++i) {
            const auto& path = std::get<PathItem>(drawing[i]);
            // The frame fills its square; the symbol keeps off the frame.
            const double reach = (i == 0 ? 0.5 : 0.4151) * kSide;
            for (const PathStep& step : path.steps) {
                if (step.kind != PathStep::Kind::Close) {
                    EXPECT_LE(std::abs(step.x - kX - kSide / 2) + std::abs(step.y - kY - kSide / 2),
                              reach)
                        << code << ", item " << i;
                }
            }
        }
        const auto& frame = std::get<PathItem>(drawing[0]);
        EXPECT_GT(frame.fill->red, 0.7);
        EXPECT_LT(frame.fill->green, 0.2);
    }
    EXPECT_TRUE(pictogram("GHS99", 0, 0, kSide).empty());
    EXPECT_TRUE(pictogram_name("GHS99").empty());
}

TEST(Pictograms, StandOnThePapersWithTheirNames) {
    MixingSheet sheet = test::invented_mixing_sheet();
    sheet.safety.pictograms = kCodes;
    for (const MixingFormat format : {MixingFormat::A5, MixingFormat::NarrowA6}) {
        const std::string text = test::text_of(*mixing_sheet_pdf(sheet, format));
        for (const std::string& code : kCodes) {
            EXPECT_THAT(text, HasSubstr(code));
        }
    }
    const std::string batch =
        test::text_in_drawn_order(*batch_sheet_pdf(test::invented_batch_sheet()));
    EXPECT_THAT(batch, HasSubstr("Warning GHS07 exclamation mark"));
}

TEST(Pictograms, ThoseThatAreNotDrawnAreNamed) {
    BatchSheet sheet = test::invented_batch_sheet();
    sheet.safety.pictograms = {"GHS04"};
    EXPECT_THAT(test::text_of(*batch_sheet_pdf(sheet)), HasSubstr("Warning GHS04"));
}

}  // namespace
}  // namespace bw::report
