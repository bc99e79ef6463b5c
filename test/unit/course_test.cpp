// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/course.hpp"

#include <cmath>
#include <functional>

#include <gtest/gtest.h>

#include "figure.hpp"
#include "matter/constituent.hpp"
#include "matter/formula.hpp"
#include "path/verdict.hpp"

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

/// Equivalents of strong ions less alkalinity: 0 in what neutral salts bring.
double charge_eq(const Dissolved& d) {
    using brine::Total;
    const auto of = [&](Total t) { return d.mol[brine::index(t)]; };
    return of(Total::Na) + of(Total::K) + 2 * (of(Total::Mg) + of(Total::Ca) + of(Total::Sr)) -
           of(Total::Cl) - 2 * of(Total::SO4) - d.alkalinity_eq;
}

struct Kept {
    const char* name;
    std::function<void(VatPlan&)> change;
    bool carbonate = false;
};

void record_kept(double worst, std::size_t runs) {
    constexpr double kAsked = 1e-9;
    test::record(
        {"Dissolving",
         fmt::format("calcium, magnesium, carbon, alkalinity, charge and mass over {} "
                     "courses of a vat",
                     runs),
         "close to 1e-9 over every run",
         test::share_used(worst, kAsked) +
             " at each moment once all grains are dissolved; a moment before does not tell "
             "what each grain still holds",
         worst <= kAsked});
}

// At every moment: calcium, magnesium, carbon, alkalinity, charge and mass, to 1e-9 of the whole.
TEST(Course, MatterIsKeptInEveryRun) {
    const std::vector<Kept> runs{
        {"seeded", [](VatPlan& p) { p.seed_mg_per_kg = 1; }},
        {"much seed", [](VatPlan& p) { p.seed_mg_per_kg = 10; }},
        {"onset", [](VatPlan& p) { p.particles = 100; }, true},
        {"closed", [](VatPlan& p) { p.kla_per_h = 0; }},
        {"much air", [](VatPlan& p) { p.kla_per_h = 50; }, true},
        {"in order", [](VatPlan& p) { p.additions.back().at_h = 2; }},
        {"as a solution",
         [](VatPlan& p) {
             p.additions.back() = {p.parts.size() - 1, 1, true};
         }},
        {"heated",
         [](VatPlan& p) {
             p.start_celsius = 20;
             p.heating = VatPlan::Heating{1, 28, 4};
         }},
    };
    double worst = 0;
    for (const Kept& run : runs) {
        VatPlan plan = plan_of(raised(run.carbonate), 28);
        plan.hours = 200;
        run.change(plan);
        const auto course = run_course(plan);
        ASSERT_TRUE(course) << run.name;
        ASSERT_TRUE(course->complete) << run.name;
        Dissolved all;
        for (const Part& p : plan.parts) {
            all.add(p.brings, 1);
        }
        const auto ca = brine::index(brine::Total::Ca);
        const auto mg = brine::index(brine::Total::Mg);
        constexpr double kCarbonate_mg = 100'087;
        constexpr double kNear = 1e-9;
        for (const Moment& m : course->moments) {
            if (m.dissolved_share < 1) {
                continue;  // the grains hold the rest
            }
            const double fallen = m.caco3_mg / kCarbonate_mg;
            const auto kept = [&](double found, double whole, double size) {
                EXPECT_NEAR(found, whole, kNear * size) << run.name;
                worst = std::max(worst, std::abs(found - whole) / size);
            };
            kept(m.dissolved.mol[ca] + fallen, all.mol[ca], all.mol[ca]);
            kept(m.dissolved.mol[mg], all.mol[mg], all.mol[mg]);
            kept(m.dissolved.carbon_mol + fallen, all.carbon_mol + m.co2_taken_mol, all.carbon_mol);
            kept(m.dissolved.alkalinity_eq + 2 * fallen, all.alkalinity_eq, all.alkalinity_eq);
            kept(charge_eq(m.dissolved), 0, 0.5);
            Dissolved whole = m.dissolved;
            whole.mol[ca] += fallen;
            whole.alkalinity_eq += 2 * fallen;
            whole.carbon_mol += fallen - m.co2_taken_mol;
            kept(whole.salt_kg(), all.salt_kg(), all.salt_kg());
        }
        EXPECT_GT(course->moments.back().dissolved_share, 1 - 1e-9) << run.name;
    }
    record_kept(worst, runs.size());
}

// Every temperature starts from purified water, between whole degrees too.
TEST(Course, StartsAtEveryTemperature) {
    for (double celsius = 5; celsius < 39.5; celsius += 0.37) {
        VatPlan plan = plan_of(raised(), celsius);
        plan.hours = 1;
        const auto course = run_course(plan);
        ASSERT_TRUE(course) << celsius;
        EXPECT_TRUE(course->complete) << celsius;
        EXPECT_GT(course->moments.back().omega_aragonite, 0.5) << celsius;
    }
}

