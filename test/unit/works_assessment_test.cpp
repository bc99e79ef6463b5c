// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Verdicts: duplicates, several methods, what is shared, all elements at once.
#include <cmath>
#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assay/conformity.hpp"
#include "figure.hpp"
#include "stat/draw.hpp"
#include "stat/normal.hpp"
#include "works/assessment.hpp"

namespace {

using namespace bw::works;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double kTarget = 0.010;

PlacedResult one(double mol_per_kg, int portion, const std::string& method = "M-07",
                 const std::string& analyte = "Ca") {
    TestResult r;
    r.line = portion;
    r.portion = "S1/" + std::to_string(portion);
    r.analyte = analyte;
    r.method = method;
    r.u_percent = 0.5;
    r.repeatability_percent = 0.3;
    r.mol_per_kg = mol_per_kg;
    r.state = ResultState::Counted;
    return {"R1", r};
}

Limits limits() {
    Limits l;
    l.product = "reef";
    l.bands = {{"Ca", 0, "", ""}};
    return l;
}

Tested assessed(const std::vector<PlacedResult>& results, double u_strength = 0,
                const Limits& of = limits()) {
    const std::vector<Wanted> wanted = {{"Ca", kTarget}};
    const auto out = assess(of, wanted, results, u_strength);
    EXPECT_TRUE(out) << out.error().message;
    return out ? out->elements.front() : Tested{};
}

TEST(Assessments, TakeTheMeanOfDuplicatesThatAgree) {
    const Tested t = assessed({one(0.01001, 1), one(0.01003, 2)});
    EXPECT_NEAR(t.value, 0.01002, 1e-15);
    EXPECT_EQ(t.methods.front().duplicates, "accepted");
    // u^2 = (0.5^2 - 0.3^2 + 0.3^2/2) % of the value, in squares.
    EXPECT_NEAR(t.u, 0.01002 * std::sqrt(0.25 - 0.09 + 0.045) / 100, 1e-12);
    EXPECT_EQ(t.verdict, Verdict::Within);
    EXPECT_THAT(t.waits, IsEmpty());
    EXPECT_THAT(t.results, ElementsAre("R1/1", "R1/2"));
}

TEST(Assessments, AskForTwoMoreAndNeverDropTheOddOne) {
    // 0.9 % apart; the critical range of two is 2.77 times 0.3 %.
    const Tested two = assessed({one(0.00996, 1), one(0.01005, 2)});
    ASSERT_EQ(two.waits.size(), 1U);
    EXPECT_THAT(two.waits.front(), HasSubstr("two more"));
    const Tested three = assessed({one(0.00996, 1), one(0.01005, 2), one(0.01004, 3)});
    ASSERT_EQ(three.waits.size(), 1U);
    EXPECT_THAT(three.waits.front(), HasSubstr("a fourth"));
    // Range of four: 0.9 %, within 3.63 times 0.3 %: the mean stands.
    const Tested four =
        assessed({one(0.00996, 1), one(0.01005, 2), one(0.01004, 3), one(0.01003, 4)});
    EXPECT_THAT(four.waits, IsEmpty());
    EXPECT_NEAR(four.value, 0.01002, 1e-15);
    // 2 % apart: the median of four, said so.
    const Tested apart =
        assessed({one(0.00990, 1), one(0.01010, 2), one(0.01004, 3), one(0.01003, 4)});
    EXPECT_EQ(apart.methods.front().duplicates, "median");
    EXPECT_NEAR(apart.value, 0.010035, 1e-15);
    EXPECT_THAT(apart.notes.front(), HasSubstr("median"));
    EXPECT_GT(apart.u, four.u);
}

TEST(Assessments, NameTheOneOfFourThatStandsOut) {
    // Grubbs by hand: mean 0.010275, s 5.5e-4, G = 0.000825/0.00055 = 1.5; critical 1.481 of four
    // at 5 % on both sides, by (n-1)/sqrt n sqrt(t^2/(n-2+t^2)) with t(0.00625; 2) = 8.860
    // (computed for this test, not read in a table).
    const Tested t = assessed({one(0.0100, 1), one(0.0100, 2), one(0.0100, 3), one(0.0111, 4)});
    ASSERT_FALSE(t.notes.empty());
    EXPECT_THAT(t.notes.front(), HasSubstr("R1/4 stands out (Grubbs: 1.500, critical 1.481"));
    EXPECT_EQ(t.results.size(), 4U);  // nothing is set aside for it
    const Tested even = assessed({one(0.0100, 1), one(0.0101, 2), one(0.0102, 3), one(0.0103, 4)});
    for (const std::string& note : even.notes) {
        EXPECT_EQ(note.find("Grubbs"), std::string::npos);
    }
}

Charges charges(double sodium, double chloride, bool with_chloride = true) {
    const std::vector<Wanted> wanted = {{"Na", 0.5}, {"Cl", 0.499}, {"Br", 0.001}};
    Limits of;
    of.product = "reef";
    of.bands = {{"Na", 0, "", ""}, {"Cl", 0, "", ""}};
    std::vector<PlacedResult> results = {one(sodium, 1, "M", "Na"), one(sodium, 2, "M", "Na")};
    if (with_chloride) {
        results.push_back(one(chloride, 1, "M", "Cl"));
        results.push_back(one(chloride, 2, "M", "Cl"));
    }
    const auto out = assess(of, wanted, results, 0.02);
    EXPECT_TRUE(out) << out.error().message;
    return out ? out->charges : Charges{};
}

TEST(Charges, AreBalancedByWhatWasTestedAndTheTargetsOfTheLittleThatWasNot) {
    const Charges even = charges(0.5, 0.499);
    EXPECT_EQ(even.verdict, "balanced");
    EXPECT_NEAR(even.percent, 0, 1e-12);
    // u of a mean of two: sqrt(0.25 - 0.09 + 0.045) = 0.4528 %; the strength's 2 % cancels.
    const double u = 0.004528 * std::hypot(0.5, 0.499);
    EXPECT_NEAR(even.u_percent, 100 * std::hypot(u, 0.0001), 1e-4);
    EXPECT_EQ(charges(0.5075, 0.499).verdict, "warn");  // 0.0075/1.0075: 0.74 % against 2 * 0.32
    const Charges off = charges(0.515, 0.499);
    EXPECT_EQ(off.verdict, "act");
    EXPECT_NEAR(off.percent, 100 * 0.015 / 1.015, 1e-9);
    EXPECT_THAT(off.sentence, HasSubstr("may be wrong"));
}

TEST(Charges, AreNotBalancedWithoutAMainIon) {
    const Charges none = charges(0.5, 0, false);
    EXPECT_EQ(none.verdict, "");
    EXPECT_EQ(none.sentence, "no charge balance: of Cl no value counts yet");
}

PlacedResult of_sample(const std::string& sample, double mol_per_kg, int portion) {
    PlacedResult r = one(mol_per_kg, portion);
    r.is.sample = sample;
    r.is.portion = sample + "/" + std::to_string(portion);
    return r;
}

Assessment of_samples(const std::vector<std::vector<double>>& samples,
                      const Limits& of = limits()) {
    std::vector<PlacedResult> results;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        for (std::size_t k = 0; k < samples[i].size(); ++k) {
            results.push_back(
                of_sample("S" + std::to_string(i + 1), samples[i][k], static_cast<int>(k) + 1));
        }
    }
    const std::vector<Wanted> wanted = {{"Ca", kTarget}};
    const auto out = assess(of, wanted, results, 0);
    EXPECT_TRUE(out) << out.error().message;
    return out ? *out : Assessment{};
}

