// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/trend_chart.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "figure.hpp"
#include "stat/draw.hpp"

namespace bw::assay {
namespace {

struct Printed {
    int n;
    std::array<double, 9> constants;  // A2, A3, c4, B3, B4, d2, d3, D3, D4
};

// Montgomery and Runger, Applied Statistics and Probability for Engineers, table A.22, read in a
// public copy. Printed to three or four decimals; D4 of five is 2.114 there and 2.115 elsewhere.
TEST(TrendChart, ConstantsAreThoseOfTheTables) {
    constexpr double kPrinted = 0.0011;
    double worst = 0;
    for (const Printed& p :
         {Printed{2, {1.88, 2.659, 0.7979, 0, 3.267, 1.128, 0.853, 0, 3.267}},
          Printed{3, {1.023, 1.954, 0.8862, 0, 2.568, 1.693, 0.888, 0, 2.574}},
          Printed{4, {0.729, 1.628, 0.9213, 0, 2.266, 2.059, 0.88, 0, 2.282}},
          Printed{5, {0.577, 1.427, 0.94, 0, 2.089, 2.326, 0.864, 0, 2.114}},
          Printed{6, {0.483, 1.287, 0.9515, 0.03, 1.97, 2.534, 0.848, 0, 2.004}},
          Printed{7, {0.419, 1.182, 0.9594, 0.118, 1.882, 2.704, 0.833, 0.076, 1.924}},
          Printed{8, {0.373, 1.099, 0.965, 0.185, 1.815, 2.847, 0.82, 0.136, 1.864}},
          Printed{9, {0.337, 1.032, 0.9693, 0.239, 1.761, 2.97, 0.808, 0.184, 1.816}},
          Printed{10, {0.308, 0.975, 0.9727, 0.284, 1.716, 3.078, 0.797, 0.223, 1.777}}}) {
        const ChartConstants c = chart_constants(p.n);
        const std::array<double, 9> found{c.a2, c.a3, c.c4,    c.b_low, c.b_high,
                                          c.d2, c.d3, c.d_low, c.d_high};
        for (std::size_t i = 0; i < found.size(); ++i) {
            EXPECT_NEAR(found[i], p.constants[i], kPrinted) << p.n << ' ' << i;
            worst = std::max(worst, std::abs(found[i] - p.constants[i]));
        }
    }
    test::record({"House",
                  "constants of control charts (A2, A3, c4, B3, B4, d2, d3, D3, D4) of 2 to 10, "
                  "printed in a textbook",
                  "0.0011: they are printed to three or four decimals",
                  test::share_used(worst, kPrinted), worst <= kPrinted});
}

// The same book, chapter 16, concentrations of twenty batches: centre 99.1, limits 105.99 and 92.21
// from a mean and a range rounded first, so 0.02.
TEST(TrendChart, SingleValuesByTheirMovingRange) {
    const std::vector<double> x{102.0, 94.8, 98.3,  98.4, 102.0, 98.5, 99.0,  97.7,  100.0, 98.1,
                                101.3, 98.7, 101.1, 98.4, 97.0,  96.7, 100.3, 101.4, 97.2,  101.0};
    const auto chart = individuals_chart(x);
    ASSERT_TRUE(chart);
    EXPECT_NEAR(chart->values.centre, 99.1, 0.02);
    EXPECT_NEAR(chart->values.high, 105.99, 0.02);
    EXPECT_NEAR(chart->values.low, 92.21, 0.02);
    EXPECT_NEAR(chart->ranges.high, 8.46, 0.02);
    test::record({"House", "limits of a chart of single values, a textbook's 20 concentrations",
                  "92.21, 99.1, 105.99, and 8.46 for the ranges, each to 0.02 (rounded there)",
                  fmt::format("{:.2f}, {:.2f}, {:.2f}, and {:.2f}", chart->values.low,
                              chart->values.centre, chart->values.high, chart->ranges.high),
                  !HasFailure()});
    EXPECT_TRUE(signals(x, chart->values.centre, chart->sigma).empty());
    EXPECT_FALSE(chart->autocorrelated);
    EXPECT_FALSE(individuals_chart(std::vector<double>(7, 1.0)));
    EXPECT_FALSE(individuals_chart(std::vector<double>(9, 1.0)));
}

// The same chapter, vane openings: 33.32, 36.67 and 29.97, ranges up to 12.27; by standard
// deviations 4.899. Limits read; the groups are from memory and reproduce all of them.
TEST(TrendChart, GroupsByRangeAndByStandardDeviation) {
    std::vector<std::vector<double>> groups{
        {33, 29, 31, 32, 33}, {33, 31, 35, 37, 31}, {35, 37, 33, 34, 36}, {30, 31, 33, 34, 33},
        {33, 34, 35, 33, 34}, {38, 37, 39, 40, 38}, {30, 31, 32, 34, 31}, {29, 39, 38, 39, 39},
        {28, 33, 35, 36, 43}, {38, 33, 32, 35, 32}, {28, 30, 28, 32, 31}, {31, 35, 35, 35, 34},
        {27, 32, 34, 35, 37}, {33, 33, 35, 37, 36}, {35, 37, 32, 35, 39}, {33, 33, 27, 31, 30},
        {35, 34, 34, 30, 32}, {32, 33, 30, 30, 33}, {25, 27, 34, 27, 28}, {35, 35, 36, 33, 30}};
    const auto range = groups_chart(groups, Scatter::Range);
    ASSERT_TRUE(range);
    EXPECT_NEAR(range->means.centre, 33.32, 0.02);
    EXPECT_NEAR(range->means.high, 36.67, 0.02);
    EXPECT_NEAR(range->means.low, 29.97, 0.02);
    EXPECT_NEAR(range->scatter.high, 12.27, 0.02);
    const auto sd = groups_chart(groups, Scatter::StandardDeviation);
    EXPECT_NEAR(sd->scatter.high, 4.899, 0.02);
    test::record({"House", "limits of a chart of means and ranges, a textbook's 20 groups of 5",
                  "29.97, 33.32, 36.67; ranges 12.27, standard deviations 4.899, each to 0.02",
                  fmt::format("{:.2f}, {:.2f}, {:.2f}; ranges {:.2f}, standard deviations {:.3f}",
                              range->means.low, range->means.centre, range->means.high,
                              range->scatter.high, sd->scatter.high),
                  !HasFailure()});
    for (const int gone : {19, 11, 9, 8, 6}) {
        groups.erase(groups.begin() + gone - 1);
    }
    const auto revised = groups_chart(groups, Scatter::Range);
    EXPECT_NEAR(revised->means.centre, 33.21, 0.02);
    EXPECT_NEAR(revised->means.high, 36.10, 0.02);
    EXPECT_NEAR(revised->scatter.high, 10.57, 0.02);
}

// Crowder (1989), quoted in a public example: widths for one false alarm in 250 points. And for a
// shift of one sigma, worked out beforehand by another program.
TEST(TrendChart, WeightedMeansRunAsLongAsPublished) {
    struct Row {
        double lambda, width, shifted;
    };
    for (const Row& r : {Row{0.05, 2.32, 9.89}, Row{0.10, 2.55, 8.99}, Row{0.15, 2.65, 8.75},
                         Row{0.20, 2.72, 8.89}, Row{0.25, 2.76, 9.18}}) {
        EXPECT_NEAR(ewma_run_length(r.lambda, r.width, 0), 250, 4) << r.lambda;
        EXPECT_NEAR(ewma_run_length(r.lambda, r.width, 1), r.shifted, 0.02 * r.shifted);
    }
    test::record({"House", "points until a false alarm of weighted means, five published widths",
                  "250, to 4 (widths are printed to 0.01)", "5 of 5", !HasFailure()});
}

// A shift of one sigma is seen sooner by weighted means than by single points, as often as stated.
TEST(TrendChart, AShiftIsSeenByTheWeightedMean) {
    stat::DrawStream draws(2, 0);
    std::vector<double> noise(400);
    double points = 0;
    constexpr int kTrials = 300;
    for (int i = 0; i < kTrials; ++i) {
        draws.normal(noise);
        for (double& x : noise) {
            x += 1;
        }
        const auto z = ewma(noise, 0, 1);
        const auto first =
            std::find_if(z.begin(), z.end(), [](const auto& p) { return p.beyond(); });
        ASSERT_NE(first, z.end());
        points += static_cast<double>(first - z.begin()) + 1;
    }
    EXPECT_NEAR(points / kTrials, 8.8, 1.2);  // with the limits of few points, a little sooner
}

TEST(TrendChart, RulesMarkWhatTheySay) {
    const std::vector<double> x{0, 3.1, 2.2, -0.1, 2.3, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, -1};
    const auto one = signals(x, 0, 1);
    ASSERT_EQ(one.size(), 1U);
    EXPECT_EQ(one[0].point, 1U);
    ChartRules all{true, true, true};
    const auto marks = signals(x, 0, 1, all);
    const auto has = [&](std::size_t point, Signal s) {
        return std::any_of(marks.begin(), marks.end(),
                           [&](const Marked& m) { return m.point == point && m.signal == s; });
    };
    EXPECT_TRUE(has(2, Signal::TwoOfThree));
    EXPECT_TRUE(has(4, Signal::TwoOfThree));
    EXPECT_FALSE(has(3, Signal::TwoOfThree));
    EXPECT_TRUE(has(11, Signal::EightOneSide));
    EXPECT_FALSE(has(10, Signal::EightOneSide));
}

// Points until the first false alarm, on average: 370 by action limits alone (1/0.0027), 152 with
// eight on one side, 92 with all four; the latter two by another program's simulation.
TEST(TrendChart, EachRuleCostsFalseAlarms) {
    const auto run_length = [](const ChartRules& rules) {
        stat::DrawStream draws(7, 0);
        std::vector<double> x(8000);
        double points = 0;
        constexpr int kRuns = 1500;
        for (int i = 0; i < kRuns; ++i) {
            draws.normal(x);
            const auto marks = signals(x, 0, 1, rules);
            points += marks.empty() ? 8000 : static_cast<double>(marks.front().point) + 1;
        }
        return points / kRuns;
    };
    const double alone = run_length({});
    const double eight = run_length({false, false, true});
    const double all = run_length({true, true, true});
    EXPECT_NEAR(alone, 370.4, 35);  // 3.6 standard errors
    EXPECT_NEAR(eight, 152.4, 15);
    EXPECT_NEAR(all, 91.7, 9);
    test::record({"House",
                  "points until a false alarm: action limits alone, with eight on one side, with "
                  "all four rules",
                  "370.4 to 35, 152.4 to 15, 91.7 to 9 (1500 runs drawn)",
                  fmt::format("{:.0f}, {:.0f}, {:.0f}", alone, eight, all), !HasFailure(), true});
}

TEST(TrendChart, CumulatedSumsGrowWithAShift) {
    const std::vector<double> x{0, 1, 1, 1, -4};
    const auto c = cusum(x, 0, 1);
    EXPECT_EQ(c[3].up, 1.5);
    EXPECT_EQ(c[3].down, 0);
    EXPECT_EQ(c[4].up, 0);
    EXPECT_EQ(c[4].down, 3.5);
}

// The same book, exercise 16-18: Cp 1.1111, Cpk 1.1111 and 0.7778, 0.000858 and 0.0098 outside.
TEST(TrendChart, CapabilityOffTheCentre) {
    const auto centred = capability(100, 6, 20, 80, 120);
    ASSERT_TRUE(centred);
    EXPECT_NEAR(centred->cp, 1.1111, 1e-4);
    EXPECT_NEAR(centred->outside, 0.000858, 2e-5);
    const auto off = capability(106, 6, 20, 80, 120);
    EXPECT_NEAR(off->cpk, 0.7778, 1e-4);
    EXPECT_NEAR(off->outside, 0.0098, 2e-4);
    // n = 20, Cpk 1.33: 0.88 to 1.78 by another program.
    const auto width = capability(0, 1, 20, -3.99, 3.99);
    EXPECT_NEAR(width->cpk_low, 0.88, 0.01);
    EXPECT_NEAR(width->cpk_high, 1.78, 0.01);
    EXPECT_FALSE(capability(100, 6, 19, 80, 120));
}

}  // namespace
}  // namespace bw::assay
