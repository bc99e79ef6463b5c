// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Lines, dissolved results, charges and sampling beside the printed examples.
#include "assay/dissolved_result.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assay/calibration_line.hpp"
#include "assay/charge_balance.hpp"
#include "assay/run_length.hpp"
#include "stat/draw.hpp"

namespace bw::assay {
namespace {

using testing::HasSubstr;

TEST(DissolvedResult, IsDilutedDividedAndNormalised) {
    const auto norm = normaliser_of_conductivity({34.3, 0.05}, 35);
    ASSERT_TRUE(norm);
    EXPECT_NEAR(norm->ratio, 0.98, 1e-12);
    const Dilution dilution{{10, 0.01}, {500, 0.2}};
    const auto out = dissolved_results({{"Ca", {8.2, 0.04}, {0.01, 0.005}, 0.05, false},
                                        {"Fe", {0.001, 0.001}, {0, 0}, 0.002, false},
                                        {"Cu", {0, 0}, {0, 0}, 0.003, true}},
                                       dilution, {1.0228, 0.0001}, *norm);
    ASSERT_TRUE(out) << out.error().text();
    const DissolvedResult& ca = out->at(0);
    EXPECT_NEAR(ca.mg_per_L.value, 8.19 * 50, 1e-9);
    EXPECT_NEAR(ca.mg_per_kg.value, 8.19 * 50 / 1.0228, 1e-9);
    EXPECT_NEAR(ca.at_goal_mg_per_kg, 8.19 * 50 / 1.0228 / 0.98, 1e-9);
    EXPECT_NEAR(ca.u_own_relative, std::hypot(0.04, 0.005) / 8.19, 1e-8);
    EXPECT_NEAR(ca.u_common_relative,
                std::sqrt(1e-6 + 1.6e-7 + 1e-8 / (1.0228 * 1.0228) + 0.05 * 0.05 / (34.3 * 34.3)),
                1e-9);
    EXPECT_NEAR(ca.budget.u / ca.budget.value, std::hypot(ca.u_own_relative, ca.u_common_relative),
                1e-9);
    // Below the limit, by its number or by the instrument's word: an upper limit and nothing more.
    for (const std::size_t i : {1U, 2U}) {
        EXPECT_TRUE(out->at(i).below_limit);
        EXPECT_EQ(out->at(i).u_own_relative, 0);
    }
    EXPECT_NEAR(out->at(2).mg_per_L.value, 0.003 * 50, 1e-12);
    EXPECT_NEAR(*at_goal_mg_per_L(ca, unit::PracticalSalinity(35), unit::Celsius(25)),
                ca.at_goal_mg_per_kg * 1.02334, 0.01);
}

// Four ways to the same strength: seawater of 33.25 at 20 degC.
TEST(DissolvedResult, FourNormalisersAgreeOnNaturalSeawater) {
    const double s = 33.25;
    const auto by_conductivity = normaliser_of_conductivity({s, 0.02}, 35);
    const auto by_chlorinity = normaliser_of_chlorinity({s / 1.80655, 0.01}, 35);
    // Millero and Poisson (1981) print 1023.343 at 35 and 25 degC of the scale of 1968, which is
    // 24.994 of today's.
    const auto rho = normaliser_of_density({1023.343, 0.02}, unit::Celsius(24.994), 35);
    const auto by_mass = normaliser_of_dry_mass({40, 0.01}, {1000, 0.1}, 40);
    ASSERT_TRUE(rho) << rho.error().text();
    EXPECT_NEAR(by_conductivity->ratio, 0.95, 1e-12);
    EXPECT_NEAR(by_chlorinity->ratio, 0.95, 1e-9);
    EXPECT_NEAR(rho->salinity, 35, 0.0007);              // its last digit
    EXPECT_NEAR(rho->u_ratio, 0.02 / 0.755 / 35, 2e-5);  // 0.755 kg/m3 per unit of salinity
    EXPECT_NEAR(by_mass->ratio, 1, 1e-12);
    EXPECT_FALSE(normaliser_of_density({900, 0}, unit::Celsius(25)));
    EXPECT_FALSE(normaliser_of_conductivity({0, 0}));
}

TEST(CalibrationLine, BendIsSeenByRepeatedReadings) {
    std::vector<CalibrationPoint> straight;
    std::vector<CalibrationPoint> bent;
    for (const double x : {0.0, 1.0, 2.0, 3.0, 4.0}) {
        for (const double off : {-0.02, 0.02}) {
            straight.push_back({x, 1 + 2 * x + off});
            bent.push_back({x, 1 + 2 * x - 0.05 * x * x + off});
        }
    }
    EXPECT_FALSE(fit_line(straight)->lack_of_fit->bends());
    EXPECT_NEAR(fit_line(straight)->lack_of_fit->f, 0, 1e-9);
    EXPECT_TRUE(fit_line(bent)->lack_of_fit->bends());
    EXPECT_GT(fit_line(bent)->r_squared, 0.998);  // which tells nothing of a bend
}

// The textbook's form for the content, on numbers that can be checked by hand: s = 1 of residuals
// +-1 in four points, b = 2.
TEST(CalibrationLine, ContentAndItsUncertainty) {
    const std::vector<CalibrationPoint> p{{0, 1}, {1, 1}, {2, 5}, {3, 5}};
    const auto line = fit_line(p);
    ASSERT_TRUE(line);
    EXPECT_NEAR(line->slope, 1.6, 1e-12);
    const double s = line->residual_sd;
    const auto x = content_of(*line, 3, 2);
    ASSERT_TRUE(x) << x.error().text();
    EXPECT_NEAR(x->value, 1.5, 1e-12);
    EXPECT_NEAR(x->u, s / 1.6 * std::sqrt(0.5 + 0.25), 1e-12);
    EXPECT_TRUE(x->inside);
    EXPECT_FALSE(content_of(*line, 30, 1)->inside);
    EXPECT_THAT(fit_line(std::vector<CalibrationPoint>{{1, 1}, {1, 2}, {1, 3}}).error().message,
                HasSubstr("one content"));
    EXPECT_FALSE(
        content_of(*fit_line(std::vector<CalibrationPoint>{{0, 1}, {1, -1}, {2, 1}}), 0, 1));
}

// Equal weights of any size give the same answer; a heavy point draws the line to itself.
TEST(CalibrationLine, WeightsCount) {
    std::vector<CalibrationPoint> p{{0, 0.1, 7}, {1, 2.2, 7}, {2, 3.9, 7}, {3, 6.1, 7}};
    const auto sevens = fit_line(p);
    for (auto& q : p) {
        q.weight = 1;
    }
    const auto ones = fit_line(p);
    EXPECT_NEAR(sevens->slope, ones->slope, 1e-12);
    EXPECT_NEAR(sevens->u_slope, ones->u_slope, 1e-12);
    EXPECT_NEAR(content_of(*sevens, 3, 1, 7)->u, content_of(*ones, 3, 1)->u, 1e-12);
    p[0].weight = 1e9;
    EXPECT_NEAR(fit_line(p)->intercept, 0.1, 1e-6);
}

TEST(ChargeBalance, WarnsActsAndSaysWhatItCannotSee) {
    const auto balance = [](double cl) {
        return balance_charges(std::vector<IonResult>{{"Na", 1, 469, 2.3},
                                                      {"Mg", 2, 53.3, 0.27},
                                                      {"Ca", 2, 10.3, 0.05},
                                                      {"K", 1, 10.2, 0.1},
                                                      {"Sr", 2, 0.09, 0.001},
                                                      {"Cl", -1, cl, 1.6},
                                                      {"SO4", -2, 28.2, 0.28},
                                                      {"Br", -1, 0.84, 0.01},
                                                      {"alkalinity", -1, 2.3, 0.01}});
    };
    const double even = 469 + 2 * (53.3 + 10.3 + 0.09) + 10.2 - 56.4 - 0.84 - 2.3;
    EXPECT_EQ(balance(even)->verdict, BalanceVerdict::Balanced);
    EXPECT_NEAR(balance(even)->u_percent, 0.25, 0.03);
    EXPECT_EQ(balance(even + 8)->verdict, BalanceVerdict::Warn);
    EXPECT_EQ(balance(even + 12)->verdict, BalanceVerdict::Act);
    EXPECT_THAT(balance(even)->cannot_see,
                HasSubstr("neither strontium, potassium nor alkalinity"));
    EXPECT_THAT(balance(even)->cannot_see, HasSubstr("Ca, K, Sr, SO4, Br or alkalinity"));
    // An analysis of large uncertainties is not let off beyond 1 %.
    const auto poor = balance_charges(std::vector<IonResult>{{"Na", 1, 100, 5}, {"Cl", -1, 96, 5}});
    EXPECT_EQ(poor->act_percent, 1);
    EXPECT_EQ(poor->verdict, BalanceVerdict::Act);
    EXPECT_FALSE(balance_charges(std::vector<IonResult>{{"Na", 1, 100, 5}}));
    EXPECT_TRUE(
        check_sum(std::vector<SumPart>{{"salts", 86, 0.4}, {"water", 13.5, 0.3}})->complete);
    EXPECT_FALSE(check_sum(std::vector<SumPart>{{"salts", 86, 0.4}, {"water", 12, 0.3}})->complete);
}

// Rule 1: 370.4 exactly. With eight on one side 152, with two of three 226, all four 92, worked out
// by another program with 4000 runs; 43.9 until a shift of one sigma, printed in a textbook.
TEST(RunLength, OfRulesTogether) {
    ChartWatch rule_1;
    EXPECT_NEAR(simulated_run_length(rule_1, 0, 4000), 370.4, 25);
    EXPECT_NEAR(simulated_run_length(rule_1, 1, 4000), 43.9, 3);
    ChartWatch eight = rule_1;
    eight.rules.eight_one_side = true;
    EXPECT_NEAR(simulated_run_length(eight, 0, 4000), 152, 9);
    ChartWatch all = eight;
    all.rules.two_of_three = all.rules.four_of_five = true;
    EXPECT_NEAR(simulated_run_length(all, 0, 4000), 92, 6);
    ChartWatch sums;
    sums.cusum = ChartWatch::Cusum{0.5, 4};
    // Cumulated sums alone 168; with the rule of three sigma beside it less.
    EXPECT_LT(simulated_run_length(sums, 0, 4000), 168);
    EXPECT_GT(simulated_run_length(sums, 0, 4000), 100);
    EXPECT_EQ(simulated_run_length(sums, 0, 100, 5), simulated_run_length(sums, 0, 100, 5));
}

}  // namespace
}  // namespace bw::assay