TEST(Samples, ThatDifferAddWhatTheyShowToTheUncertainty) {
    // Means 0.01000, 0.01004, 0.01008, each pair 0.00002 apart: MSw = 2e-10, MSb = 2 * (4e-5)^2 =
    // 3.2e-9, between^2 = (3.2e-9 - 2e-10)/2 = 1.5e-9; hidden sqrt(1e-10) (2/3)^(1/4) is less.
    const Assessment a = of_samples({{0.00999, 0.01001}, {0.01003, 0.01005}, {0.01007, 0.01009}});
    const Tested& t = a.elements.front();
    EXPECT_NEAR(t.value, 0.01004, 1e-15);
    EXPECT_NEAR(t.u_sampling, std::sqrt(1.5e-9 / 3), 1e-12);
    const double test = 0.01004 * std::sqrt(0.25 - 0.09 + 0.09 / 6) / 100;
    EXPECT_NEAR(t.u_own, std::hypot(test, t.u_sampling), 1e-12);
    EXPECT_THAT(t.waits, IsEmpty());
    ASSERT_EQ(a.spreads.size(), 1U);
    EXPECT_EQ(a.spreads.front().samples, 3);
    EXPECT_EQ(a.spreads.front().results, 6);
    EXPECT_NEAR(a.spreads.front().between_percent, 100 * std::sqrt(1.5e-9) / 0.01004, 1e-9);
    EXPECT_EQ(a.spreads.front().verdict, "homogeneous");
    EXPECT_THAT(a.sampling, HasSubstr("as they show it"));
    // Three samples: 2 degrees of freedom of u_sampling, by Welch and Satterthwaite 2 (u/us)^4.
    EXPECT_EQ(t.sampling_freedom, 2);
    ASSERT_TRUE(t.freedom);
    EXPECT_NEAR(*t.freedom, 2 * std::pow(t.u / t.u_sampling, 4), 1e-9);
}

