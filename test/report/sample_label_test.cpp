// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/sample_label.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/invented.hpp"
#include "report/readers.hpp"

namespace bw::report {
namespace {

using ::testing::HasSubstr;

std::string made(const SampleLabels& labels) {
    const auto out = sample_labels_pdf(labels);
    EXPECT_TRUE(out) << out.error().text();
    return out ? *out : std::string{};
}

TEST(SampleLabels, SameInputSameBytes) {
    EXPECT_EQ(made(test::invented_labels()), made(test::invented_labels()));
}

TEST(SampleLabels, SquareCodesHoldTheNumbers) {
    const std::string pdf = made(test::invented_labels());
    const std::string codes = test::codes_of(pdf);
    EXPECT_EQ(test::times(codes, "QR-Code:S26-0311-H/"), 11U);
    EXPECT_THAT(codes, HasSubstr("QR-Code:S26-0311-H/10\n"));
    EXPECT_THAT(codes, HasSubstr("QR-Code:S26-0311-H/R\n"));
    const std::string text = test::text_in_drawn_order(pdf);
    for (const char* wanted :
         {"S26-0311-H/3", "Batch B26-0142-K", "increment 3 of 10 · 105 g", "taken 2026-02-26 10:41",
          "by C. Example", "keep until 2028-08-31"}) {
        EXPECT_THAT(text, HasSubstr(wanted));
    }
}

TEST(SampleLabels, BarsHoldTheNumbers) {
    SampleLabels labels = test::invented_labels();
    labels.code = LabelCode::Bars;
    const std::string codes = test::codes_of(made(labels));
    EXPECT_EQ(test::times(codes, "CODE-128:S26-0311-H/"), 11U);
    EXPECT_THAT(codes, HasSubstr("CODE-128:S26-0311-H/R\n"));
}

/// Every printable ASCII character goes through the bars and back; outside truth is the reader.
TEST(SampleLabels, BarsHoldAllOfAscii) {
    SampleLabels labels = test::invented_labels();
    labels.code = LabelCode::Bars;
    labels.stock = LabelStock::Roll;
    labels.labels.resize(1);
    constexpr int kRun = 12;
    for (int first = ' '; first <= '~'; first += kRun) {
        std::string id;
        for (int c = first; c < first + kRun && c <= '~'; ++c) {
            id += static_cast<char>(c);
        }
        labels.labels[0].id = id;
        EXPECT_THAT(test::codes_of(made(labels)), HasSubstr("CODE-128:" + id + "\n"));
    }
}

TEST(SampleLabels, PlacesAndPages) {
    SampleLabels labels = test::invented_labels();
    labels.skip = 20;
    EXPECT_EQ(test::page_texts(made(labels)).size(), 2U);
    labels.stock = LabelStock::Roll;
    EXPECT_EQ(test::page_texts(made(labels)).size(), labels.labels.size());
}

TEST(SampleLabels, RefusesWhatCannotBePrinted) {
    SampleLabels labels = test::invented_labels();
    labels.labels[0].product = std::string(120, 'W');
    ASSERT_FALSE(sample_labels_pdf(labels));
    EXPECT_EQ(sample_labels_pdf(labels).error().code, ProblemCode::TooLarge);
    EXPECT_THAT(sample_labels_pdf(labels).error().text(), HasSubstr("does not fit a label"));
    labels = test::invented_labels();
    labels.code = LabelCode::Bars;
    labels.labels[0].id = "S26-µ";
    ASSERT_FALSE(sample_labels_pdf(labels));
    EXPECT_THAT(sample_labels_pdf(labels).error().text(), HasSubstr("cannot be a bar code"));
    labels = test::invented_labels();
    labels.skip = 24;
    ASSERT_FALSE(sample_labels_pdf(labels));
    EXPECT_EQ(sample_labels_pdf(labels).error().code, ProblemCode::OutOfRange);
    labels = test::invented_labels();
    labels.labels.clear();
    EXPECT_FALSE(sample_labels_pdf(labels));
}

}  // namespace
}  // namespace bw::report
