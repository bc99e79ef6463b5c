// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Readings, portions, samples, runs and versions of a method: what each counts, and that none of
// them hides what the tests show.
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "works/assessment.hpp"
#include "works/duplicate_remarks.hpp"

namespace {

using namespace bw::works;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double kTarget = 0.010;

struct Read {
    std::string sample;
    int portion;
    double mol_per_kg;
    std::string run = "R1";
};

PlacedResult placed(const Read& read, int line) {
    TestResult r;
    r.line = line;
    r.sample = read.sample;
    r.portion = read.sample + "/" + std::to_string(read.portion);
    r.analyte = "Ca";
    r.method = "M-07";
    r.u_percent = 0.5;
    r.repeatability_percent = 0.3;
    r.mol_per_kg = read.mol_per_kg;
    r.state = ResultState::Counted;
    return {read.run, r};
}

std::vector<PlacedResult> all(const std::vector<Read>& reads) {
    std::vector<PlacedResult> out;
    for (const Read& read : reads) {
        out.push_back(placed(read, static_cast<int>(out.size()) + 1));
    }
    return out;
}

Assessment assessed(const std::vector<PlacedResult>& results,
                    const Band& band = {"Ca", 0, "", ""}) {
    Limits l;
    l.product = "reef";
    l.bands = {band};
    const std::vector<Wanted> wanted = {{"Ca", kTarget}};
    const auto out = assess(l, wanted, results, 0);
    EXPECT_TRUE(out) << out.error().message;
    return out ? *out : Assessment{};
}

/// Sample S at so much of the target, twice, `apart` between the two.
void add(std::vector<Read>& reads, const std::string& sample, double times, double apart = 5e-6,
         const std::string& run = "R1", int first = 1) {
    reads.push_back({sample, first, kTarget * times - apart, run});
    reads.push_back({sample, first + 1, kTarget * times + apart, run});
}

TEST(MethodResults, ReadingAPortionAgainMakesNoFurtherResult) {
    // Ten readings of each of two portions are two results: u^2 = 0.5^2 - 0.3^2 + 0.3^2/2.
    std::vector<Read> reads;
    for (int i = 0; i < 10; ++i) {
        reads.push_back({"S1", 1, 0.01});
        reads.push_back({"S1", 2, 0.01});
    }
    const Tested t = assessed(all(reads)).elements.front();
    EXPECT_NEAR(t.u, 0.01 * std::sqrt(0.25 - 0.09 + 0.045) / 100, 1e-12);
    EXPECT_EQ(t.methods.front().results, 20);
    EXPECT_THAT(t.waits, IsEmpty());
    // One portion read twice is one portion still.
    EXPECT_THAT(assessed(all({{"S1", 1, 0.01}, {"S1", 1, 0.01}})).elements.front().waits,
                ElementsAre(HasSubstr("one test portion only")));
}

TEST(MethodResults, UnequalSamplesWeighAsTheirMeansDo) {
    // S1 once, S2 four times: each sample weighs a half, so sr^2 has (1/2)^2 + 4 (1/8)^2 = 0.3125.
    std::vector<Read> reads = {{"S1", 1, 0.01}};
    for (int i = 1; i <= 4; ++i) {
        reads.push_back({"S2", i, 0.01});
    }
    const Tested t = assessed(all(reads)).elements.front();
    EXPECT_NEAR(t.methods.front().u, 0.01 * std::sqrt(0.16 + 0.09 * 0.3125) / 100, 1e-12);
}

TEST(MethodResults, OfTwoVersionsTheLargerUncertaintyCountsAndBothAreNamed) {
    auto results = all({{"S1", 1, 0.01}, {"S1", 2, 0.01}, {"S1", 3, 0.01}, {"S1", 4, 0.01}});
    for (int i : {2, 3}) {
        auto& r = results[static_cast<std::size_t>(i)].is;
        r.method_number = 2;
        r.u_percent = 2;
        r.repeatability_percent = 1;
    }
    const Tested t = assessed(results).elements.front();
    // Shared: 2^2 - 1^2; within: (2 * 0.09 + 2 * 1)/16.
    EXPECT_NEAR(t.u, 0.01 * std::sqrt(3 + (0.18 + 2.0) / 16) / 100, 1e-12);
    EXPECT_THAT(t.notes, testing::Contains(HasSubstr("results of its versions 1, 2")));
    EXPECT_EQ(t.methods.front().method_number, 2);
}

TEST(MethodResults, OneMoreReadingDoesNotHideThatSamplesDiffer) {
    std::vector<Read> reads;
    add(reads, "S1", 0.9885);
    add(reads, "S2", 1.0);
    add(reads, "S3", 1.0095);
    const Assessment a = assessed(all(reads));
    ASSERT_EQ(a.spreads.size(), 1U);
    ASSERT_EQ(a.spreads.front().verdict, kNotHomogeneous);
    // Two more portions of one sample, in a run of their own; or one result set aside.
    std::vector<Read> more = reads;
    add(more, "S1", 0.9885, 5e-6, "R2", 3);
    EXPECT_EQ(assessed(all(more)).spreads.front().verdict, kNotHomogeneous);
    std::vector<PlacedResult> fewer = all(reads);
    fewer[5].is.state = ResultState::SetAside;
    const SampleSpread unequal = assessed(fewer).spreads.front();
    EXPECT_EQ(unequal.verdict, kNotHomogeneous);
    EXPECT_THAT(unequal.sentence, HasSubstr("test three samples or more in one run"));
}

TEST(MethodResults, SamplesAlikeToTheLastDigitEachTimeAreStillCompared) {
    std::vector<Read> reads;
    add(reads, "S1", 0.991, 0);
    add(reads, "S2", 1.0, 0);
    add(reads, "S3", 1.009, 0);
    const SampleSpread s = assessed(all(reads)).spreads.front();
    EXPECT_EQ(s.verdict, kNotHomogeneous);
    EXPECT_THAT(s.sentence, HasSubstr("alike to the last digit"));
    reads.clear();
    add(reads, "S1", 0.9995, 0);
    add(reads, "S2", 1.0, 0);
    add(reads, "S3", 1.0005, 0);
    EXPECT_EQ(assessed(all(reads)).spreads.front().verdict, "");
}

TEST(MethodResults, BelowTheLimitTheWorstSampleCounts) {
    auto results = all({{"S1", 1, 2e-6}, {"S1", 2, 1e-6}, {"S2", 1, 9e-6}, {"S2", 2, 8e-6}});
    for (PlacedResult& r : results) {
        r.is.below_limit = true;
    }
    const Band ceiling{"Ca", 0, "", "5 umol/kg"};
    const Tested t = assessed(results, ceiling).elements.front();
    EXPECT_NEAR(t.value, 8e-6, 1e-18);  // of S1 at most 1, of S2 at most 8
    EXPECT_EQ(t.verdict, Verdict::TooClose);
    results.resize(2);
    EXPECT_EQ(assessed(results, ceiling).elements.front().verdict, Verdict::Within);
    results.resize(1);
    const Tested one = assessed(results, ceiling).elements.front();
    EXPECT_EQ(one.verdict, Verdict::NotTested);
    EXPECT_THAT(one.waits, ElementsAre(HasSubstr("one test portion only")));
}

TEST(MethodResults, SayOfWhichElementsTheSamplesAreInTheUncertainty) {
    Limits l;
    l.product = "reef";
    l.bands = {{"Ca", 0, "", ""}, {"Mg", 0, "", ""}};
    std::vector<PlacedResult> results =
        all({{"S1", 1, 0.01}, {"S1", 2, 0.01}, {"S2", 1, 0.01}, {"S2", 2, 0.01}});
    for (int i : {0, 1}) {
        PlacedResult mg = results[static_cast<std::size_t>(i)];
        mg.is.analyte = "Mg";
        results.push_back(mg);
    }
    const std::vector<Wanted> wanted = {{"Ca", kTarget}, {"Mg", kTarget}};
    const auto out = assess(l, wanted, results, 0);
    ASSERT_TRUE(out);
    EXPECT_EQ(
        out->sampling,
        "how the samples differ is in the uncertainties of Ca, as they show it; one sample of "
        "Mg: how far it lies from the batch is not in the uncertainties");
}

std::vector<DuplicateRemark> remarked(std::vector<PlacedResult> results) {
    for (PlacedResult& r : results) {
        r.is.state = ResultState::Entered;
    }
    auto out = duplicate_remarks(results);
    EXPECT_TRUE(out) << out.error().message;
    return out ? *out : std::vector<DuplicateRemark>{};
}

TEST(DuplicateRemarks, CompareReadingsOfOnePortionToo) {
    // 0.9 % apart on one solution, and 2.77 times 0.3 % are allowed.
    const auto far = all({{"S1", 1, 0.00996}, {"S1", 1, 0.01005}});
    const auto remarks = remarked(far);
    ASSERT_EQ(remarks.size(), 1U);
    EXPECT_NEAR(remarks[0].apart_percent, 0.8996, 1e-3);
    EXPECT_NEAR(remarks[0].allowed_percent, 0.8316, 1e-3);
    EXPECT_THAT(remarks[0].results, ElementsAre("R1/1", "R1/2"));
    EXPECT_THAT(remarks[0].sentence,
                HasSubstr("test portion S1/1: two readings of one solution 0.90 % apart, and the "
                          "method's repeatability allows 0.83 %: read it again"));
    EXPECT_THAT(remarked(all({{"S1", 1, 0.00998}, {"S1", 1, 0.01002}})), IsEmpty());
    auto stated = far;
    for (PlacedResult& r : stated) {
        r.is.repeatability_percent = 0;
    }
    EXPECT_THAT(remarked(stated), IsEmpty()) << "nothing to compare by";
}

TEST(MethodResults, AReleaseWaitsForTwoReadingsOfAPortionThatDoNotAgree) {
    std::vector<Read> reads = {{"S1", 1, 0.00995}, {"S1", 1, 0.01005}, {"S1", 2, 0.01}};
    EXPECT_THAT(assessed(all(reads)).elements.front().waits,
                ElementsAre(HasSubstr("test portion S1/1: two readings of one solution")));
    reads.push_back({"S1", 1, 0.01});  // a third: told, and nothing waits for what has no cause
    const Tested t = assessed(all(reads)).elements.front();
    EXPECT_THAT(t.waits, IsEmpty());
    EXPECT_THAT(t.notes, ElementsAre(HasSubstr("3 readings of one solution 1.00 % apart, and the "
                                               "method's repeatability allows 0.99 %")));
    std::vector<PlacedResult> aside = all(reads);
    aside.front().is.state = ResultState::SetAside;
    EXPECT_THAT(assessed(aside).elements.front().notes, IsEmpty());
}

TEST(DuplicateRemarks, SayAtEntryWhatAReleaseWouldWaitFor) {
    // 0.9 % apart, and 2.77 times 0.3 % are allowed.
    const auto far = all({{"S1", 1, 0.00996}, {"S1", 2, 0.01005}});
    const auto remarks = remarked(far);
    ASSERT_EQ(remarks.size(), 1U);
    EXPECT_NEAR(remarks[0].apart_percent, 0.8996, 1e-3);
    EXPECT_NEAR(remarks[0].allowed_percent, 0.8316, 1e-3);
    EXPECT_THAT(remarks[0].results, ElementsAre("R1/1", "R1/2"));
    EXPECT_EQ(remarks[0].sample, "S1");
    EXPECT_THAT(remarks[0].sentence, HasSubstr("0.90 % apart, and the method's repeatability "
                                               "allows 0.83 %: two more are wanted"));
    // The words are those of the release.
    const std::string waits = assessed(far).elements.front().waits.front();
    EXPECT_EQ(waits.substr(waits.find(':')),
              remarks[0].sentence.substr(remarks[0].sentence.find(':')));
    // What agrees is not remarked, nor what is of two samples.
    EXPECT_THAT(remarked(all({{"S1", 1, 0.00998}, {"S1", 2, 0.01005}})), IsEmpty());
    EXPECT_THAT(remarked(all({{"S1", 1, 0.00996}, {"S2", 1, 0.01005}})), IsEmpty());
    EXPECT_THAT(remarked(all({{"S1", 1, 0.00996}})), IsEmpty());
}

TEST(DuplicateRemarks, LeaveOutWhatIsSetAsideAndWhatIsBelowItsLimit) {
    auto results = all({{"S1", 1, 0.00996}, {"S1", 2, 0.01005}});
    results[1].is.state = ResultState::SetAside;
    const auto aside = duplicate_remarks(results);
    ASSERT_TRUE(aside);
    EXPECT_THAT(*aside, IsEmpty());
    results = all({{"S1", 1, 0.00996}, {"S1", 2, 0.01005}});
    results[0].is.below_limit = true;
    EXPECT_THAT(remarked(results), IsEmpty());
}

TEST(DuplicateRemarks, BelongToEachRunThatHasAPartInThem) {
    const auto remarks =
        remarked(all({{"S1", 1, 0.00996, "R1"}, {"S1", 2, 0.01015, "R2"}, {"S2", 1, 0.01, "R3"}}));
    ASSERT_EQ(remarks.size(), 1U);
    EXPECT_EQ(remarks_on(remarks, "R1").size(), 1U);
    EXPECT_EQ(remarks_on(remarks, "R2").size(), 1U);
    EXPECT_THAT(remarks_on(remarks, "R3"), IsEmpty());
    EXPECT_THAT(remarks[0].sentence, HasSubstr("of 2 runs"));
}

TEST(DuplicateRemarks, OfThreeTheNumbersAreToldAndAFourthIsWanted) {
    const auto remarks =
        remarked(all({{"S1", 1, 0.00996}, {"S1", 2, 0.01008}, {"S1", 3, 0.01004}}));
    ASSERT_EQ(remarks.size(), 1U);
    // The critical range of three: 3.31 times 0.3 %.
    EXPECT_NEAR(remarks[0].allowed_percent, 0.994, 2e-3);
    EXPECT_THAT(remarks[0].sentence, HasSubstr("a fourth is wanted"));
}

}  // namespace
