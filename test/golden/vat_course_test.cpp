// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The integrator against another on the same equations (test/golden/vat_course.json, made by
// tools/reference/vat_course.py, where they are written down): a vat in small, with grains, CO2 and
// crystals. Tolerance 1e-6 of each value, with the tolerances at which a vat is run or finer.
#include <cmath>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "figure.hpp"
#include "num/ode.hpp"

namespace {

using Json = nlohmann::json;

struct Water {
    double co2, omega;
};

Water water(const Json& c, std::span<const double> y) {
    const auto number = [&](const char* key) { return c[key].get<double>(); };
    const double fallen =
        number("seed_mol") * (std::pow(1 + y[2] / number("seed_radius_um"), 3) - 1);
    const double brought = 1e-4 + number("alkalinity") * (1 - y[0]);
    const double alkalinity = brought - 2 * fallen;
    const double carbon = brought + y[1] - fallen;
    const double k1 = number("k1");
    const double k12 = k1 * number("k2");
    const double b = k1 * (alkalinity - carbon);
    const double h = (-b + std::sqrt(b * b - 4 * alkalinity * k12 * (alkalinity - 2 * carbon))) /
                     (2 * alkalinity);
    const double share = h * h + k1 * h + k12;
    return {carbon * h * h / share,
            (number("calcium") - fallen) * carbon * k12 / share / number("ksp")};
}

TEST(VatCourseGolden, TheSameEquationsGiveTheSameCourse) {
    std::ifstream in(std::string(BW_SOURCE_DIR) + "/test/golden/vat_course.json");
    ASSERT_TRUE(in);
    const Json golden = Json::parse(in);
    ASSERT_GE(golden["cases"].size(), 3U);
    double worst = 0;  // of what is allowed
    for (const Json& c : golden["cases"]) {
        bw::num::OdeProblem problem;
        problem.slope = [&](double, std::span<const double> y, std::span<double> dy) {
            const Water w = water(c, y);
            const double left = std::max(y[0], 0.0);
            dy[0] = -c["dissolving_per_h"].get<double>() * left / std::pow(left + 1e-3, 2.0 / 3) *
                    (1 - c["held_back"].get<double>() * (1 - left));
            dy[1] = c["exchange_per_h"].get<double>() * (c["co2_of_air"].get<double>() - w.co2);
            dy[2] = c["growth_um_per_h"].get<double>() *
                    std::pow(std::max(w.omega - 1, 0.0), c["order"].get<double>());
            return std::isfinite(dy[0] + dy[1] + dy[2]);
        };
        problem.start = {1, 0, 0};
        problem.relative_tolerance = 1e-9;
        problem.absolute_tolerance = {1e-11, 1e-14, 1e-11};
        problem.most_steps = 100'000;
        const auto hours = c["hours"].get<std::vector<double>>();
        const auto course = bw::num::integrate(problem, hours);
        ASSERT_EQ(course.end, bw::num::OdeEnd::Reached) << c["name"];
        for (std::size_t i = 0; i < hours.size(); ++i) {
            for (std::size_t k = 0; k < 3; ++k) {
                const double want = c["y"][i][k];
                EXPECT_NEAR(course.state[i][k], want, 1e-6 * std::abs(want) + 1e-9)
                    << c["name"] << ", " << hours[i] << " h, unknown " << k;
                worst = std::max(
                    worst, std::abs(course.state[i][k] - want) / (1e-6 * std::abs(want) + 1e-9));
            }
            const double omega = c["omega"][i];
            const double found = water(c, course.state[i]).omega;
            EXPECT_NEAR(found, omega, 1e-6 * omega) << c["name"];
            worst = std::max(worst, std::abs(found / omega - 1) / 1e-6);
        }
    }
    bw::test::record(
        {"Dissolving",
         fmt::format("equations of a small vat (grains, CO2, crystals) of three unknowns, "
                     "written for this test, by two integrators, {} cases",
                     golden["cases"].size()),
         "the same to 1e-6 of each value, and 1e-9 near nothing", bw::test::share_used(worst, 1),
         worst <= 1});
}

}  // namespace