TEST(Samples, ThatAreFewAndDifferWidenTheCoverage) {
    // [jcgm-100] table G.2 at 95.45 %: 2 degrees of freedom 4.53, 3: 3.31, 8: 2.37, 50: 2.05.
    const auto k_of = [](double freedom) {
        // Guarded limits of 0.95 and 1.05 with u = 0.01: the acceptance limit tells the factor.
        const auto d = bw::assay::decide({1, 0.01, freedom}, {0.95, 1.05}, {});
        return (*d->accept_low - 0.95) / 0.01;
    };
    EXPECT_NEAR(k_of(2), 4.53, 0.005);
    EXPECT_NEAR(k_of(3), 3.31, 0.005);
    EXPECT_NEAR(k_of(8), 2.37, 0.005);
    EXPECT_NEAR(k_of(50), 2.05, 0.005);
    const Assessment a = of_samples({{0.00995, 0.00997}, {0.01003, 0.01005}, {0.01007, 0.01009}});
    const Tested& t = a.elements.front();
    ASSERT_TRUE(t.freedom);
    EXPECT_GT(t.coverage, 2.1);
    EXPECT_NEAR(*t.accept_low - *t.low, t.coverage * t.u, 1e-12);
    // As the limits state it, it is known: k is 2.
    Limits stated = limits();
    stated.sampling_percent = 3;
    const Assessment known =
        of_samples({{0.00995, 0.00997}, {0.01003, 0.01005}, {0.01007, 0.01009}}, stated);
    EXPECT_FALSE(known.elements.front().freedom);
    EXPECT_EQ(known.elements.front().coverage, 2);
}

TEST(Samples, AreToldTogetherWhereTheyAreAlike) {
    SampleSpread alike;
    alike.symbol = "Ca";
    alike.method = "M-07";
    alike.verdict = kHomogeneous;
    alike.between_percent = 0.214;
    alike.goal_percent = 2;
    SampleSpread other = alike;
    other.symbol = "Mg";
    SampleSpread apart = alike;
    apart.verdict = kNotHomogeneous;
    apart.sentence = "Sr differs";
    EXPECT_THAT(told_of({alike, apart, other}),
                ElementsAre("Sr differs",
                            "homogeneous, for samples differ by (standard deviation, the method's "
                            "share off): Ca by M-07 0.21 % (goal 2 %), Mg by M-07 0.21 % (goal 2 "
                            "%)"));
    EXPECT_THAT(told_of({}), IsEmpty());
}

TEST(Samples, AreNotHomogeneousWhereTheyDifferByMoreThanTheGoalAllows) {
    // Between: some 1.2 %, against 0.3 of the goal's sigma (1 %) with F1 = chi2(0.95; 2)/2 = 3.00:
    // 0.52 %.
    const Assessment a = of_samples({{0.00987, 0.00989}, {0.01000, 0.01002}, {0.01011, 0.01013}});
    EXPECT_EQ(a.spreads.front().verdict, kNotHomogeneous);
    EXPECT_THAT(a.spreads.front().sentence, HasSubstr("not homogeneous for the goal of 2"));
}

TEST(Samples, TestedOnceEachAreNoDuplicatesAndHaveNoVerdict) {
    // 0.9 % apart: two results on one sample would ask for two more.
    const Assessment a = of_samples({{0.00996}, {0.01005}});
    const Tested& t = a.elements.front();
    EXPECT_THAT(t.waits, IsEmpty());
    EXPECT_EQ(a.spreads.front().verdict, "");
    // sd of the two 9e-5/sqrt 2, less the stated 0.3 % in squares; the mean has it over sqrt 2.
    const double sr = 0.003 * 0.010005;
    EXPECT_NEAR(t.u_sampling, std::sqrt((9e-5 * 9e-5 / 2 - sr * sr) / 2), 1e-12);
}

