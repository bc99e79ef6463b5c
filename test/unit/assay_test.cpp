// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Rules of the laboratory beside the printed examples of test/check/laboratory.toml.
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assay/combining.hpp"
#include "assay/conformity.hpp"
#include "assay/duplicates.hpp"
#include "assay/homogeneity.hpp"
#include "figure.hpp"
#include "stat/draw.hpp"
#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

using testing::HasSubstr;

TEST(Duplicates, TwoThatAgreeAreTheirMean) {
    const auto j = judge_duplicates(std::vector<double>{412.0, 414.0}, 1.0);
    ASSERT_TRUE(j);
    EXPECT_EQ(j->verdict, DuplicateVerdict::Accepted);
    EXPECT_EQ(j->result, 413.0);
    EXPECT_NEAR(j->limit, 2.772, 0.001);
}

// Two that disagree call for two more; of the four the mean counts or the median. Three are
// refused, for the odd one would be dropped.
TEST(Duplicates, TwoThatDisagreeCallForTwoMore) {
    EXPECT_EQ(judge_duplicates(std::vector<double>{410.0, 414.0}, 1.0)->verdict,
              DuplicateVerdict::TwoMore);
    const auto mean = judge_duplicates(std::vector<double>{410.0, 413.1, 412.0, 412.5}, 1.0);
    EXPECT_EQ(mean->verdict, DuplicateVerdict::MeanOfFour);
    EXPECT_NEAR(mean->result, 411.9, 1e-12);
    const auto median = judge_duplicates(std::vector<double>{408.0, 414.0, 412.0, 412.5}, 1.0);
    EXPECT_EQ(median->verdict, DuplicateVerdict::MedianOfFour);
    EXPECT_EQ(median->result, 412.25);
    EXPECT_THAT(judge_duplicates(std::vector<double>{1.0, 2.0, 3.0}, 1.0).error().message,
                HasSubstr("by two results, or by four"));
    EXPECT_FALSE(judge_duplicates(std::vector<double>{1.0, 2.0}, 0.0));
}

TEST(Duplicates, RepeatabilityOfPastPairs) {
    const std::vector<std::pair<double, double>> pairs{{10, 12}, {20, 20}, {31, 29}};
    EXPECT_NEAR(*repeatability_of_pairs(pairs, false), std::sqrt(8.0 / 6), 1e-12);
    EXPECT_NEAR(*repeatability_of_pairs({{{9.0, 11.0}}}, true), 0.2 / std::sqrt(2.0), 1e-12);
    EXPECT_FALSE(repeatability_of_pairs({}, false));
    EXPECT_FALSE(repeatability_of_pairs({{{1.0, -1.0}}}, true));
}

