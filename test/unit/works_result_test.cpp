// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Results and runs: what is typed becomes an amount; nobody checks their own; nothing is lost.
#include <array>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "works/run.hpp"

namespace {

using namespace bw::works;
using TestRun = Run;  // testing::Test has a Run of its own
using testing::HasSubstr;

TestPortion portion(double salinity = 35) {
    TestPortion p;
    p.sample = "S26-0001-X";
    p.batch = "B26-0001-K";
    p.salt_g = 41.3;
    p.water_g = 1000;
    p.strength_by = StrengthBy::Conductivity;
    p.salinity = "35";
    p.practical_salinity = salinity;
    p.u_salinity = 0.05;
    p.temperature_degC = 20 / 1.00024;  // 20 degC of IPTS-68, for which densities are printed
    return p;
}

TestResult result(std::string digits, std::string unit, std::string dilution = "") {
    TestResult r;
    r.line = 1;
    r.sample = "S26-0001-X";
    r.portion = "S26-0001-X/1";
    r.batch = "B26-0001-K";
    r.analyte = "Ca";
    r.method = "M-07";
    r.u_percent = 0.6;
    r.repeatability_percent = 0.3;
    r.digits = std::move(digits);
    r.unit = std::move(unit);
    r.dilution = std::move(dilution);
    r.entered_by = "ana";
    return r;
}

double worked(const TestResult& r, const TestPortion& p) {
    const auto out = worked_out(r, p, natural_strength(35, 41.3));
    EXPECT_TRUE(out) << out.error().message;
    return out ? out->mol_per_kg : 0;
}

TEST(TestResults, BecomeAmountsOfTheMadeUpWater) {
    // 10.28 mmol/kg stays; at salinity 35.35 it is 35/35.35 of that.
    EXPECT_NEAR(worked(result("10.28", "mmol/kg"), portion()), 0.01028, 1e-15);
    EXPECT_NEAR(worked(result("10.28", "mmol/kg"), portion(35.35)), 0.01028 * 35 / 35.35, 1e-12);
    // 8.442 mg/L of a fiftyfold dilution: 422.1 mg/L; seawater of S 35 at 20 degC has 1.024763 kg/L
    // [unesco-44], calcium 40.078 g/mol.
    EXPECT_NEAR(worked(result("8.442", "mg/L", "50"), portion()), 0.4221 / 40.078 / 1.024763, 1e-8);
    TestPortion dense = portion();
    dense.density_kg_per_L = 1.03;
    EXPECT_NEAR(worked(result("422.1", "mg/L"), dense), 0.4221 / 40.078 / 1.03, 1e-8);
}

TEST(TestResults, KeepWhatIsBelowTheLimitAsAnUpperLimit) {
    const auto out = worked_out(result("< 0.5", "mg/kg"), portion(), natural_strength(35, 41.3));
    ASSERT_TRUE(out);
    EXPECT_TRUE(out->below_limit);
    EXPECT_EQ(out->digits, "< 0.5");
    EXPECT_NEAR(out->mol_per_kg, 0.5e-3 / 40.078, 1e-10);
}

TEST(TestResults, RefuseWhatIsNoNumber) {
    for (const char* digits : {"", "<", "4,2", "nan", "1e999", "4.2.1", "n.d."}) {
        EXPECT_FALSE(worked_out(result(digits, "mg/kg"), portion(), natural_strength(35, 41.3)))
            << digits;
    }
    EXPECT_EQ(worked_out(result("-1", "mg/kg"), portion(), natural_strength(35, 41.3)).error().code,
              bw::ProblemCode::OutOfRange);
    EXPECT_EQ(worked_out(result("1", "mg/kg", "0"), portion(), natural_strength(35, 41.3))
                  .error()
                  .place.field,
              "dilution");
    EXPECT_EQ(worked_out(result("1", "ppm"), portion(), natural_strength(35, 41.3)).error().code,
              bw::ProblemCode::BadUnit);
}

TEST(TestResults, AreCheckedByAnotherThanWhoEnteredThem) {
    EXPECT_EQ(checked(result("1", "mg/kg"), "ana").error().code, bw::ProblemCode::Refused);
    const auto out = checked(result("1", "mg/kg"), "ben");
    ASSERT_TRUE(out);
    EXPECT_EQ(out->state, ResultState::Checked);
    EXPECT_EQ(out->checked_by, "ben");
}

// Every way between the states: only those of the vocabulary are open.
TEST(TestResults, MoveOnlyAlongTheirStates) {
    for (std::size_t s = 0; s < kWords<ResultState>; ++s) {
        TestResult r = result("1", "mg/kg");
        r.state = static_cast<ResultState>(s);
        EXPECT_EQ(bool(checked(r, "ben")), r.state == ResultState::Entered) << name(r.state);
        EXPECT_EQ(bool(counted(r)), r.state == ResultState::Checked) << name(r.state);
        EXPECT_EQ(bool(set_aside(r, "ben", "bubble in the cell")), r.state != ResultState::SetAside)
            << name(r.state);
        EXPECT_EQ(set_aside(r, "ben", "  ").error().code, r.state == ResultState::SetAside
                                                              ? bw::ProblemCode::Refused
                                                              : bw::ProblemCode::BadInput);
    }
}

TEST(TestPortions, AreSetAsideOnceWithACauseAndWithoutResultsInUse) {
    const PortionSetAside why{"ben", "2026-03-05T10:00:00.000Z", "spilt"};
    const std::vector<std::string> in_use = {"R26-0001-X/1", "R26-0001-X/2"};
    const auto used = set_aside(portion(), in_use, why);
    ASSERT_FALSE(used);
    EXPECT_EQ(used.error().code, bw::ProblemCode::Refused);
    EXPECT_THAT(used.error().message, HasSubstr("set aside R26-0001-X/1, R26-0001-X/2 first"));
    EXPECT_EQ(set_aside(portion(), {}, {"ben", why.at, " "}).error().code,
              bw::ProblemCode::BadInput);
    EXPECT_TRUE(may_be_tested(portion()));
    const auto aside = set_aside(portion(), {}, why);
    ASSERT_TRUE(aside);
    EXPECT_EQ(aside->set_aside->reason, "spilt");
    EXPECT_THAT(may_be_tested(*aside).error().message, HasSubstr("set aside (spilt)"));
    EXPECT_EQ(set_aside(*aside, {}, why).error().code, bw::ProblemCode::Refused);
}

TestRun run_of_three() {
    TestRun run;
    run.number = "R26-0001-X";
    run.entered_by = "ana";
    run.results = {result("1", "mg/kg"), result("2", "mg/kg"), result("3", "mg/kg")};
    return *read_run(run);
}

TEST(Runs, NumberTheirLinesAndAreReadOnce) {
    const TestRun run = run_of_three();
    EXPECT_EQ(run.state, RunState::Read);
    EXPECT_EQ(run.results[2].line, 3);
    EXPECT_EQ(read_run(run).error().code, bw::ProblemCode::Refused);
    EXPECT_EQ(read_run(TestRun{}).error().code, bw::ProblemCode::BadInput);
}

TEST(Runs, AreJudgedOnceNoResultWaits) {
    const std::vector<std::int64_t> two = {1, 2};
    auto run = check_results(run_of_three(), two, "ben");
    ASSERT_TRUE(run);
    EXPECT_EQ(run->state, RunState::Read);
    EXPECT_EQ(count_results(*run).error().code, bw::ProblemCode::Refused);
    run = set_aside_in(*run, std::array<std::int64_t, 1>{3}, "ben", "spilt");
    ASSERT_TRUE(run);
    EXPECT_EQ(run->state, RunState::Judged);
    run = count_results(*run);
    ASSERT_TRUE(run);
    EXPECT_EQ(run->results[0].state, ResultState::Counted);
    EXPECT_EQ(run->results[2].state, ResultState::SetAside);
    EXPECT_EQ(check_results(*run, {}, "ben").error().code, bw::ProblemCode::Refused);
}

TEST(Runs, CheckAllOrNothing) {
    TestRun run = run_of_three();
    run.results[1].entered_by = "ben";
    EXPECT_THAT(check_results(run, {}, "ben").error().message, HasSubstr("ben entered line 2"));
    const std::vector<std::int64_t> none_such = {9};
    EXPECT_EQ(check_results(run, none_such, "ben").error().code, bw::ProblemCode::NotFound);
}

TEST(Runs, LoseTheirSignatureWithACorrection) {
    TestRun run = *check_results(run_of_three(), {}, "ben");
    run = signed_run(*count_results(run), Signature{"ben", "Ben", "analyst", "counted", "", "ab"});
    EXPECT_EQ(run.state, RunState::Signed);
    TestResult next = run.results[0];
    next.digits = "1.1";
    EXPECT_EQ(correct_in(run, next, 1, "ana", "").error().code, bw::ProblemCode::BadInput);
    EXPECT_EQ(correct_in(run, run.results[0], 1, "ana", "typo").error().code,
              bw::ProblemCode::BadInput);
    const auto mended = correct_in(run, next, 1, "ana", "typo");
    ASSERT_TRUE(mended);
    EXPECT_EQ(mended->state, RunState::Read);
    EXPECT_FALSE(mended->approved);
    EXPECT_EQ(mended->results[0].state, ResultState::Entered);
    EXPECT_EQ(mended->results[0].entered_by, "ana");
    EXPECT_EQ(mended->results[0].reason, "typo");
    EXPECT_EQ(mended->results[1].state, ResultState::Counted);
    // What ana corrected, ana does not check, though ben entered it.
    EXPECT_FALSE(check_results(*mended, {}, "ana"));
    const auto aside = set_aside_in(run, std::array<std::int64_t, 1>{2}, "ben", "bubble");
    ASSERT_TRUE(aside);
    EXPECT_FALSE(aside->approved);
    EXPECT_EQ(aside->state, RunState::Judged);
    EXPECT_EQ(set_aside_in(run, {}, "ben", "bubble").error().code, bw::ProblemCode::BadInput);
    const std::vector<std::int64_t> one_missing = {2, 9};
    EXPECT_EQ(set_aside_in(run, one_missing, "ben", "bubble").error().code,
              bw::ProblemCode::NotFound);
}

/// Three results of Ca by M-07 and what a check sample read beside them.
TestRun run_with_check() {
    TestRun run = run_of_three();
    for (TestResult& r : run.results) {
        r.analyte = "Ca";
        r.method = "M-07";
    }
    run.results[2].analyte = "Mg";
    bw::works::CheckReading read;
    read.name = "QC-1";
    read.analyte = "Ca";
    read.method = "M-07";
    read.digits = "4.12";
    read.unit = "mg/kg";
    run.checks = {*bw::works::judged(read, {"QC-1", "Ca", "412 mg/kg", 1.5})};
    return run;
}

TEST(Runs, TakeACorrectionOfACheckSampleAndHaveItChecked) {
    const TestRun run = *check_results(run_with_check(), {}, "ben");
    EXPECT_EQ(count_results(run).error().code, bw::ProblemCode::Refused);
    bw::works::CheckReading next = run.checks[0];
    EXPECT_EQ(correct_check_in(run, next, "ana", "a point too far left").error().code,
              bw::ProblemCode::BadInput);
    next.digits = "412.9";
    next = *bw::works::judged(next, {"QC-1", "Ca", "412 mg/kg", 1.5});
    EXPECT_EQ(correct_check_in(run, next, "ana", " ").error().code, bw::ProblemCode::BadInput);
    const auto mended = correct_check_in(run, next, "ana", "a point too far left");
    ASSERT_TRUE(mended);
    EXPECT_EQ(mended->checks[0].corrected_by, "ana");
    EXPECT_EQ(mended->results[0].state, ResultState::Entered);
    EXPECT_EQ(mended->results[2].state, ResultState::Checked);  // Mg, of which it says nothing
    EXPECT_EQ(check_results(*mended, {}, "ana").error().code, bw::ProblemCode::Refused);
    EXPECT_TRUE(count_results(*check_results(*mended, {}, "ben")));
    next.name = "QC-9";
    EXPECT_EQ(correct_check_in(run, next, "ana", "typo").error().code, bw::ProblemCode::NotFound);
}

TEST(Runs, AreKnownAgainWhenTheyAreEnteredTwice) {
    TestRun run = run_of_three();
    for (std::size_t i = 0; i < run.results.size(); ++i) {
        run.results[i].portion = "S26-0001-X/" + std::to_string(i + 1);
    }
    TestRun part = run;
    part.results.pop_back();
    EXPECT_TRUE(repeats(run, run));
    EXPECT_TRUE(repeats(part, run));
    EXPECT_FALSE(repeats(run, part));
    TestRun other = run;
    other.results[1].digits = "1.2345";
    EXPECT_FALSE(repeats(other, run));
    part.results.pop_back();
    EXPECT_FALSE(repeats(part, run));  // one reading alone is alike by chance
    TestRun without = run;
    without.results[0].state = ResultState::SetAside;
    EXPECT_FALSE(repeats(run, without));
}

}  // namespace