TEST(Samples, AreJudgedAsDuplicatesEachForItself) {
    const Assessment a = of_samples({{0.00996, 0.01005}, {0.01000, 0.01001}});
    ASSERT_EQ(a.elements.front().waits.size(), 1U);
    EXPECT_THAT(a.elements.front().waits.front(), HasSubstr("two more"));
}

/// Each portion of a sample in the run of that number, or each sample in a run of its own.
Assessment of_runs(const std::vector<std::vector<double>>& samples, bool own, double between_runs) {
    std::vector<PlacedResult> results;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        for (std::size_t k = 0; k < samples[i].size(); ++k) {
            results.push_back(
                of_sample("S" + std::to_string(i + 1), samples[i][k], static_cast<int>(k) + 1));
            results.back().run = "R" + std::to_string((own ? i : k) + 1);
            results.back().is.between_runs_percent = between_runs;
        }
    }
    const std::vector<Wanted> wanted = {{"Ca", kTarget}};
    const auto out = assess(limits(), wanted, results, 0);
    EXPECT_TRUE(out) << out.error().message;
    return out ? *out : Assessment{};
}

TEST(Runs, ThatDifferAreInTheCriticalRangeWhereTheMethodStatesIt) {
    // 0.9 % apart. Within a run 2.77 * 0.3 = 0.83 % is allowed, between runs that differ by 0.3 %
    // 2.77 * sqrt(0.3^2 + 0.3^2) = 1.18 %.
    const Assessment stated = of_runs({{0.00996, 0.01005}}, false, 0.3);
    EXPECT_THAT(stated.elements.front().waits, IsEmpty());
    // u^2 = 0.5^2 - 0.3^2 - 0.3^2 + 0.3^2/2 + 0.3^2/2, for each run holds half of it.
    EXPECT_NEAR(stated.elements.front().u, 0.010005 * std::sqrt(0.25 - 0.18 + 0.09) / 100, 1e-12);
    // Both in one run: what differs between runs does not fall with their number.
    const Assessment one_run = of_runs({{0.01000, 0.01001}}, true, 0.3);
    EXPECT_NEAR(one_run.elements.front().u, 0.010005 * std::sqrt(0.25 - 0.09 + 0.045) / 100, 1e-12);
    const Assessment within = of_runs({{0.00996, 0.01005}}, true, 0.3);
    EXPECT_THAT(within.elements.front().waits,
                ElementsAre(HasSubstr(
                    "two results 0.90 % apart, and the method's repeatability allows 0.83 %")));
    const Assessment unstated = of_runs({{0.00996, 0.01005}}, false, 0);
    EXPECT_THAT(unstated.elements.front().waits,
                ElementsAre(HasSubstr("two results of 2 runs, and the method does not state what "
                                      "differs between runs, 0.90 % apart")));
}

TEST(Runs, OfEachSampleItsOwnGiveNoVerdictOnTheSamples) {
    const std::vector<std::vector<double>> apart = {
        {0.00994, 0.00996}, {0.01000, 0.01002}, {0.01003, 0.01005}};
    const Assessment a = of_runs(apart, true, 0.4);
    const SampleSpread& s = a.spreads.front();
    EXPECT_EQ(s.verdict, "");
    EXPECT_EQ(s.runs, 3);
    EXPECT_THAT(
        s.sentence,
        HasSubstr("each was tested in a run of its own, and what differs between runs is taken off "
                  "as the method states it; no verdict: test three samples or more in one run"));
    // What the method states to differ between runs is taken off, in squares.
    const Assessment unstated = of_runs(apart, true, 0);
    const double off =
        std::pow(unstated.spreads.front().between_percent, 2) - std::pow(s.between_percent, 2);
    EXPECT_NEAR(off, 0.16, 1e-9);
    // Where each run holds every sample, runs do not set samples apart: nothing is taken off.
    const Assessment crossed = of_runs(apart, false, 0.4);
    EXPECT_NEAR(crossed.spreads.front().between_percent, unstated.spreads.front().between_percent,
                1e-12);
    EXPECT_EQ(crossed.spreads.front().verdict, "");
}

