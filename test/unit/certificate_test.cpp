// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The proof that an answer is the best, on programs solved by hand. Minimise a under b = 0 and
// b - a / k <= -1 / k, which makes a at least 1 with the multiplier k.
#include <vector>

#include <gtest/gtest.h>

#include "opt/linear_program.hpp"

namespace {

using namespace bw::opt;

constexpr double kHold = 1e-6;  // as the recipe asks

struct Case {
    LinearProgram lp;
    LpSolution best;

    explicit Case(double k) {
        const int a = lp.add_column(1, 0, 10);
        const int b = lp.add_column(0, -10, 10);
        lp.add_row(std::vector<Entry>{{b, 1}}, 0, 0);
        lp.add_row(std::vector<Entry>{{b, 1}, {a, -1 / k}}, -kInfinity, -1 / k);
        best.status = SolveStatus::Optimal;
        best.x = {1, 0};
        best.row_dual = {k, -k};
        best.objective = 1;
    }
};

TEST(Certificate, HoldsForTheBest) {
    for (const double k : {1.0, 1e3, 1e5}) {
        EXPECT_TRUE(certify(Case(k).lp, Case(k).best).holds(kHold)) << k;
    }
}

// A row off by less than kRowTolerance moves the objective by as much times its multiplier: 5e-5
// here, and that is no error of the answer.
TEST(Certificate, AllowsWhatTheTolerancesOfRowsExplain) {
    Case c(1e5);
    c.best.x = {1 - 0.5e-9 * 1e5, 0};
    EXPECT_TRUE(certify(c.lp, c.best).holds(kHold));
}

TEST(Certificate, FailsForAnAnswerThatIsNotTheBest) {
    for (const double k : {1.0, 1e3, 1e5}) {
        Case worse(k);
        worse.best.x[0] = 1.01;
        EXPECT_FALSE(certify(worse.lp, worse.best).holds(kHold)) << k;
        Case multipliers(k);
        multipliers.best.row_dual = {0.5 * k, -0.5 * k};
        EXPECT_FALSE(certify(multipliers.lp, multipliers.best).holds(kHold)) << k;
    }
}

TEST(Certificate, FailsForAnAnswerThatBreaksALimit) {
    Case c(1);
    c.best.x[0] = 0.99;
    EXPECT_FALSE(certify(c.lp, c.best).holds(kHold));
}

}  // namespace
