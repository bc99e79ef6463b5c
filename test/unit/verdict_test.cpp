// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/verdict.hpp"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "path/onset.hpp"

namespace bw::path {
namespace {

Course course_of(double omega_gypsum, double omega_aragonite = 8) {
    Course out;
    for (const double h : {0.0, 10.0, 48.0}) {
        Moment m;
        m.h = h;
        m.celsius = 22;
        m.omega_aragonite = omega_aragonite;
        m.water.ph_total = 8.2;
        m.water.ln_omega.assign(ref::minerals().size(), -100);
        for (std::size_t i = 0; i < ref::minerals().size(); ++i) {
            const auto key = ref::minerals()[i].key;
            m.water.ln_omega[i] = key == "gypsum"      ? std::log(omega_gypsum)
                                  : key == "aragonite" ? std::log(omega_aragonite)
                                                       : -100;
        }
        out.moments.push_back(m);
    }
    out.marks.dissolved = 0.1;
    out.last_looked = out.moments.back();
    return out;
}

VatPlan plan() {
    VatPlan out;
    Part salt;
    salt.name = "salt";
    salt.kg_per_kg_water = 0.04;
    salt.solid = *dissolving_solid("NaCl");
    out.parts.push_back(salt);
    out.additions.push_back({0, 0, false});
    return out;
}

TEST(Verdict, SafeTimeIsTheEarlierMark) {
    Course c = course_of(0.2);
    EXPECT_TRUE(safe_time(plan(), c).over_a_year);
    c.marks.onset = 100;
    c.marks.lost_1_percent = 120;
    EXPECT_EQ(safe_time(plan(), c).hours, 100);
    EXPECT_EQ(safe_time(plan(), c).factor, 5);
    EXPECT_FALSE(safe_time(plan(), c).seeded);
    VatPlan seeded = plan();
    seeded.seed_mg_per_kg = 1;
    c.marks.lost_1_percent = 30;
    c.marks.earliest_loss = 10;
    EXPECT_EQ(safe_time(seeded, c).hours, 30);
    EXPECT_EQ(safe_time(seeded, c).factor, 3);
    EXPECT_TRUE(safe_time(seeded, c).seeded);
    VatPlan dusty = plan();
    dusty.particles = 10;
    EXPECT_EQ(safe_time(dusty, course_of(0.2)).factor, 10);
}

TEST(Verdict, EvidenceIsAskedFor) {
    Course c = course_of(0.2);
    c.marks.onset = 100;
    EXPECT_TRUE(safe_time(plan(), c).in_evidence);
    c.last_looked.celsius = 30;
    EXPECT_FALSE(safe_time(plan(), c).in_evidence);
}

TEST(Verdict, TheSafeTimeAgainstWhatIsAsked) {
    Course c = course_of(0.2);
    c.marks.onset = 100;
    c.marks.earliest_onset = 20;
    EXPECT_EQ(judge(plan(), c, 10).risk, Risk::Clear);
    EXPECT_EQ(judge(plan(), c, 24).risk, Risk::Watch);  // 20 < 24 < 100
    EXPECT_EQ(judge(plan(), c, 100).risk, Risk::WillCloud);
    EXPECT_EQ(judge(plan(), c, 24).safe.use_within_h, 20);
}

// Gypsum is trusted within a factor of 1.1 in seawater.
TEST(Verdict, OtherSolidsDecideToo) {
    EXPECT_EQ(judge(plan(), course_of(0.9), 24).risk, Risk::Clear);
    EXPECT_EQ(judge(plan(), course_of(1.05), 24).risk, Risk::Watch);
    const Verdict v = judge(plan(), course_of(2), 24);
    EXPECT_EQ(v.risk, Risk::WillCloud);
    EXPECT_THAT(v.reasons.front(), testing::StartsWith("gypsum"));
}

// Use within is where the mark would be with the laws as much faster as they are trusted for, and
// holds beyond a year too.
TEST(Verdict, UseWithinIsTheEarliestThatTheLawsAllow) {
    Course c = course_of(0.2);
    EXPECT_EQ(safe_time(plan(), c).use_within_h, kHoursPerYear);
    c.marks.earliest_onset = 30;
    EXPECT_TRUE(safe_time(plan(), c).over_a_year);
    EXPECT_EQ(safe_time(plan(), c).use_within_h, 30);
    EXPECT_EQ(judge(plan(), c, 24).risk, Risk::Clear);
    EXPECT_EQ(judge(plan(), c, 31).risk, Risk::Watch);
    c.marks.earliest_loss = 7;
    EXPECT_EQ(safe_time(plan(), c).use_within_h, 7);
    EXPECT_EQ(judge(plan(), c, 24).risk, Risk::Watch);
}

// Barite counts for days; a thousand times supersaturated it is in the vat at once.
TEST(Verdict, ASlowSolidFarBeyondSaturationClouds) {
    Course c = course_of(0.2);
    static const std::size_t kBarite = ref::mineral_place("barite");
    for (Moment& m : c.moments) {
        m.water.ln_omega[kBarite] = std::log(3);
    }
    EXPECT_EQ(judge(plan(), c, 24).risk, Risk::Watch);
    for (Moment& m : c.moments) {
        m.water.ln_omega[kBarite] = std::log(3000);
    }
    EXPECT_EQ(judge(plan(), c, 24).risk, Risk::WillCloud);
}

TEST(Verdict, AStoppedRunIsWatched) {
    Course c = course_of(0.2);
    c.complete = false;
    c.reached_h = 3;
    const Verdict v = judge(plan(), c, 24);
    EXPECT_EQ(v.risk, Risk::Watch);
    EXPECT_THAT(v.reasons.front(), testing::HasSubstr("stops after 3.0 h"));
    EXPECT_FALSE(v.safe.over_a_year);
    EXPECT_EQ(v.safe.hours, 3);
}

TEST(Verdict, AStoppedRunKeepsWhatOtherSolidsSay) {
    Course c = course_of(2);
    c.complete = false;
    c.reached_h = 3;
    EXPECT_EQ(judge(plan(), c, 24).risk, Risk::WillCloud);
}

TEST(Verdict, HoursInWords) {
    EXPECT_EQ(hours_in_words(10.0 / 3600), "10 s");
    EXPECT_EQ(hours_in_words(0.5), "30 min");
    EXPECT_EQ(hours_in_words(27.3), "27 h");
    EXPECT_EQ(hours_in_words(240), "10 days");
    EXPECT_EQ(hours_in_words(kHoursPerYear), "a year");
}

}  // namespace
}  // namespace bw::path