TEST(Samples, OfWhichThereIsOneCountAsTheLimitsState) {
    const Assessment unknown = of_samples({{0.01, 0.01}});
    EXPECT_EQ(unknown.elements.front().u_sampling, 0);
    EXPECT_THAT(unknown.sampling, HasSubstr("is not in the uncertainties"));
    Limits stated = limits();
    stated.sampling_percent = 0.4;
    const Assessment known = of_samples({{0.01, 0.01}}, stated);
    EXPECT_NEAR(known.elements.front().u_sampling, 0.00004, 1e-15);
    EXPECT_THAT(known.sampling, HasSubstr("0.4 % for one sample"));
    // Two samples that are alike by chance: the stated one, over sqrt 2, is the larger.
    const Assessment two = of_samples({{0.01}, {0.01}}, stated);
    EXPECT_NEAR(two.elements.front().u_sampling, 0.00004 / std::sqrt(2), 1e-15);
}

TEST(Samples, DoNotWidenTheChargeBalance) {
    const std::vector<Wanted> wanted = {{"Na", 0.5}, {"Cl", 0.5}};
    Limits of;
    of.bands = {{"Na", 0, "", ""}, {"Cl", 0, "", ""}};
    const std::vector<PlacedResult> results = {one(0.5, 1, "M", "Na"), one(0.5, 2, "M", "Na"),
                                               one(0.5, 1, "M", "Cl"), one(0.5, 2, "M", "Cl")};
    const double plain = assess(of, wanted, results, 0)->charges.u_percent;
    of.sampling_percent = 5;
    EXPECT_NEAR(assess(of, wanted, results, 0)->charges.u_percent, plain, 1e-9);
}

TEST(Assessments, WantASecondDissolution) {
    const Tested once = assessed({one(0.01, 1)});
    EXPECT_THAT(once.waits.front(), HasSubstr("a second"));
    const Tested twice_the_same = assessed({one(0.01, 1), one(0.01, 1)});
    EXPECT_THAT(twice_the_same.waits.front(), HasSubstr("a second"));
    const Tested twice = assessed({one(0.01, 1), one(0.01, 2)});
    EXPECT_TRUE(twice.waits.empty());
    bw::test::record({"Books", "no element of a batch is judged by one dissolution of its salt",
                      "each batch measured at least twice",
                      "1 dissolution waits for a second, so do 2 results of the same one; 2 "
                      "dissolutions are judged",
                      !once.waits.empty() && !twice_the_same.waits.empty() && twice.waits.empty()});
}

TEST(Assessments, CountOnlyCountedResults) {
    std::vector<PlacedResult> results = {one(0.01, 1), one(0.01, 2), one(0.02, 3), one(0.03, 4),
                                         one(0.04, 5)};
    results[2].is.state = ResultState::SetAside;
    results[3].is.state = ResultState::Entered;
    results[4].is.state = ResultState::Checked;
    EXPECT_NEAR(assessed(results).value, 0.01, 1e-15);
    EXPECT_EQ(assessed({}).verdict, Verdict::NotTested);
}

TEST(Assessments, CombineMethodsByTheirUncertainty) {
    std::vector<PlacedResult> results = {one(0.01001, 1), one(0.01001, 2), one(0.01003, 1, "M-08"),
                                         one(0.01003, 2, "M-08")};
    for (std::size_t i = 2; i < 4; ++i) {
        results[i].is.u_percent = 1.0;
    }
    const Tested t = assessed(results);
    const double u1 = 0.01001 * std::sqrt(0.25 - 0.045) / 100;
    const double u2 = 0.01003 * std::sqrt(1.0 - 0.045) / 100;
    const double w1 = 1 / (u1 * u1);
    const double w2 = 1 / (u2 * u2);
    EXPECT_NEAR(t.value, (w1 * 0.01001 + w2 * 0.01003) / (w1 + w2), 1e-12);
    EXPECT_NEAR(t.u, 1 / std::sqrt(w1 + w2), 1e-12);
    EXPECT_THAT(t.notes, IsEmpty());
    results[2].is.mol_per_kg = results[3].is.mol_per_kg = 0.0105;
    EXPECT_THAT(assessed(results).notes.front(), HasSubstr("do not agree"));
}

TEST(Assessments, GiveTheThreeVerdicts) {
    const auto at = [](double x) { return assessed({one(x, 1), one(x, 2)}); };
    // +-2 % with u = 0.4528 %: guarded by 2 u, accepted within +-1.094 %; outside beyond 2.906 %.
    EXPECT_EQ(at(0.01010).verdict, Verdict::Within);
    EXPECT_EQ(at(0.01012).verdict, Verdict::TooClose);
    EXPECT_EQ(at(0.01025).verdict, Verdict::TooClose);
    EXPECT_EQ(at(0.01031).verdict, Verdict::Outside);
    EXPECT_EQ(at(0.00968).verdict, Verdict::Outside);
    Limits wide = limits();
    wide.percent = 0.5;
    EXPECT_TRUE(assessed({one(0.01, 1), one(0.01, 2)}, 0, wide).cannot_prove);
}