// Pairs of normal values with the standard deviation stated lie within the limit 95 times of 100.
TEST(Duplicates, TheLimitHoldsAsOftenAsItSays) {
    stat::DrawStream draws(3, 0);
    int accepted = 0;
    std::vector<double> pair(2);
    const double limit = critical_range_factor(2);
    for (int i = 0; i < 20'000; ++i) {
        draws.normal(pair);
        accepted += std::abs(pair[0] - pair[1]) <= limit ? 1 : 0;
    }
    EXPECT_NEAR(accepted / 20'000.0, 0.95, 0.005);
}

// Simulated by another program with 1 000 000 draws or more each; on both sides the larger of the
// two ratios. Twice the tail of one side, as some tables have it, is up to 0.008 more for r11.
TEST(Outliers, DixonsCriticalValues) {
    double worst = 0;
    const std::vector<double> two_sided{0.970, 0.829, 0.710, 0.628, 0.570, 0.608, 0.565, 0.530};
    const std::vector<double> one_sided{0.941, 0.765, 0.642, 0.563, 0.508, 0.554, 0.512, 0.478};
    for (std::size_t n = 3; n <= 10; ++n) {
        EXPECT_NEAR(*dixon_critical(n, 0.05, Sides::Both), two_sided[n - 3], 0.004) << n;
        EXPECT_NEAR(*dixon_critical(n, 0.05, Sides::Highest), one_sided[n - 3], 0.004) << n;
        worst = std::max({worst, std::abs(*dixon_critical(n, 0.05, Sides::Both) - two_sided[n - 3]),
                          std::abs(*dixon_critical(n, 0.05, Sides::Highest) - one_sided[n - 3])});
    }
    test::record(
        {"House",
         "Dixon's critical values at 5 %, 3 to 10 values, on one side and on both, against "
         "another program's simulation",
         "within 0.004", test::share_used(worst, 0.004), worst <= 0.004});
    EXPECT_FALSE(dixon_critical(2, 0.05, Sides::Both));
}

TEST(Outliers, AFarValueIsPointedAt) {
    const std::vector<double> values{100.3, 100.2, 100.1, 100.0, 100.0,
                                     100.0, 99.9,  99.7,  99.5,  95.7};
    const auto g = grubbs(values, 0.05);
    ASSERT_TRUE(g);
    EXPECT_EQ(g->suspect, 9U);
    EXPECT_TRUE(g->beyond());
    // USP <1010>'s ten assays: 2.805 standard deviations, read in a public copy.
    EXPECT_NEAR(g->statistic, 2.805, 0.001);
    test::record({"House",
                  "the value that stands out of ten assays of USP 1010, in standard deviations",
                  "2.805, to 0.001", fmt::format("{:.3f}", g->statistic),
                  std::abs(g->statistic - 2.805) <= 0.001});
    const auto d = dixon(values, 0.05, Sides::Both);
    EXPECT_EQ(d->suspect, 9U);
    EXPECT_TRUE(d->beyond());
    EXPECT_FALSE(grubbs(std::vector<double>{1.0, 2.0}, 0.05));
    EXPECT_FALSE(grubbs(std::vector<double>{5.0, 5.0, 5.0}, 0.05));
}

// The limit of Grubbs is passed by one sample of pure scatter in twenty.
TEST(Outliers, GrubbsIsWrongAsOftenAsItSays) {
    stat::DrawStream draws(5, 0);
    int beyond = 0;
    std::vector<double> sample(8);
    for (int i = 0; i < 20'000; ++i) {
        draws.normal(sample);
        beyond += grubbs(sample, 0.05)->beyond() ? 1 : 0;
    }
    EXPECT_NEAR(beyond / 20'000.0, 0.05, 0.005);
}

TEST(Outliers, TwoThatHideOneAnotherAreSeenTogether) {
    std::vector<double> values{10.1, 9.8,  10.0, 10.2, 9.9,  10.1, 10.0,
                               9.7,  10.3, 9.9,  10.0, 10.1, 14.0, 14.2};
    const auto several = extreme_deviates(values, 3, 0.05);
    ASSERT_TRUE(several);
    EXPECT_EQ(several->beyond, 2U);
    EXPECT_EQ(several->steps[0].suspect, 13U);
    EXPECT_EQ(several->steps[1].suspect, 12U);
    EXPECT_FALSE(grubbs(values, 0.05)->beyond());  // alone, each hides the other
}

TEST(Combining, MethodsThatAgreeAreWeighted) {
    const auto c = combine(std::vector<MethodValue>{{412, 2}, {414, 1}});
    ASSERT_TRUE(c);
    EXPECT_TRUE(c->consistent);
    EXPECT_NEAR(c->value, (412.0 / 4 + 414.0) / 1.25, 1e-9);
    EXPECT_NEAR(c->u, std::sqrt(1 / 1.25), 1e-12);
}

TEST(Combining, TwoThatContradictKeepTheirDifference) {
    const auto c = combine(std::vector<MethodValue>{{400, 1}, {410, 1}});
    ASSERT_TRUE(c);
    EXPECT_FALSE(c->consistent);
    EXPECT_EQ(c->value, 405);
    EXPECT_NEAR(c->u, std::sqrt(0.5 + 100.0 / 12), 1e-12);
    EXPECT_FALSE(combine(std::vector<MethodValue>{{400, 0}}));
    EXPECT_FALSE(combine({}));
}

// Large values beside small uncertainties cost no digits.
TEST(Combining, ShiftedValuesGiveAShiftedMean) {
    const std::vector<MethodValue> near{{0.27, 0.01}, {0.22, 0.02}, {0.40, 0.01}, {0.35, 0.02}};
    std::vector<MethodValue> far = near;
    for (MethodValue& v : far) {
        v.value += 1e6;
    }
    EXPECT_NEAR(combine(far)->value - 1e6, combine(near)->value, 1e-9);
    EXPECT_NEAR(combine(far)->between_sd, combine(near)->between_sd, 1e-8);
}

// One unit of +-2 %, u 0.5 %: accepted within +-1.00 % by two standard uncertainties, within +-1.18
// % by a probability of 95 %.
TEST(Conformity, AcceptanceLimitsOfTheTwoPerCentGoal) {
    const ToleranceInterval goal{-2.0, 2.0};
    const auto guarded = decide({0, 0.5, {}}, goal, {});
    ASSERT_TRUE(guarded);
    EXPECT_NEAR(*guarded->accept_high, 1.00, 1e-12);
    EXPECT_NEAR(*guarded->capability, 2, 1e-12);
    DecisionRule by_chance;
    by_chance.kind = DecisionRule::Kind::Probability;
    EXPECT_NEAR(*decide({0, 0.5, {}}, goal, by_chance)->accept_low, -1.18, 0.003);
    EXPECT_TRUE(decide({0, 1.01, {}}, goal, {})->cannot_prove);
}

TEST(Conformity, FourOutcomes) {
    const ToleranceInterval goal{-2.0, 2.0};
    const auto verdict = [&](double y) { return decide({y, 0.5, {}}, goal, {})->verdict; };
    EXPECT_EQ(verdict(0.9), ConformityVerdict::Within);
    EXPECT_EQ(verdict(1.1), ConformityVerdict::TooClose);
    EXPECT_EQ(verdict(2.9), ConformityVerdict::TooClose);
    EXPECT_EQ(verdict(3.1), ConformityVerdict::Outside);
    EXPECT_EQ(verdict(-3.1), ConformityVerdict::Outside);
    DecisionRule simple;
    simple.kind = DecisionRule::Kind::Simple;
    EXPECT_EQ(decide({2.0, 0.5, {}}, goal, simple)->verdict, ConformityVerdict::Within);
    EXPECT_EQ(decide({2.1, 0.5, {}}, goal, simple)->verdict, ConformityVerdict::Outside);
}

// A value at the limit drawn in by U = 2 u is wrong in 2.3 of 100: JCGM 106, 8.3.2, of ISO 14253-1.
TEST(Conformity, TheGuardLeavesTheRiskThatTheStandardStates) {
    const auto d = decide({1.0, 0.5, {}}, {std::nullopt, 2.0}, {});
    ASSERT_TRUE(d);
    EXPECT_EQ(d->verdict, ConformityVerdict::Within);
    EXPECT_NEAR(1 - d->probability, 0.023, 0.0005);
    test::record({"House",
                  "chance that a value at a limit drawn in by twice its standard uncertainty is "
                  "outside, JCGM 106 of 2012, 8.3.2",
                  "0.023, to 0.0005", fmt::format("{:.4f}", 1 - d->probability),
                  std::abs(1 - d->probability - 0.023) <= 0.0005});
}

// Few data widen the tails.
TEST(Conformity, FewDegreesOfFreedomCostProbability) {
    const ToleranceInterval goal{-2.0, 2.0};
    EXPECT_LT(*probability_of_conformity({1, 0.5, 4.0}, goal),
              *probability_of_conformity({1, 0.5, {}}, goal));
    EXPECT_EQ(*probability_of_conformity({1, 0, {}}, goal), 1);
    EXPECT_EQ(*probability_of_conformity({3, 0, {}}, goal), 0);
}

TEST(Conformity, BadInputIsOneSentence) {
    EXPECT_FALSE(probability_of_conformity({1, 1, {}}, {}));
    EXPECT_THAT(probability_of_conformity({1, 1, {}}, {3.0, 2.0}).error().message,
                HasSubstr("not below the upper"));
    EXPECT_FALSE(probability_of_conformity({1, -1, {}}, {0.0, 2.0}));
    DecisionRule odd;
    odd.width = -1;
    EXPECT_FALSE(decide({1, 1, {}}, {0.0, 2.0}, odd));
}

// Significant is not the same as unfit: see harmonized_soya in test/check/laboratory.toml. What a
// poor method could hide is carried.
TEST(Homogeneity, APoorMethodHidesDifferences) {
    stat::DrawStream draws(11, 0);
    std::vector<std::vector<double>> units;
    for (int i = 0; i < 10; ++i) {
        std::vector<double> r(2);
        draws.normal(r);
        units.push_back({100 + 3 * r[0], 100 + 3 * r[1]});
    }
    const auto h = judge_homogeneity(units, 1.0);
    ASSERT_TRUE(h);
    EXPECT_FALSE(h->method_good_enough);
    EXPECT_GT(h->u_hidden, 0.8);
    EXPECT_GE(h->u_between, h->u_hidden);
    EXPECT_FALSE(judge_homogeneity(std::vector<std::vector<double>>{{1, 2}, {1, 2}}, 1));
    units.back().push_back(1);
    EXPECT_FALSE(judge_homogeneity(units, 1));
    EXPECT_THAT(judge_homogeneity(std::vector<std::vector<double>>(5, {7, 7}), 1).error().message,
                HasSubstr("not one solution twice"));
}

}  // namespace
}  // namespace bw::assay
