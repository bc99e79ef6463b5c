// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/course.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "matter/constituent.hpp"
#include "matter/formula.hpp"

namespace bw::path {
namespace {

struct Salt {
    const char* formula;
    double mol_per_kg;  ///< of purified water
};

/// The raised blend of the notes on dissolving: 4.0 meq/kg alkalinity, 11 mmol/kg Ca, 56 mmol/kg Mg
/// (per kg of finished water; here per kg of purified water, times 1.037).
std::vector<Salt> raised(bool carbonate = false) {
    std::vector<Salt> out{{"NaCl", 0.428},        {"KCl", 0.0106},        {"MgCl2.6H2O", 0.0292},
                          {"MgSO4.7H2O", 0.0292}, {"CaCl2.2H2O", 0.0114}, {"H3BO3", 0.00043},
                          {"SrCl2.6H2O", 9.4e-5}};
    if (carbonate) {
        out.push_back({"Na2CO3", 0.00104});
        out.push_back({"NaHCO3", 0.00207});
    } else {
        out.push_back({"NaHCO3", 0.00415});
    }
    return out;
}

Part part(const Salt& salt, double d50_m = 0.3e-3) {
    Part out;
    out.name = salt.formula;
    out.solid = *dissolving_solid(salt.formula);
    const auto compound = *matter::dissolve(*matter::parse_formula(salt.formula));
    matter::Amounts amounts = compound.per_mol;
    amounts.scale(salt.mol_per_kg);
    out.brings = dissolved_of(amounts);
    out.kg_per_kg_water = salt.mol_per_kg * out.solid.molar_mass_g_per_mol / 1000;
    out.water_kg_per_kg = salt.mol_per_kg * compound.water_mol * 0.01801528;
    out.grains = *grains_about(d50_m, 1.5, 4);
    return out;
}

VatPlan plan_of(const std::vector<Salt>& salts, double celsius = 25) {
    VatPlan plan;
    for (const Salt& s : salts) {
        plan.additions.push_back({plan.parts.size(), 0, false});
        plan.parts.push_back(part(s));
    }
    plan.start_celsius = plan.room_celsius = celsius;
    return plan;
}

TEST(Course, MatterIsKept) {
    VatPlan plan = plan_of(raised(), 28);
    plan.seed_mg_per_kg = 1;
    plan.hours = 200;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    ASSERT_TRUE(course->complete);
    Dissolved all;
    for (const Part& p : plan.parts) {
        all.add(p.brings, 1);
    }
    const double kMg = 100'087;  // mg of CaCO3 per mol
    const Moment& last = course->moments.back();
    ASSERT_GT(last.caco3_mg, 1);
    const double fallen = last.caco3_mg / kMg;
    const auto ca = brine::index(brine::Total::Ca);
    EXPECT_NEAR(last.dissolved.mol[ca] + fallen, all.mol[ca], 1e-9 * all.mol[ca]);
    EXPECT_NEAR(last.dissolved.alkalinity_eq + 2 * fallen, all.alkalinity_eq,
                1e-9 * all.alkalinity_eq);
    for (std::size_t t = 0; t < brine::kTotals; ++t) {
        if (t != ca) {
            EXPECT_NEAR(last.dissolved.mol[t], all.mol[t], 1e-9 * all.mol[t] + 1e-15);
        }
    }
}

// A fresh mix of bicarbonate starts near pH 7.3 to 7.4 with Omega of aragonite of 1 to 2 and rises
// as CO2 leaves: by hand with the field's constants 7.36, 1.6 (25 degC), and on to 8.22, 8.7 with
// air of 420 ppm.
TEST(Course, BicarbonateStartsSafeAndDrifts) {
    VatPlan plan = plan_of(raised());
    plan.kla_per_h = 3;
    plan.hours = 96;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    const auto at = [&](double h) {
        const Moment* best = nullptr;
        for (const Moment& m : course->moments) {
            best = m.h <= h * 1.0001 ? &m : best;
        }
        return *best;
    };
    EXPECT_NEAR(at(0.03).water.ph_total, 7.37, 0.05);
    EXPECT_NEAR(at(0.03).omega_aragonite, 1.6, 0.25);
    EXPECT_NEAR(at(96).water.ph_total, 8.22, 0.03);
    EXPECT_NEAR(at(96).omega_aragonite, 8.7, 0.6);
    EXPECT_NEAR(at(96).water.fugacity_co2_atm(), 420e-6, 10e-6);
}

TEST(Course, ClosedVatsKeepTheirCarbon) {
    VatPlan plan = plan_of(raised());
    plan.kla_per_h = 0;
    plan.water_co2_atm = 0;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    Dissolved all;
    for (const Part& p : plan.parts) {
        all.add(p.brings, 1);
    }
    EXPECT_NEAR(course->moments.back().dissolved.carbon_mol, all.carbon_mol, 1e-9 * all.carbon_mol);
}

TEST(Course, WarmthAndSeedHastenTheLoss) {
    const auto lost = [](double celsius, double seed_mg) {
        VatPlan plan = plan_of(raised(), celsius);
        plan.seed_mg_per_kg = seed_mg;
        plan.kla_per_h = 0.5;
        plan.hours = 1000;
        const auto course = run_course(plan);
        EXPECT_TRUE(course);
        return course->marks.lost_5_percent.value_or(1e9);
    };
    EXPECT_LT(lost(25, 1), lost(20, 1));
    EXPECT_LT(lost(28, 1), lost(25, 1));
    EXPECT_LT(lost(25, 10), lost(25, 1));
    EXPECT_LT(lost(25, 1), lost(25, 0.1));
}

TEST(Course, TheOrderOfAdditionsIsKept) {
    VatPlan plan = plan_of(raised());
    plan.additions.back().at_h = 1;  // bicarbonate last
    plan.hours = 3;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    for (const Moment& m : course->moments) {
        if (m.h < 1) {
            EXPECT_LT(m.dissolved.alkalinity_eq, 1e-5) << m.h;
            EXPECT_LT(m.dissolved_share, 1);
        }
    }
    EXPECT_NEAR(course->moments.back().dissolved_share, 1, 1e-3);
    EXPECT_GT(course->marks.dissolved.value_or(0), 1);
}

TEST(Course, BadPlansAreRefusedInOneSentence) {
    const VatPlan good = plan_of(raised());
    const auto refused = [&](const auto& change) {
        VatPlan plan = good;
        change(plan);
        const auto course = run_course(plan);
        EXPECT_FALSE(course);
        return course ? std::string() : course.error().message;
    };
    EXPECT_NE(refused([](VatPlan& p) { p.start_celsius = 45; }).find("5 to 40"), std::string::npos);
    EXPECT_NE(refused([](VatPlan& p) { p.kla_per_h = -1; }).find("gas exchange"),
              std::string::npos);
    EXPECT_NE(refused([](VatPlan& p) { p.air_co2_atm = 0; }).find("CO2"), std::string::npos);
    EXPECT_NE(refused([](VatPlan& p) { p.hours = NAN; }).find("length"), std::string::npos);
    EXPECT_NE(refused([](VatPlan& p) { p.additions.pop_back(); }).find("every part"),
              std::string::npos);
    EXPECT_NE(refused([](VatPlan& p) {
                  p.additions.push_back({0, 0, false});
              }).find("once"),
              std::string::npos);
}

}  // namespace
}  // namespace bw::path