TEST(Assessments, KeepBelowLimitAsAnUpperLimit) {
    std::vector<PlacedResult> results = {one(4e-8, 1), one(3e-8, 2)};
    for (PlacedResult& r : results) {
        r.is.below_limit = true;
    }
    Limits most = limits();
    most.bands = {{"Ca", 0, "", "0.05 umol/kg"}};
    EXPECT_EQ(assessed(results, 0, most).verdict, Verdict::Within);
    EXPECT_TRUE(assessed(results, 0, most).below_limit);
    most.bands = {{"Ca", 0, "", "0.02 umol/kg"}};
    EXPECT_EQ(assessed(results, 0, most).verdict, Verdict::TooClose);
    EXPECT_EQ(assessed(results).verdict, Verdict::Outside);  // a target above all that can be there
    results[0].is.below_limit = false;
    EXPECT_THAT(assessed(results, 0, most).waits.front(), HasSubstr("some are not"));
}

TEST(Assessments, ShareTheStrengthsUncertainty) {
    const Tested t = assessed({one(0.01001, 1), one(0.01003, 2)}, 0.004);
    EXPECT_NEAR(t.u_common, 0.01002 * 0.004, 1e-15);
    EXPECT_NEAR(t.u, std::hypot(t.u_own, t.u_common), 1e-15);
}

Tested element(double value, double u_own, double low, double high) {
    Tested t;
    t.verdict = Verdict::Within;
    t.value = value;
    t.u_own = u_own;
    t.low = low;
    t.high = high;
    return t;
}

TEST(JointProbability, IsTheProductWhereNothingIsShared) {
    const std::vector<Tested> two = {element(1, 0.01, 0.98, 1.02), element(2, 0.02, 1.95, 2.03)};
    const double product =
        bw::stat::normal_inside(1, 0.01, 0.98, 1.02) * bw::stat::normal_inside(2, 0.02, 1.95, 2.03);
    EXPECT_NEAR(joint_probability(two, 0), product, 1e-9);
    EXPECT_NEAR(joint_probability({}, 0), 1, 1e-12);
}

TEST(JointProbability, OfOneElementIsThatOfItsWholeUncertainty) {
    const std::vector<Tested> one_only = {element(1.01, 0.006, 0.98, 1.02)};
    const double u = std::hypot(0.006, 1.01 * 0.008);
    EXPECT_NEAR(joint_probability(one_only, 0.008), bw::stat::normal_inside(1.01, u, 0.98, 1.02),
                1e-9);
}

TEST(JointProbability, OfFewSamplesGoesByStudentsT) {
    Tested few = element(1, 0.01, 0.98, 1.02);
    few.u_sampling = 0.01;
    few.sampling_freedom = 2;
    // Student's t with 2 degrees of freedom has the closed form F(t) = 1/2 + t/(2 sqrt(2 + t^2)).
    EXPECT_NEAR(joint_probability(std::vector{few}, 0), 2 / std::sqrt(6.0), 1e-9);
}

// Against a million draws of the shared and the own errors; four standard deviations of the draws.
TEST(JointProbability, AgreesWithSimulation) {
    const std::vector<Tested> elements = {element(1.012, 0.004, 0.98, 1.02),
                                          element(0.995, 0.006, 0.98, 1.02),
                                          element(1.005, 0.008, 0.98, 1.02)};
    constexpr double kShared = 0.006;
    constexpr std::size_t kDraws = 1'000'000;
    bw::stat::DrawStream stream(20260309, 1);
    std::vector<double> z(4);
    std::size_t inside = 0;
    for (std::size_t i = 0; i < kDraws; ++i) {
        stream.normal(z);
        bool all = true;
        for (std::size_t k = 0; k < elements.size(); ++k) {
            const double x = elements[k].value * (1 + kShared * z[3]) + elements[k].u_own * z[k];
            all = all && x >= *elements[k].low && x <= *elements[k].high;
        }
        inside += all ? 1 : 0;
    }
    const double p = static_cast<double>(inside) / kDraws;
    EXPECT_NEAR(joint_probability(elements, kShared), p, 4 * std::sqrt(p * (1 - p) / kDraws));
}

}  // namespace
