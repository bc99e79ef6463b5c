// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/chart.hpp"

#include <cmath>
#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/axis.hpp"
#include "report/invented.hpp"
#include "report/readers.hpp"

namespace bw::report {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

TEST(Axis, RunsBetweenRoundNumbers) {
    const Axis axis = axis_about(406, 418.9, 6, 0, 100);
    EXPECT_DOUBLE_EQ(axis.step, 5);
    EXPECT_THAT(axis.ticks(), ElementsAre(405, 410, 415, 420));
    EXPECT_DOUBLE_EQ(axis.at(405), 0);
    EXPECT_DOUBLE_EQ(axis.at(420), 100);
    EXPECT_EQ(axis.text(410), "410");
    const Axis fine = axis_about(1.02431, 1.02466, 4, 0, 1);
    EXPECT_DOUBLE_EQ(fine.step, 0.0001);
    EXPECT_EQ(fine.text(1.0244), "1.0244");
    EXPECT_EQ(axis_about(-1, 1, 4, 0, 1).text(-0.5), "−0.5");
    const Axis one = axis_about(412, 412, 5, 0, 1);
    EXPECT_LT(one.low, 412);
    EXPECT_GT(one.high, 412);
}

TEST(TrendChart, WordsStandForThePicture) {
    EXPECT_EQ(
        trend_in_words(test::invented_trend()),
        "Calcium, mg/kg: 18 points from 409.3 to 418.9, centre 412, warning limits 408 and "
        "416, action limits 406 and 418. Set aside: 1. Rules broken: 418.9 at R26-111: beyond "
        "the action limit.");
    TrendChart calm = test::invented_trend();
    for (TrendPoint& point : calm.points) {
        point.signal.clear();
    }
    EXPECT_THAT(trend_in_words(calm), HasSubstr("No rule is broken."));
}

TEST(TrendChart, SvgHasTitleDescriptionAndLabels) {
    const auto svg = trend_svg(test::invented_trend());
    ASSERT_TRUE(svg) << svg.error().text();
    for (const char* wanted :
         {"<title id=\"title\">Calcium in check sample CS-3</title>",
          "<desc id=\"desc\">Calcium, mg/kg: 18 points", "role=\"img\"", ">action 418</text>",
          ">warning 408</text>", ">centre 412</text>", ">beyond the action limit</text>",
          ">method M-07 v3</text>", ">Calcium, mg/kg</text>", ">Run, in order of date</text>",
          ">Limits frozen 2026-01-10 from 25 runs</text>", "ring: set aside"}) {
        EXPECT_THAT(*svg, HasSubstr(wanted));
    }
    EXPECT_EQ(*svg, *trend_svg(test::invented_trend()));
    EXPECT_EQ(test::times(*svg, "<text"), test::times(*svg, "</text>"));
}

TEST(TrendChart, SvgEscapesNames) {
    TrendChart chart = test::invented_trend();
    chart.title = "<script>a & \"b\"</script>";
    const auto svg = trend_svg(chart);
    ASSERT_TRUE(svg);
    EXPECT_THAT(*svg, Not(HasSubstr("<script>")));
    EXPECT_THAT(*svg, HasSubstr("&lt;script&gt;a &amp; &quot;b&quot;&lt;/script&gt;"));
}

TEST(TrendChart, PdfIsReproducibleAndReadable) {
    const auto pdf = trend_pdf(test::invented_trend());
    ASSERT_TRUE(pdf) << pdf.error().text();
    EXPECT_EQ(*pdf, *trend_pdf(test::invented_trend()));
    const std::string text = test::text_of(*pdf);
    EXPECT_THAT(text, HasSubstr("action 418"));
    EXPECT_THAT(text, HasSubstr("beyond the action limit"));
    EXPECT_THAT(test::facts_of(*pdf), HasSubstr("Subject: Calcium, mg/kg: 18 points"));
}

TEST(TrendChart, ManyPointsAndOnePoint) {
    TrendChart chart = test::invented_trend();
    chart.points.resize(1);
    EXPECT_TRUE(trend_svg(chart));
    chart.points.resize(2000, chart.points[0]);
    const auto svg = trend_svg(chart);
    ASSERT_TRUE(svg);
    // Labels are thinned out, points are not.
    EXPECT_LT(test::times(*svg, ">R26-101</text>"), 30U);
    EXPECT_GT(test::times(*svg, "<path"), 2000U);
}

TEST(TrendChart, RefusesWhatCannotBeDrawn) {
    TrendChart chart = test::invented_trend();
    chart.points[3].value = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(trend_svg(chart));
    chart = test::invented_trend();
    chart.warning_high = 420;  // beyond the action limit
    EXPECT_FALSE(trend_svg(chart));
    chart = test::invented_trend();
    chart.points.clear();
    EXPECT_FALSE(trend_pdf(chart));
    chart = test::invented_trend();
    chart.title = "海";
    ASSERT_FALSE(trend_svg(chart));
    EXPECT_THAT(trend_svg(chart).error().text(), HasSubstr("U+6D77"));
}

TEST(TitrationChart, CurveAndResiduals) {
    const auto svg = titration_svg(test::invented_titration());
    ASSERT_TRUE(svg) << svg.error().text();
    for (const char* wanted : {">Acid added, g</text>", ">Potential, mV</text>",
                               ">Residual, µmol/kg</text>", ">end point 2.840 g</text>"}) {
        EXPECT_THAT(*svg, HasSubstr(wanted));
    }
    EXPECT_EQ(
        titration_in_words(test::invented_titration()),
        "Potential, mV against Acid added, g: 40 points, 11 of them used by the fit. The end point "
        "lies at 2.84. Residual, µmol/kg from −0.7774 to 0.7957.");
    const auto pdf = titration_pdf(test::invented_titration());
    ASSERT_TRUE(pdf);
    EXPECT_EQ(*pdf, *titration_pdf(test::invented_titration()));
    EXPECT_THAT(test::text_in_drawn_order(*pdf), HasSubstr("end point 2.840 g"));
}

TEST(TitrationChart, WithoutFitOrResiduals) {
    TitrationChart chart = test::invented_titration();
    chart.fitted.clear();
    chart.residuals.clear();
    chart.end_point.reset();
    EXPECT_TRUE(titration_svg(chart));
    chart.points[0].y = std::numeric_limits<double>::infinity();
    EXPECT_FALSE(titration_svg(chart));
}

}  // namespace
}  // namespace bw::report