// Anhydrous calcium chloride heats a vat that starts at 40 degC beyond the model's range.
TEST(Course, ARunThatStopsGivesWhatItHas) {
    VatPlan plan = plan_of({{"CaCl2", 0.5}}, 40);
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    EXPECT_FALSE(course->complete);
    EXPECT_LT(course->reached_h, 0.1);
    ASSERT_FALSE(course->moments.empty());
    ASSERT_EQ(course->notices.size(), 1U);
    EXPECT_NE(course->notices[0].text.find("could not be carried on beyond"), std::string::npos);
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
    const double ph = at(0.03).water.ph_total;
    test::record({"Dissolving",
                  "pH of a fresh mix with hydrogencarbonate, 25 degC, 2 minutes from the start",
                  "near 7.3 to 7.4", fmt::format("{:.2f} on the total scale", ph),
                  ph > 7.25 && ph < 7.45});
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

// A vat is as good as its first haze: however little dust there is, more of it never lasts longer.
TEST(Course, MoreDustNeverLastsLonger) {
    double before = 1e9;
    for (const double seed : {0.0, 1e-4, 1e-3, 0.01, 0.1, 1.0, 10.0}) {
        VatPlan plan = plan_of(raised(), 28);
        plan.seed_mg_per_kg = seed;
        plan.marks_until_h = kHoursPerYear;
        const auto course = run_course(plan);
        ASSERT_TRUE(course) << seed;
        const SafeTime safe = safe_time(plan, *course);
        // Growth before the onset takes up to 1 % of alkalinity, so of Omega, whose eighth power
        // the onset goes by here: 1.7 % of the time at the most seen.
        EXPECT_LT(safe.hours, before * 1.03) << seed;
        before = safe.hours;
    }
    EXPECT_LT(before, 24);
}

// More gypsum than the water takes: it dissolves until the water is saturated, whatever else has
// brought its ions, and the rest lies on the bottom.
TEST(Course, GypsumDissolvesUntilTheWaterIsSaturated) {
    static const std::size_t kGypsum = ref::mineral_place("gypsum");
    std::vector<double> taken;
    for (const double sulfate : {0.0, 0.028}) {
        VatPlan plan =
            plan_of({{"NaCl", 0.45}, {"Na2SO4", sulfate + 1e-6}, {"CaSO4.2H2O", 0.0581}});
        const auto course = run_course(plan);
        ASSERT_TRUE(course);
        EXPECT_TRUE(course->complete);
        EXPECT_NEAR(course->moments.back().water.ln_omega[kGypsum], 0, 0.01) << sulfate;
        EXPECT_LT(course->left[0], 1e-3);
        taken.push_back(0.0581 * (1 - course->left[2]));
        const Verdict verdict = judge(plan, *course, 24);
        EXPECT_EQ(verdict.risk, Risk::WillCloud);
        EXPECT_NE(verdict.reasons.front().find("of CaSO4.2H2O per kg of water stay on the bottom"),
                  std::string::npos)
            << verdict.reasons.front();
    }
    // The common ion: the product of calcium and sulfate stays, but for the ions' activities.
    EXPECT_NEAR(taken[1] * (taken[1] + 0.028), taken[0] * taken[0], 0.15 * taken[0] * taken[0]);
    VatPlan little = plan_of({{"NaCl", 0.45}, {"CaSO4.2H2O", 0.005}});
    const auto gone = run_course(little);
    ASSERT_TRUE(gone);
    EXPECT_LT(gone->left[1], 1e-3);
    EXPECT_EQ(judge(little, *gone, 24).risk, Risk::Clear);
}

TEST(Course, WhatGoesInAsASolutionIsDissolvedThen) {
    VatPlan plan = plan_of(raised());
    for (Addition& a : plan.additions) {
        a.dissolved_before = true;
    }
    plan.additions.back().at_h = 1;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    EXPECT_EQ(course->marks.dissolved, 1);
}

// Omega high at first and low for ever: what is gathered in the first hours counts, not the year.
TEST(Course, UseWithinIsWhereTheProgressIsAFifth) {
    VatPlan plan = plan_of(raised(true));
    plan.air_co2_atm = plan.water_co2_atm = 2000e-6;
    plan.kla_per_h = 5;
    plan.parts[7] = part({"Na2CO3", 0.0019});
    plan.marks_until_h = kHoursPerYear;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    const SafeTime safe = safe_time(plan, *course);
    EXPECT_TRUE(safe.over_a_year);
    EXPECT_LT(safe.use_within_h, 24);
    plan.particles = 10;  // ten times quicker, and trusted within ten
    const auto dusty = run_course(plan);
    ASSERT_TRUE(dusty);
    EXPECT_LT(safe_time(plan, *dusty).use_within_h, safe.use_within_h);
}

// In a water that stays as it is, use within is the safe time over the factor.
TEST(Course, UseWithinOfASteadyWaterIsAFifth) {
    VatPlan plan = plan_of(raised());
    plan.kla_per_h = 0;
    plan.start_celsius = plan.room_celsius = 28;
    plan.parts[6] = part({"Na2CO3", 0.003});  // no strontium, more carbonate
    plan.marks_until_h = kHoursPerYear;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    const SafeTime safe = safe_time(plan, *course);
    ASSERT_FALSE(safe.over_a_year);
    EXPECT_NEAR(safe.use_within_h, safe.hours / 5, 0.02 * safe.hours / 5);
}

// Chalk among the parts is seed, as dust of the same grains would be.
TEST(Course, ChalkAmongThePartsIsSeed) {
    auto salts = raised();
    salts.push_back({"CaCO3", 0.001});
    VatPlan plan = plan_of(salts, 20);
    plan.marks_until_h = kHoursPerYear;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    EXPECT_TRUE(safe_time(plan, *course).seeded);
    VatPlan clean = plan_of(raised(), 20);
    clean.marks_until_h = kHoursPerYear;
    EXPECT_LT(safe_time(plan, *course).hours, safe_time(clean, *run_course(clean)).hours);
    EXPECT_EQ(judge(plan, *course, 24).risk, Risk::WillCloud);
}

// Water in touch with air holds the CO2 of that air, the ions that it makes counted.
TEST(Course, PurifiedWaterStartsInBalanceWithItsAir) {
    const auto course = run_course(plan_of(raised()));
    ASSERT_TRUE(course);
    ASSERT_FALSE(course->moments.front().water.ln_omega.empty());
    EXPECT_NEAR(course->moments.front().water.fugacity_co2_atm(), 420e-6, 0.5e-6);
    // pH of water under 420 uatm at 25 degC: sqrt(K1 K0 p), pK1 6.352 and K0 0.0340 mol/(kg atm)
    // in pure water [harned-davis-1943, weiss-1974].
    EXPECT_NEAR(course->moments.front().water.ph_total, 5.60, 0.02);
}

// A vat that its own salt warms beyond the model's 40 degC is followed on, and says so.
TEST(Course, FortyDegreesAreFollowed) {
    VatPlan plan = plan_of({{"NaCl", 0.2}, {"CaCl2", 0.05}, {"NaHCO3", 0.002}}, 40);
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    EXPECT_TRUE(course->complete);
    EXPECT_GT(course->moments.back().celsius, 40.1);
    ASSERT_FALSE(course->notices.empty());
    EXPECT_EQ(course->notices.front().code, "path_warm");
}

// Parts without alkalinity lose none of it, rather than a share of nothing.
TEST(Course, WithoutAlkalinityNoneIsLost) {
    const auto course = run_course(plan_of({{"NaCl", 0.4}, {"CaCl2.2H2O", 0.01}}));
    ASSERT_TRUE(course);
    for (const Moment& m : course->moments) {
        EXPECT_EQ(m.alkalinity_lost_share, 0);
    }
}

// The water that the laws are asked about is that of the onset, not of the last hour shown.
TEST(Course, EvidenceDoesNotDependOnTheHoursShown) {
    for (const double hours : {1.0, 48.0, 500.0}) {
        VatPlan plan = plan_of(raised(), 22);
        plan.hours = hours;
        plan.marks_until_h = kHoursPerYear;
        const auto course = run_course(plan);
        ASSERT_TRUE(course);
        const SafeTime safe = safe_time(plan, *course);
        EXPECT_TRUE(safe.in_evidence) << hours;
        EXPECT_GT(safe.hours, 0);
        EXPECT_GT(course->last_looked.omega_aragonite, 5);
    }
}

// A vat is looked at soon after every addition, so that what it does while mixing is seen.
TEST(Course, EveryAdditionIsLookedAtInSeconds) {
    VatPlan plan = plan_of(raised());
    plan.additions.back().at_h = 1.25;
    plan.hours = 3;
    const auto course = run_course(plan);
    ASSERT_TRUE(course);
    int soon = 0;
    double before = -1;
    for (const Moment& m : course->moments) {
        EXPECT_GT(m.h, before);
        before = m.h;
        soon += m.h > 1.25 && m.h < 1.25 + 0.02 ? 1 : 0;
    }
    EXPECT_GE(soon, 4);
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
    EXPECT_NE(refused([](VatPlan& p) { p.hours = std::nan(""); }).find("length"),
              std::string::npos);
    EXPECT_NE(refused([](VatPlan& p) { p.additions.pop_back(); }).find("every part"),
              std::string::npos);
    EXPECT_NE(refused([](VatPlan& p) {
                  p.additions.push_back({0, 0, false});
              }).find("once"),
              std::string::npos);
}

}  // namespace
}  // namespace bw::path
