// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/grains.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "num/ode.hpp"

namespace bw::path {
namespace {

Liquid water(double t_degC = 25, double salinity = 0) {
    return liquid_of(unit::GramPerKg(salinity), unit::Celsius(t_degC)).value();
}

DissolvingSolid solid(std::string_view formula) { return dissolving_solid(formula).value(); }

Film film(std::string_view formula, double power = 0.1, double t_degC = 25) {
    return film_of(solid(formula), water(t_degC), {power, 0.33}).value();
}

/// Times in s for eps = 0.01, 0.1, 1 W/kg and one size in mm, reckoned by another hand from the
/// same law with diffusion coefficients and solubilities remembered; its own tolerance is a factor
/// of 2 on a single grain.
struct PrintedTimes {
    const char* formula;
    double mm;
    std::array<double, 3> s;
};
constexpr PrintedTimes kPrinted[] = {
    {"NaCl", 1, {61, 40, 26}},
    {"NaCl", 3, {241, 154, 97}},
    {"NaCl", 0.6, {31, 21, 14}},
    {"KCl", 1, {52, 34, 22}},
    {"KCl", 3, {207, 132, 84}},
    {"MgCl2.6H2O", 1, {20, 13, 8}},
    {"MgCl2.6H2O", 3, {78, 50, 31}},
    {"MgSO4.7H2O", 1, {37, 24, 15}},
    {"MgSO4.7H2O", 3, {142, 90, 57}},
    {"MgSO4", 1, {125, 81, 52}},
    {"MgSO4", 3, {485, 308, 194}},
    {"CaCl2.2H2O", 1, {21, 14, 9}},
    {"CaCl2.2H2O", 3, {82, 52, 33}},
    {"NaHCO3", 0.1, {10, 8, 5}},
    {"NaHCO3", 1, {248, 162, 104}},
    {"NaHCO3", 3, {978, 623, 393}},
    {"Na2CO3", 1, {149, 97, 62}},
    {"Na2CO3", 3, {585, 371, 234}},
    {"Na2SO4", 1, {131, 85, 55}},
    {"Na2SO4", 3, {512, 326, 205}},
    {"SrCl2.6H2O", 1, {30, 20, 13}},
    {"SrCl2.6H2O", 3, {119, 76, 48}},
    {"H3BO3", 1, {316, 206, 133}},
    {"H3BO3", 3, {1244, 791, 499}},
    {"CaSO4.2H2O", 0.1, {524, 385, 271}},
    {"CaSO4.2H2O", 0.3, {2524, 1722, 1144}},
};

TEST(Grains, TimesOfTheTable) {
    constexpr std::array kPower = {0.01, 0.1, 1.0};
    for (const PrintedTimes& row : kPrinted) {
        const DissolvingSolid of = solid(row.formula);
        for (std::size_t i = 0; i < 3; ++i) {
            const Film f = film(row.formula, kPower[i]);
            const double s = seconds_to_dissolve(f, row.mm * 1e-3) / of.crust_slowing;
            // Half a unit of the printed number, and 15 % for NaCl, whose diffusion and solubility
            // are known best; a third for the others, well inside the factor of 2.
            const double part = std::string(row.formula) == "NaCl" ? 0.15 : 1.0 / 3.0;
            EXPECT_NEAR(s, row.s[i], part * row.s[i] + 0.5)
                << row.formula << " " << row.mm << " mm, " << kPower[i] << " W/kg";
        }
    }
}

// Of two grains of the same film coefficient the time goes with the size, so with the cube root of
// the mass; the stirred law tends to it for large grains (Sh ~ d^0.827: t ~ d^1.173).
TEST(Grains, LimitsOfTheLaw) {
    const Film still = film("NaCl", 0);
    EXPECT_EQ(still.sherwood(1e-3), 2);
    // Sh = 2 everywhere: t = rho d^2 / (8 D C_sat)
    const double d = 1e-3;
    EXPECT_NEAR(seconds_to_dissolve(still, d),
                still.density_kg_per_m3 * d * d /
                    (8 * still.diffusion_m2_per_s * still.saturation_kg_per_m3),
                1e-6);
    const Film stirred = film("NaCl", 10);
    const double ratio = seconds_to_dissolve(stirred, 0.04) / seconds_to_dissolve(stirred, 0.02);
    EXPECT_NEAR(std::log2(ratio), 2 - 0.62 * 4 / 3, 0.01);
    EXPECT_GT(seconds_to_dissolve(film("NaCl", 0.01), d), seconds_to_dissolve(film("NaCl", 1), d));
    EXPECT_EQ(seconds_to_dissolve(stirred, d, stirred.saturation_kg_per_m3),
              std::numeric_limits<double>::infinity());
    EXPECT_EQ(stirred.shrinking_m_per_s(d, stirred.saturation_kg_per_m3 + 1), 0);
    EXPECT_EQ(sinking_sherwood(0, 600), 2);
    EXPECT_NEAR(sinking_sherwood(100, 1000), 2 + 4.4 * std::pow(10, 1.14), 1e-9);
}

// The cube-root law: with a film coefficient k that does not depend on size, w^(1/3) falls
// linearly. Here for the small change in which k stays: d(w^(1/3))/dt = -shrinking / R0.
TEST(Grains, MassFractionFallsByTheCubeRootLaw) {
    const Film f = film("KCl");
    const double d0 = 2e-3;
    for (const double w : {1.0, 0.5, 0.1, 0.01}) {
        const double radius_rate = f.shrinking_m_per_s(d0 * std::cbrt(w), 30) / (d0 / 2);
        const double expected = -3 * std::pow(w, 2.0 / 3.0) * radius_rate;
        EXPECT_NEAR(mass_fraction_rate_per_s(f, d0, w, 30) / expected, 1, 4e-5) << w;
    }
    EXPECT_EQ(mass_fraction_rate_per_s(f, d0, 0, 0), 0);
    EXPECT_GT(mass_fraction_rate_per_s(f, d0, -1e-6, 0), 0);  // comes back
    EXPECT_EQ(mass_fraction_rate_per_s(f, d0, 0.5, f.saturation_kg_per_m3 + 1), 0);
    const double near = mass_fraction_rate_per_s(f, d0, 1e-15, 0) / 1e-15;
    const double nearer = mass_fraction_rate_per_s(f, d0, 1e-18, 0) / 1e-18;
    EXPECT_NEAR(near / nearer, 1, 0.01);  // a finite slope at 0
}

TEST(Grains, IntegratedRateGivesTheTime) {
    const Film f = film("NaCl");
    const double d0 = 1e-3;
    const double gone = seconds_to_dissolve(f, d0);
    num::OdeProblem problem;
    problem.slope = [&](double, std::span<const double> y, std::span<double> dy) {
        dy[0] = mass_fraction_rate_per_s(f, d0, y[0], 0);
        return true;
    };
    problem.events = [](double, std::span<const double> y, std::span<double> g) {
        g[0] = y[0] - 1e-3;
    };
    problem.event_count = 1;
    problem.start = {1};
    problem.relative_tolerance = 1e-8;
    problem.absolute_tolerance = {1e-10};
    const std::vector<double> times{gone, 2 * gone};
    const num::OdeCourse course = num::integrate(problem, times);
    ASSERT_EQ(course.end, num::OdeEnd::Reached);
    ASSERT_EQ(course.events.size(), 1U);
    EXPECT_LT(course.events[0].t, gone);
    // what is left at w = 1e-3 is a grain of a tenth of the size
    EXPECT_NEAR(course.events[0].t, gone - seconds_to_dissolve(f, d0 / 10), 1e-3 * gone);
    EXPECT_LT(course.state[0][0], 3e-4);
    EXPECT_NEAR(course.state[1][0], 0, 1e-9);
    EXPECT_LT(course.steps, 500);
}

TEST(Grains, WarmthHastens) {
    // Viscosity of water halves from 5 to 33 degC; D T^-1 eta is constant.
    const Film cold = film("NaCl", 0.1, 5);
    const Film warm = film("NaCl", 0.1, 30);
    EXPECT_NEAR(warm.diffusion_m2_per_s / cold.diffusion_m2_per_s,
                303.15 / 278.15 * water(5).viscosity_Pa_s / water(30).viscosity_Pa_s, 1e-12);
    EXPECT_NEAR(film("NaCl").diffusion_m2_per_s, solid("NaCl").diffusion_25_m2_per_s, 1e-12);
    EXPECT_LT(seconds_to_dissolve(warm, 1e-3), 0.7 * seconds_to_dissolve(cold, 1e-3));
}

TEST(Grains, Distributions) {
    const auto classes = grains_about(0.5e-3, 1.6, 10).value();
    ASSERT_EQ(classes.size(), 10U);
    double mass = 0;
    double logs = 0;
    for (const GrainClass& c : classes) {
        mass += c.mass_share;
        logs += c.mass_share * std::log(c.diameter_m);
    }
    EXPECT_NEAR(mass, 1, 1e-12);
    EXPECT_NEAR(std::exp(logs), 0.5e-3, 1e-9);
    EXPECT_TRUE(std::is_sorted(classes.begin(), classes.end(), [](const auto& a, const auto& b) {
        return a.diameter_m < b.diameter_m;
    }));
    EXPECT_EQ(grains_about(1e-3, 1, 1).value()[0].diameter_m, 1e-3);
    EXPECT_FALSE(grains_about(0, 1.5));
    EXPECT_FALSE(grains_about(1e-3, 0.9));
    EXPECT_FALSE(grains_about(1e-3, 1.5, 0));

    const std::array cuts = {SieveCut{0, 0.1e-3, 5}, SieveCut{0.1e-3, 0.4e-3, 15},
                             SieveCut{0.4e-3, 0.8e-3, 0}};
    const auto sieved = grains_of_sieves(cuts).value();
    ASSERT_EQ(sieved.size(), 2U);
    EXPECT_NEAR(sieved[0].diameter_m, 0.05e-3, 1e-12);
    EXPECT_NEAR(sieved[1].diameter_m, 0.2e-3, 1e-12);
    EXPECT_NEAR(sieved[1].mass_share, 0.75, 1e-12);
    EXPECT_FALSE(grains_of_sieves(std::array{SieveCut{1e-3, 1e-4, 1}}));
    EXPECT_FALSE(grains_of_sieves(std::array{SieveCut{0, 1e-4, -1}}));
    EXPECT_FALSE(grains_of_sieves({}));
}

TEST(Grains, BadStirring) {
    EXPECT_FALSE(film_of(solid("NaCl"), water(), {-1, 0.33}));
    EXPECT_FALSE(film_of(solid("NaCl"), water(), {0.1, 0}));
    EXPECT_FALSE(film_of(solid("NaCl"), water(), {std::nan(""), 0.33}));
}

}  // namespace
}  // namespace bw::path
