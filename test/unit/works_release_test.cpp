// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Release: the full matrix of decision, state and who; every open item blocks; evidence and
// certificates.
#include <algorithm>
#include <array>
#include <functional>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "works/certificate.hpp"
#include "works/evidence.hpp"
#include "works/release.hpp"

namespace {

using namespace bw::works;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// A batch with nothing open: planned by pia, weighed by otto, blended by bob, sampled by sam,
/// dissolved by dan, tested by ana.
BatchFile good() {
    BatchFile f;
    f.batch.number = "B26-0001-K";
    f.batch.state = BatchState::Ready;
    f.batch.planned_by = "pia";
    f.batch.blended_by = "bob";
    f.batch.yield = Yield{};
    Addition a;
    a.step = 1;
    a.material = "sodium chloride";
    a.lot = "L1";
    a.target_kg = 10;
    a.tolerance_kg = 0.01;
    f.batch.additions = {a};
    Weighing w;
    w.batch = f.batch.number;
    w.step = 1;
    w.net_kg = 10.005;
    w.by = "otto";
    f.weighings = {w};
    Sample s;
    s.taken_by = "sam";
    f.samples = {s};
    TestPortion p;
    p.by = "dan";
    p.sample = "S1";
    TestPortion second = p;
    second.number = 2;
    f.portions = {p, second};
    TestResult r;
    r.line = 1;
    r.analyte = "Ca";
    r.state = ResultState::Counted;
    r.entered_by = "ana";
    r.portion = p.id();
    TestResult other = r;
    other.line = 2;
    other.portion = second.id();
    f.results = {{"R1", r}, {"R1", other}};
    f.limits = Limits{};
    f.limits->bands = {{"Ca", 0, "", ""}};
    Tested t;
    t.symbol = "Ca";
    t.verdict = Verdict::Within;
    t.probability = 0.99;
    f.assessment.elements = {t};
    f.assessment.probability = 0.99;
    return f;
}

std::vector<OpenKind> kinds(const BatchFile& f) {
    std::vector<OpenKind> out;
    for (const OpenItem& item : open_items(f)) {
        out.push_back(item.kind);
    }
    return out;
}

constexpr std::array kDecisions = {Decision::Release, Decision::Hold, Decision::Reject,
                                   Decision::Rework};

TEST(Releases, AreDecidedOnlyOfReadyOrHeldBatches) {
    for (const bool stale : {false, true}) {
        for (std::size_t s = 0; s < kWords<BatchState>; ++s) {
            for (const Decision d : kDecisions) {
                BatchFile f = good();
                f.batch.state = static_cast<BatchState>(s);
                const bool ready = f.batch.state == BatchState::Ready;
                const bool held = f.batch.state == BatchState::OnHold && d != Decision::Hold;
                const bool again = stale && f.batch.state == BatchState::Released;
                const auto out = may_decide(f, d, "quinn", "a reason", stale);
                EXPECT_EQ(bool(out), ready || held || again)
                    << name(f.batch.state) << " " << name(d) << " stale " << stale;
                if (!out) {
                    EXPECT_EQ(out.error().code, bw::ProblemCode::Refused);
                    continue;
                }
                const auto next = decided(f.batch, d, stale);
                ASSERT_TRUE(next) << name(f.batch.state) << " " << name(d);
                EXPECT_EQ(next->state, d == Decision::Release ? BatchState::Released
                                       : d == Decision::Hold  ? BatchState::OnHold
                                                              : BatchState::Rejected);
            }
        }
    }
}

TEST(Releases, AreNeverOfOnesOwnWork) {
    for (const char* who : {"pia", "otto", "bob", "sam", "dan", "ana"}) {
        for (const BatchState state : {BatchState::Ready, BatchState::OnHold}) {
            BatchFile f = good();
            f.batch.state = state;
            const auto out = may_decide(f, Decision::Release, who, "", false);
            ASSERT_FALSE(out) << who;
            EXPECT_EQ(out.error().code, bw::ProblemCode::Refused);
            EXPECT_THAT(out.error().message, HasSubstr(who));
        }
        BatchFile f = good();
        f.batch.state = BatchState::Released;
        EXPECT_FALSE(may_decide(f, Decision::Release, who, "", true)) << who;
    }
    EXPECT_TRUE(may_decide(good(), Decision::Release, "quinn", ""));
}

// Which duty may decide is a matter of works/person: only one that makes and tests nothing.
TEST(Releases, BelongToADutyThatNeitherMakesNorTests) {
    for (std::size_t d = 0; d < kWords<Duty>; ++d) {
        const Duty duty = static_cast<Duty>(d);
        EXPECT_EQ(may(duty, Deed::DecideRelease), duty == Duty::QualityManager) << name(duty);
        if (!may(duty, Deed::DecideRelease)) {
            continue;
        }
        for (const Deed deed : {Deed::PlanBatch, Deed::Weigh, Deed::CloseBatch, Deed::TakeSample,
                                Deed::EnterResults}) {
            EXPECT_FALSE(may(duty, deed)) << name(duty) << ", " << name(deed);
        }
    }
}

TEST(Releases, NeedAReasonUnlessTheyRelease) {
    for (const Decision d : kDecisions) {
        const auto out = may_decide(good(), d, "quinn", " ");
        EXPECT_EQ(bool(out), d == Decision::Release) << name(d);
        if (!out) {
            EXPECT_EQ(out.error().code, bw::ProblemCode::BadInput);
        }
    }
}

/// Every way to leave something open, and what it is called.
struct Leaving {
    OpenKind kind;
    std::function<void(BatchFile&)> leave;
};

std::vector<Leaving> leavings() {
    using enum OpenKind;
    return {
        {OpenDeparture, [](BatchFile& f) { f.departures.emplace_back(); }},
        {NotApproved, [](BatchFile& f) { f.batch.changes.emplace_back(); }},
        {NotWeighed, [](BatchFile& f) { f.weighings.clear(); }},
        {OutsideTolerance, [](BatchFile& f) { f.weighings[0].net_kg = 10.02; }},
        {NotClosed, [](BatchFile& f) { f.batch.yield.reset(); }},
        {NoSample, [](BatchFile& f) { f.samples.clear(); }},
        {FewPortions, [](BatchFile& f) { f.portions.pop_back(); }},
        {NoLimits, [](BatchFile& f) { f.limits.reset(); }},
        {NotChecked, [](BatchFile& f) { f.results[0].is.state = ResultState::Entered; }},
        {NotChecked, [](BatchFile& f) { f.results[0].is.state = ResultState::Checked; }},
        {NotTested, [](BatchFile& f) { f.assessment.elements[0].verdict = Verdict::NotTested; }},
        {Waits, [](BatchFile& f) { f.assessment.elements[0].waits = {"two more"}; }},
        {NotWithin, [](BatchFile& f) { f.assessment.elements[0].verdict = Verdict::TooClose; }},
        {NotWithin, [](BatchFile& f) { f.assessment.elements[0].verdict = Verdict::Outside; }},
        {NotHomogeneous,
         [](BatchFile& f) {
             SampleSpread s;
             s.verdict = kNotHomogeneous;
             f.assessment.spreads = {s};
         }},
        {NotBalanced, [](BatchFile& f) { f.assessment.charges.verdict = "act"; }},
        {FaultSeen, [](BatchFile& f) { f.fault = "5 % too little of the magnesium salt"; }},
        {FewPortions, [](BatchFile& f) { f.results[1].is.state = ResultState::SetAside; }},
        {NotSigned, [](BatchFile& f) { f.unsigned_runs = {"R26-0001-X"}; }},
        {NotJointly, [](BatchFile& f) { f.limits->joint_least = 0.995; }},
    };
}

TEST(Releases, AreBlockedByEveryOpenItem) {
    EXPECT_THAT(kinds(good()), IsEmpty());
    for (const Leaving& leaving : leavings()) {
        BatchFile f = good();
        leaving.leave(f);
        EXPECT_THAT(kinds(f), ElementsAre(leaving.kind));
        const auto out = may_decide(f, Decision::Release, "quinn", "");
        ASSERT_FALSE(out) << name(leaving.kind);
        EXPECT_EQ(out.error().code, bw::ProblemCode::Refused);
        EXPECT_THAT(out.error().message, HasSubstr(open_items(f).front().sentence));
        EXPECT_TRUE(may_decide(f, Decision::Hold, "quinn", "open")) << name(leaving.kind);
    }
}

TEST(Releases, SayWhatABatchUnderTestWaitsForARunInOneSentence) {
    BatchFile f = good();
    f.batch.state = BatchState::UnderTest;
    f.results = {{"R1", {}}, {"R1", {}}, {"R1", {}}, {"R2", {}}};
    for (std::size_t i = 0; i < f.results.size(); ++i) {
        f.results[i].is.line = static_cast<int>(i);
        f.results[i].is.analyte = i % 2 == 0 ? "Ca" : "Mg";
    }
    f.results[3].is.state = ResultState::Checked;
    f.limits->bands = {{"Ca", 0, "", ""}, {"Br", 0, "", ""}, {"F", 0, "", ""}};
    Tested t;
    t.verdict = Verdict::NotTested;
    for (const char* symbol : {"Br", "F"}) {
        t.symbol = symbol;
        f.assessment.elements.push_back(t);
    }
    std::vector<std::string> sentences;
    for (const OpenItem& item : open_items(f)) {
        sentences.push_back(item.sentence);
    }
    const std::string entered = "3 results of run R1, Ca and Mg, are entered and not counted";
    const std::string checked = "result R2/3, Mg, is checked and not counted";
    EXPECT_THAT(sentences, ElementsAre(HasSubstr("test portions"), entered, checked,
                                       "Br and F are not tested"));
    const auto out = may_decide(f, Decision::Release, "quinn", "");
    ASSERT_FALSE(out);
    EXPECT_EQ(out.error().message, fmt::format("batch {} is under test: there is nothing to "
                                               "release as long as {}; {}; Br and F are not tested",
                                               f.batch.number, entered, checked));
    BatchFile whole = good();
    whole.batch.state = BatchState::UnderTest;
    EXPECT_THAT(may_decide(whole, Decision::Hold, "quinn", "why").error().message,
                HasSubstr("there is nothing to hold before its tests are counted"));
}

TEST(Releases, TakeAWeighingBesideItsToleranceWithAClosedDepartureOnly) {
    for (std::size_t s = 0; s < kWords<DepartureState>; ++s) {
        BatchFile f = good();
        f.weighings[0].net_kg = 10.02;
        Departure d;
        d.subject_kind = kAddition;
        d.subject = "B26-0001-K/1";
        d.state = static_cast<DepartureState>(s);
        f.departures = {d};
        EXPECT_EQ(kinds(f).empty(), d.state == DepartureState::Closed) << name(d.state);
        f.departures[0].subject = "B26-0001-K/2";
        EXPECT_FALSE(kinds(f).empty());
    }
}

TEST(Releases, AreHeldByWhatTheTestsShowUntilAClosedDepartureSpeaksOfThat) {
    using enum OpenKind;
    const std::vector<std::pair<OpenKind, Concern>> held = {{NotHomogeneous, Concern::Samples},
                                                            {NotBalanced, Concern::Charges},
                                                            {FaultSeen, Concern::Fault}};
    for (const Leaving& leaving : leavings()) {
        const auto it = std::find_if(held.begin(), held.end(),
                                     [&](const auto& h) { return h.first == leaving.kind; });
        if (it == held.end()) {
            continue;
        }
        for (std::size_t c = 0; c < kWords<Concern>; ++c) {
            BatchFile f = good();
            leaving.leave(f);
            Departure d;
            d.subject_kind = "batch";
            d.about = static_cast<Concern>(c);
            d.state = DepartureState::Closed;
            d.over = seen_of(f, it->second);
            f.departures = {d};
            EXPECT_EQ(kinds(f).empty(), d.about == it->second)
                << name(leaving.kind) << " spoken of about " << name(d.about);
            // Closed before it was to be seen, or over something else: it lifts nothing.
            f.departures[0].over = {"another sentence"};
            EXPECT_THAT(kinds(f), ElementsAre(leaving.kind));
            f.departures[0].over = d.over;
            f.departures[0].state = DepartureState::Answered;
            EXPECT_FALSE(kinds(f).empty());
        }
    }
}

TEST(Releases, AreProposedByTheVerdicts) {
    BatchFile f = good();
    EXPECT_EQ(proposal_for(f).decision, Decision::Release);
    f.assessment.elements[0].verdict = Verdict::TooClose;
    EXPECT_EQ(proposal_for(f).decision, Decision::Hold);
    f.assessment.elements[0].verdict = Verdict::Outside;
    EXPECT_EQ(proposal_for(f).decision, Decision::Reject);
    EXPECT_THAT(proposal_for(f).why, HasSubstr("Ca"));
    f.assessment.elements[0].waits = {"160 % apart: two more are wanted"};  // no mean to reject by
    EXPECT_EQ(proposal_for(f).decision, Decision::Hold);
    EXPECT_THAT(proposal_for(f).why, HasSubstr("two more are wanted"));
}

TEST(EvidenceOfReleases, TellsWhatHasChanged) {
    std::vector<Pinned> then = {{"weighing", "B1/1.1", 1, "aa"}, {"result", "R1/1", 2, "bb"}};
    std::vector<Pinned> now = then;
    now[0].version = 4;  // a version without another content is no change
    EXPECT_THAT(changed_since(then, now), IsEmpty());
    now[1].content = "cc";
    now[1].version = 3;
    EXPECT_THAT(changed_since(then, now),
                ElementsAre(HasSubstr("result R1/1 has changed since: version 2")));
    now.push_back({"departure", "D1", 1, "dd"});
    now.erase(now.begin());
    EXPECT_THAT(changed_since(then, now),
                ElementsAre(HasSubstr("weighing B1/1.1 no longer"), HasSubstr("result"),
                            HasSubstr("departure D1 has come")));
    sort_pinned(now);
    EXPECT_EQ(now.front().kind, "departure");
}

TEST(Certificates, AreReplacedOrWithdrawnOnceWithAReason) {
    for (std::size_t s = 0; s < kWords<CertificateState>; ++s) {
        for (const CertificateState to :
             {CertificateState::Issued, CertificateState::Replaced, CertificateState::Withdrawn}) {
            Certificate c;
            c.number = "C26-0001-K";
            c.state = static_cast<CertificateState>(s);
            const bool open = c.state == CertificateState::Issued && to != CertificateState::Issued;
            EXPECT_EQ(bool(ended(c, to, "quinn", "2026", "wrong unit")), open)
                << name(c.state) << " to " << name(to);
            EXPECT_FALSE(ended(c, to, "quinn", "2026", ""));
        }
    }
}

TEST(Certificates, HaveACodeThatIsReadAsPeopleTypeIt) {
    const std::string code = verification_code("9f3a6b1c22d04e57ffff");
    EXPECT_EQ(code, "9f3a-6b1c-22d0-4e57");
    EXPECT_TRUE(is_code("9F3A 6B1C 22D0 4E57", code));
    EXPECT_TRUE(is_code("9f3a6b1c22d04e57", code));
    EXPECT_FALSE(is_code("9f3a-6b1c-22d0-4e58", code));
    EXPECT_FALSE(is_code("", code));
    EXPECT_FALSE(is_code("", ""));
}

}  // namespace
