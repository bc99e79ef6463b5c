// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Budgets beside the printed examples of test/check/laboratory_budgets.toml.
#include "assay/uncertainty_budget.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assay/alkalinity_budget.hpp"
#include "assay/simulated_budget.hpp"
#include "stat/draw.hpp"
#include "stat/tolerance.hpp"
#include "stat/univariate.hpp"

namespace bw::assay {
namespace {

using testing::HasSubstr;

double product(std::span<const double> x) { return x[0] * x[1]; }

TEST(Budget, CorrelationAddsOrCancels) {
    const std::vector<BudgetInput> in{normal_input("a", 10, 0.1), normal_input("b", 20, 0.2)};
    EXPECT_NEAR(propagate(product, in)->u, std::sqrt(8.0), 1e-9);
    const std::vector<Correlation> same{{0, 1, 1.0}};
    const std::vector<Correlation> opposite{{1, 0, -1.0}};
    EXPECT_NEAR(propagate(product, in, same)->u, 4, 1e-9);
    EXPECT_NEAR(propagate(product, in, opposite)->u, 0, 1e-9);
}

TEST(Budget, DerivativesAreGoodToAMillionth) {
    const std::vector<BudgetInput> in{normal_input("x", 2, 0.1)};
    const auto b = propagate([](std::span<const double> x) { return std::exp(x[0]); }, in);
    EXPECT_NEAR(b->sensitivities[0] / std::exp(2), 1, 1e-6);
}

TEST(Budget, FewReadingsWidenTheInterval) {
    const std::vector<BudgetInput> in{normal_input("x", 0, 1, 4)};
    const auto b = propagate([](std::span<const double> x) { return x[0]; }, in);
    EXPECT_NEAR(b->factor, 2.776, 0.001);  // t of 4, 95 %
    EXPECT_EQ(b->freedom, 4);
    const std::vector<BudgetInput> two{normal_input("x", 0, 1, 4), normal_input("y", 0, 1)};
    EXPECT_TRUE(propagate(product, two, std::vector<Correlation>{{0, 1, 0.5}})->freedom_doubtful);
}

TEST(Budget, BadInputIsOneSentence) {
    const std::vector<BudgetInput> in{normal_input("a", 10, 0.1), normal_input("b", 20, 0.2),
                                      normal_input("c", 1, 1)};
    EXPECT_FALSE(propagate(product, {}));
    EXPECT_THAT(
        propagate(product, std::vector<BudgetInput>{normal_input("volume", 1, -1)}).error().message,
        HasSubstr("volume"));
    EXPECT_THAT(
        propagate(product, in, std::vector<Correlation>{{0, 1, 0.9}, {1, 2, 0.9}, {0, 2, -0.9}})
            .error()
            .message,
        HasSubstr("cannot hold together"));
    EXPECT_FALSE(propagate(product, in, std::vector<Correlation>{{0, 1, 0.5}, {1, 0, 0.5}}));
    EXPECT_THAT(propagate([](std::span<const double>) { return std::nan(""); }, in).error().message,
                HasSubstr("no number"));
}

TEST(SimulatedBudget, ShapesHaveTheStandardDeviationsStated) {
    for (const BudgetInput& in :
         {limited_input("r", 5, 2), limited_input("t", 5, 2, InputShape::Triangular),
          limited_input("z", 5, 2, InputShape::Trapezoidal, 0.5),
          limited_input("c", 5, 2, InputShape::Curvilinear, 0.5),
          limited_input("s", 5, 2, InputShape::ArcSine), normal_input("n", 5, 0.7)}) {
        SimulationOptions options;
        options.trials = 200'000;
        const auto s = simulate([](std::span<const double> x) { return x[0]; },
                                std::vector<BudgetInput>{in}, {}, options);
        ASSERT_TRUE(s) << in.name;
        EXPECT_NEAR(s->u / in.u, 1, 0.01) << in.name;
        EXPECT_NEAR(s->mean, 5, 0.01) << in.name;
    }
    // Student's t of 5: its own standard deviation is sqrt(5/3) times the scale.
    SimulationOptions options;
    options.trials = 200'000;
    const auto t = simulate([](std::span<const double> x) { return x[0]; },
                            std::vector<BudgetInput>{student_input("t", 5, 0.7, 5)}, {}, options);
    EXPECT_NEAR(t->u / (0.7 * std::sqrt(5.0 / 3)), 1, 0.02);
    EXPECT_NEAR(t->symmetric.high, 5 + 0.7 * 2.571, 0.02);
}

TEST(SimulatedBudget, SameSeedSameNumbersAndCorrelationIsDrawn) {
    const std::vector<BudgetInput> in{normal_input("a", 10, 0.1), normal_input("b", 20, 0.2)};
    const std::vector<Correlation> r{{0, 1, -0.8}};
    SimulationOptions options;
    options.trials = 100'000;
    options.seed = 7;
    const auto sum = [](std::span<const double> x) { return x[0] + x[1]; };
    const auto one = simulate(sum, in, r, options);
    const auto two = simulate(sum, in, r, options);
    EXPECT_EQ(one->mean, two->mean);
    EXPECT_EQ(one->shortest.low, two->shortest.low);
    EXPECT_NEAR(one->u, propagate(sum, in, r)->u, 0.002);
    options.seed = 8;
    EXPECT_NE(simulate(sum, in, r, options)->mean, one->mean);
    EXPECT_THAT(simulate(sum, std::vector<BudgetInput>{in[0], limited_input("b", 1, 1)}, r, options)
                    .error()
                    .message,
                HasSubstr("correlated and not normal"));
}

TEST(SimulatedBudget, AdaptiveGoesOnUntilTheDigitsStand) {
    SimulationOptions options;
    options.adaptive = true;
    options.trials = 5'000'000;
    const std::vector<BudgetInput> in{normal_input("a", 0, 1), limited_input("b", 0, 3)};
    const auto sum = [](std::span<const double> x) { return x[0] + x[1]; };
    const auto s = simulate(sum, in, {}, options);
    ASSERT_TRUE(s);
    EXPECT_TRUE(s->settled);
    EXPECT_NEAR(s->u, 2, 0.05);
    EXPECT_EQ(s->tolerance, 0.05);
    options.digits = 1;
    EXPECT_LE(simulate(sum, in, {}, options)->trials, s->trials);
    options.digits = 2;
    options.trials = 20'000;
    EXPECT_FALSE(simulate(sum, in, {}, options)->settled);
}

// A million normal samples of ten: their interval with k holds 95 % of units in 95 % of samples.
// The often printed 3.379 falls short.
TEST(Tolerance, FactorHoldsAsOftenAsItSays) {
    const double k = stat::tolerance_factor(10, 0.95, 0.95);
    stat::DrawStream draws(3, 0);
    std::vector<double> sample(10);
    int held = 0;
    int held_by_table = 0;
    constexpr int kSamples = 1'000'000;
    const auto content = [](const stat::Summary& s, double factor) {
        return (std::erf((s.mean + factor * s.sd) / std::sqrt(2.0)) -
                std::erf((s.mean - factor * s.sd) / std::sqrt(2.0))) /
               2;
    };
    for (int i = 0; i < kSamples; ++i) {
        draws.normal(sample);
        const stat::Summary s = stat::summarize(sample);
        held += content(s, k) >= 0.95 ? 1 : 0;
        held_by_table += content(s, 3.379) >= 0.95 ? 1 : 0;
    }
    EXPECT_NEAR(held / static_cast<double>(kSamples), 0.95, 0.0007);
    EXPECT_LT(held_by_table / static_cast<double>(kSamples), 0.9495);
}

TEST(Nested, VariancesOfBagsPositionsAndResults) {
    // Differences chosen: bags -3, 0, 3; positions -1, 1; results -0.1, 0.1.
    std::vector<std::vector<std::vector<double>>> plan;
    for (const double bag : {-3.0, 0.0, 3.0}) {
        plan.emplace_back();
        for (const double position : {-1.0, 1.0}) {
            plan.back().push_back({bag + position - 0.1, bag + position + 0.1});
        }
    }
    const auto n = stat::nested_variance(plan);
    EXPECT_NEAR(n.mean_within, 0.02, 1e-12);
    EXPECT_NEAR(n.mean_inner, 4, 1e-12);   // 2 results, positions' variance 2
    EXPECT_NEAR(n.mean_outer, 36, 1e-12);  // 4 results, bags' variance 9
    EXPECT_NEAR(n.inner, (4 - 0.02) / 2, 1e-12);
    EXPECT_NEAR(n.outer, 8, 1e-12);
    EXPECT_NEAR(n.p_outer, std::pow(1 + 2 * 9.0 / 3, -1.5),
                1e-9);  // F 9 of 2 and 3, in closed form
    EXPECT_EQ(n.freedom_within, 6);
}

}  // namespace
}  // namespace bw::assay
