// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "num/ode.hpp"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace bw::num {
namespace {

// The stiff kinetics of [robertson-1966]; y at t = 40 to five digits, from memory of the solution
// that integrators print for it.
TEST(Ode, RobertsonsKinetics) {
    OdeProblem p;
    p.slope = [](double, std::span<const double> y, std::span<double> dy) {
        dy[0] = -0.04 * y[0] + 1e4 * y[1] * y[2];
        dy[2] = 3e7 * y[1] * y[1];
        dy[1] = -dy[0] - dy[2];
        return true;
    };
    p.start = {1, 0, 0};
    p.relative_tolerance = 1e-9;
    p.absolute_tolerance = {1e-12, 1e-15, 1e-12};
    const std::vector<double> times{0.4, 40};
    const OdeCourse course = integrate(p, times);
    ASSERT_EQ(course.end, OdeEnd::Reached);
    ASSERT_EQ(course.state.size(), 2U);
    EXPECT_NEAR(course.state[1][0], 7.1583e-1, 1e-5);
    EXPECT_NEAR(course.state[1][1], 9.1855e-6, 1e-10);
    EXPECT_NEAR(course.state[1][2], 2.8416e-1, 1e-5);
    EXPECT_NEAR(course.state[1][0] + course.state[1][1] + course.state[1][2], 1, 1e-9);
}

TEST(Ode, AGivenJacobianServesAsWell) {
    OdeProblem p;
    p.slope = [](double, std::span<const double> y, std::span<double> dy) {
        dy[0] = -1000 * (y[0] - y[1]);
        dy[1] = -y[1];
        return true;
    };
    p.start = {0, 1};
    p.absolute_tolerance = {1e-10, 1e-10};
    const std::vector<double> times{1};
    const OdeCourse by_differences = integrate(p, times);
    int calls = 0;
    p.jacobian = [&calls](double, std::span<const double>, std::span<double> j) {
        ++calls;
        j[0] = -1000;
        j[2] = 1000;  // column 1, row 0
        j[3] = -1;
        return true;
    };
    const OdeCourse given = integrate(p, times);
    ASSERT_EQ(given.end, OdeEnd::Reached);
    EXPECT_GT(calls, 0);
    EXPECT_NEAR(given.last[0], by_differences.last[0], 1e-6);
    EXPECT_NEAR(given.last[1], std::exp(-1.0), 1e-6);
    EXPECT_NEAR(given.last[0], std::exp(-1.0) * 1000 / 999, 1e-6);
}

TEST(Ode, EventsAreFoundAndMayEndTheRun) {
    OdeProblem p;
    p.slope = [](double, std::span<const double> y, std::span<double> dy) {
        dy[0] = y[1];
        dy[1] = -y[0];
        return true;
    };
    p.events = [](double, std::span<const double> y, std::span<double> g) { g[0] = y[0] - 0.5; };
    p.event_count = 1;
    p.start = {0, 1};  // sin t
    p.relative_tolerance = 1e-9;
    p.absolute_tolerance = {1e-11, 1e-11};
    const std::vector<double> times{10};
    const OdeCourse all = integrate(p, times);
    ASSERT_EQ(all.events.size(), 4U);
    const double pi = std::acos(-1.0);
    EXPECT_NEAR(all.events[0].t, pi / 6, 1e-6);
    EXPECT_TRUE(all.events[0].rising);
    EXPECT_NEAR(all.events[1].t, 5 * pi / 6, 1e-6);
    EXPECT_FALSE(all.events[1].rising);
    EXPECT_NEAR(all.state[0][0], std::sin(10), 1e-6);
    const OdeCourse first = integrate(p, times, [](const OdeEvent& event) { return event.rising; });
    EXPECT_EQ(first.end, OdeEnd::Stopped);
    EXPECT_NEAR(first.reached, 5 * pi / 6, 1e-6);
    EXPECT_TRUE(first.state.empty());
}

TEST(Ode, AWallIsReportedWithWhatWasReached) {
    OdeProblem p;
    p.slope = [](double t, std::span<const double> y, std::span<double> dy) {
        dy[0] = y[0] * y[0];  // 1 / (1 - t): no solution beyond 1
        return t < 1 && std::isfinite(dy[0]);
    };
    p.start = {1};
    p.absolute_tolerance = {1e-10};
    const std::vector<double> times{0.5, 2};
    const OdeCourse course = integrate(p, times);
    EXPECT_TRUE(course.end == OdeEnd::Failed || course.end == OdeEnd::TooManySteps);
    ASSERT_EQ(course.state.size(), 1U);
    EXPECT_NEAR(course.state[0][0], 2, 1e-5);
    EXPECT_GT(course.reached, 0.9);
    EXPECT_LT(course.reached, 1);
}

TEST(Ode, StepsAreLimited) {
    OdeProblem p;
    p.slope = [](double t, std::span<const double>, std::span<double> dy) {
        dy[0] = std::cos(1e4 * t);
        return true;
    };
    p.start = {0};
    p.absolute_tolerance = {1e-12};
    p.most_steps = 50;
    const std::vector<double> times{1};
    const OdeCourse course = integrate(p, times);
    EXPECT_EQ(course.end, OdeEnd::TooManySteps);
    EXPECT_GT(course.reached, 0);
}

}  // namespace
}  // namespace bw::num
