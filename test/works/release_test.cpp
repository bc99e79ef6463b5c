// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// From a plan to a signed release: what blocks it, who may, what it freezes, what makes it stale.
#include <gmock/gmock.h>

#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::AllOf;
using testing::EndsWith;
using testing::HasSubstr;
using testing::IsEmpty;
using works::BatchState;
using works::Decision;

class ReleaseDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
    }
};

BW_ON_BOTH(ReleaseDay);

TEST_P(ReleaseDay, GoesFromPlanToReleaseInItsStates) {
    const std::string batch = make_batch();
    EXPECT_EQ(state(batch), BatchState::Blended);
    const std::string sample = take_sample(batch);
    EXPECT_EQ(state(batch), BatchState::Sampled);
    const std::string one = dissolve(sample);
    EXPECT_EQ(one, sample + "/1");
    EXPECT_EQ(state(batch), BatchState::UnderTest);
    const std::string two = dissolve(sample);
    const std::string run = enter({one, two});
    EXPECT_EQ(state(batch), BatchState::UnderTest);
    count(run);
    EXPECT_EQ(state(batch), BatchState::Ready);
    const auto view = BW_MUST(service::show_release(*books_, batch));
    EXPECT_TRUE(view.open.empty());
    EXPECT_EQ(view.proposal.decision, Decision::Release);
    ASSERT_EQ(view.reading.file.assessment.elements.size(), 2U);
    const works::Tested& calcium = view.reading.file.assessment.elements[0];
    EXPECT_EQ(calcium.verdict, works::Verdict::Within);
    EXPECT_NEAR(calcium.value, kCalcium, 2e-5 * kCalcium);
    EXPECT_GT(view.reading.file.assessment.probability, 0.99);
    const auto receipt = BW_MUST(decide("quinn", batch));
    EXPECT_EQ(state(batch), BatchState::Released);
    const auto release = BW_MUST(service::kept<works::Release>(*books_, batch)).is;
    // The signature is of exactly the text that is frozen, and that is what was shown.
    EXPECT_EQ(release.evidence, view.text);
    EXPECT_EQ(release.approved.mark, store::sha256_hex(release.evidence));
    EXPECT_EQ(receipt.answer, view.mark);
    EXPECT_EQ(release.approved.duty, "quality manager");
    EXPECT_FALSE(BW_MUST(service::show_release(*books_, batch)).stale());
    EXPECT_TRUE(BW_MUST(books_->verify()).sound());
}

TEST_P(ReleaseDay, RefusesAWrongPasswordAndAnotherDuty) {
    const std::string batch = ready();
    const auto wrong = service::decide_release(desk("quinn"), {batch, Decision::Release, ""},
                                               {"another long password"}, intent());
    ASSERT_FALSE(wrong);
    EXPECT_EQ(wrong.error().code, ProblemCode::Refused);
    EXPECT_THAT(wrong.error().message, HasSubstr("password"));
    for (const char* who : {"ada", "pia", "rex", "otto", "ana", "ben"}) {
        const auto refused = decide(who, batch);
        ASSERT_FALSE(refused) << who;
        EXPECT_EQ(refused.error().code, ProblemCode::Refused);
        EXPECT_THAT(refused.error().message, HasSubstr("quality manager"));
    }
    EXPECT_EQ(state(batch), BatchState::Ready);
}

TEST_P(ReleaseDay, NobodyReleasesWhatTheyMadeEvenWithTheDuty) {
    using enum works::Duty;
    const std::string batch = ready();
    for (const char* who : {"pia", "otto", "ana"}) {
        add_person({who, "Of two duties", {Formulator, Operator, Analyst, QualityManager}});
        const auto refused = decide(who, batch);
        ASSERT_FALSE(refused) << who;
        EXPECT_THAT(refused.error().message, HasSubstr("own work"));
    }
}

TEST_P(ReleaseDay, ChecksAreBySomebodyElse) {
    const std::string batch = make_batch();
    const std::string run = test_twice(batch);
    EXPECT_EQ(service::check_run(desk("ana"), run, {}, intent()).error().code,
              ProblemCode::Refused);
    EXPECT_EQ(service::count_run(desk("ben"), run, signing(), intent()).error().code,
              ProblemCode::Refused);
    const auto refused = decide("quinn", batch);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("under test"));
}

TEST_P(ReleaseDay, SettingAnUnusedPortionAsideLeavesTheReleaseSigned) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string unused = test_all_but_one(sample);
    BW_MUST(decide("quinn", batch));
    BW_MUST(service::set_portion_aside(desk("ben"), unused, intent("never tested")));
    EXPECT_FALSE(BW_MUST(service::show_release(*books_, batch)).stale());
    // Whoever sets a portion aside has a hand in the batch.
    const auto hands = works::hands_of(BW_MUST(service::show_release(*books_, batch)).reading.file);
    EXPECT_TRUE(std::any_of(hands.begin(), hands.end(), [](const works::Hand& h) {
        return h.person == "ben" && h.did == "set aside a test portion of";
    }));
}

TEST_P(ReleaseDay, OpenItemsBlockAndHoldDoesNot) {
    const std::string batch = ready(1.018);  // within 2 %, not within the guard band
    const auto refused = decide("quinn", batch);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("Ca is too close to call"));
    EXPECT_EQ(decide("quinn", batch, Decision::Hold, "").error().code, ProblemCode::BadInput);
    BW_MUST(decide("quinn", batch, Decision::Hold, "calcium to be tested by titration"));
    EXPECT_EQ(state(batch), BatchState::OnHold);
    EXPECT_EQ(decide("quinn", batch, Decision::Hold, "again").error().code, ProblemCode::Refused);
    BW_MUST(decide("quinn", batch, Decision::Rework, "calcium too high"));
    EXPECT_EQ(state(batch), BatchState::Rejected);
    EXPECT_EQ(decide("quinn", batch).error().code, ProblemCode::Refused);
    // Both decisions stay in the books.
    EXPECT_EQ(BW_MUST(books_->history("release", batch)).size(), 2U);
}

TEST_P(ReleaseDay, AnOpenDepartureBlocks) {
    const std::string batch = ready();
    works::Departure d;
    d.subject_kind = "batch";
    d.subject = batch;
    d.batch = batch;
    d.what = "the sieve was found torn";
    const auto raised = BW_MUST(service::raise_departure(desk("otto"), d, intent()));
    const auto refused = decide("quinn", batch);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("sieve"));
    BW_MUST(service::answer_departure(desk("otto"), raised.answer, "sieved again", intent()));
    EXPECT_FALSE(decide("quinn", batch));
    BW_MUST(service::close_departure(desk("quade"), raised.answer, intent()));
    BW_MUST(decide("quinn", batch));
}

TEST_P(ReleaseDay, AWeighingBesideToleranceIsReleasedWithItsClosedDeparture) {
    const std::string batch = make_batch(2, 1.004);
    count(test_twice(batch));
    BW_MUST(decide("quinn", batch));
}

TEST_P(ReleaseDay, ALaterCorrectionMakesTheReleaseStale) {
    const std::string batch = make_batch();
    const std::string run = test_twice(batch);
    count(run);
    BW_MUST(decide("quinn", batch));
    BW_MUST(service::correct_result(desk("ana"), {run, 1, digits(kCalcium * 1.001), "", "", ""},
                                    intent("a digit was misread")));
    auto view = BW_MUST(service::show_release(*books_, batch));
    ASSERT_TRUE(view.stale());
    EXPECT_THAT(view.changed[0], HasSubstr("result " + run + "/1 has changed since"));
    EXPECT_EQ(state(batch), BatchState::Released);
    // Decided on anew only once the correction is checked and counted.
    EXPECT_FALSE(decide("quinn", batch));
    count(run);
    BW_MUST(decide("quinn", batch));
    view = BW_MUST(service::show_release(*books_, batch));
    EXPECT_FALSE(view.stale());
    EXPECT_EQ(view.decision->is.number, 2);
}

TEST_P(ReleaseDay, ADepartureAfterReleaseMakesItStale) {
    const std::string batch = ready();
    BW_MUST(decide("quinn", batch));
    works::Departure d;
    d.subject_kind = "batch";
    d.subject = batch;
    d.batch = batch;
    d.what = "a pack was found torn";
    BW_MUST(service::raise_departure(desk("otto"), d, intent()));
    EXPECT_TRUE(BW_MUST(service::show_release(*books_, batch)).stale());
    BW_MUST(decide("quinn", batch, Decision::Hold, "torn pack"));
    EXPECT_EQ(state(batch), BatchState::OnHold);
}

TEST_P(ReleaseDay, UsingUpALotAfterwardsDoesNotUnsign) {
    const std::string batch = ready();
    BW_MUST(decide("quinn", batch));
    BW_MUST(service::judge_lot(desk("ben"), "C26-0003", works::LotState::UsedUp, intent()));
    EXPECT_FALSE(BW_MUST(service::show_release(*books_, batch)).stale());
}

TEST_P(ReleaseDay, ALotHeldAfterwardsUnsignsAndLetsTheBatchBeHeld) {
    const std::string batch = ready();
    BW_MUST(decide("quinn", batch));
    BW_MUST(service::judge_lot(desk("quade"), "C26-0003", works::LotState::OnHold,
                               intent("the supplier has called it back")));
    const auto view = BW_MUST(service::show_release(*books_, batch));
    EXPECT_TRUE(view.stale());
    EXPECT_THAT(view.changed.back(),
                AllOf(HasSubstr("C26-0003"), HasSubstr("on hold"), HasSubstr("called it back")));
    ASSERT_EQ(view.open.size(), 1U);
    EXPECT_EQ(view.open[0].kind, works::OpenKind::LotHeld);
    EXPECT_FALSE(decide("quinn", batch));
    BW_MUST(decide("quinn", batch, Decision::Hold, "recall"));
    EXPECT_EQ(state(batch), BatchState::OnHold);
    BW_MUST(service::judge_lot(desk("quade"), "C26-0003", works::LotState::Accepted,
                               intent("analysed again: as certified")));
    BW_MUST(decide("quinn", batch));
    EXPECT_EQ(state(batch), BatchState::Released);
}

TEST_P(ReleaseDay, ALotHeldAndAcceptedAgainIsTold) {
    const std::string batch = ready();
    BW_MUST(decide("quinn", batch));
    EXPECT_THAT(BW_MUST(service::show_release(*books_, batch)).notices, IsEmpty());
    const auto judge = [&](works::LotState to, const std::string& why) {
        BW_MUST(service::judge_lot(desk("quade"), "C26-0003", to, intent(why)));
    };
    judge(works::LotState::OnHold, "called back");
    EXPECT_THAT(BW_MUST(service::show_release(*books_, batch)).notices, IsEmpty());
    judge(works::LotState::Accepted, "as certified");
    const auto again = BW_MUST(service::show_release(*books_, batch));
    EXPECT_FALSE(again.stale());
    ASSERT_EQ(again.notices.size(), 1U);
    EXPECT_EQ(again.notices[0],
              "lot C26-0003 of calcium chloride was put on hold on 2026-03-02 (called back) and "
              "accepted again on 2026-03-02 (as certified): the release did not hold in between, "
              "and holds again");
    judge(works::LotState::OnHold, "moist");
    BW_MUST(decide("quinn", batch, Decision::Hold, "moist"));
    judge(works::LotState::Accepted, "dried");
    const auto held = BW_MUST(service::show_release(*books_, batch));
    EXPECT_TRUE(held.stale());
    ASSERT_EQ(held.notices.size(), 1U);
    EXPECT_THAT(held.notices[0], EndsWith("accepted again on 2026-03-02 (dried)"));
    BW_MUST(decide("quinn", batch));
    EXPECT_THAT(BW_MUST(service::show_release(*books_, batch)).notices, IsEmpty());
}

TEST_P(ReleaseDay, WhatIsMissingForAChargeBalanceIsNamedInWhatIsSigned) {
    const auto view = BW_MUST(service::show_release(*books_, ready()));
    EXPECT_EQ(view.evidence.assessment.charges.sentence,
              "no charge balance: of Na and Cl no value counts yet");
    EXPECT_THAT(view.text, HasSubstr("no charge balance"));
}

TEST_P(ReleaseDay, SignsOnlyWhatWasShown) {
    const std::string batch = ready();
    const std::string mark = BW_MUST(service::show_release(*books_, batch)).mark;
    const auto other = service::decide_release(
        desk("quinn"), {batch, Decision::Release, std::string(16, '0')}, signing(), intent());
    ASSERT_FALSE(other);
    EXPECT_THAT(other.error().message, HasSubstr("look at"));
    BW_MUST(service::decide_release(desk("quinn"), {batch, Decision::Release, mark.substr(0, 16)},
                                    signing(), intent()));
}

TEST_P(ReleaseDay, ARepeatedRequestActsOnce) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string one = dissolve(sample);
    const service::Intent once = intent();
    const std::vector<service::ResultEntry> entries = {{one, "Ca", "M-07", "9.8", "", "", "", ""}};
    const auto first = BW_MUST(service::enter_results(desk("ana"), entries, std::nullopt, once));
    const auto again = BW_MUST(service::enter_results(desk("ana"), entries, std::nullopt, once));
    EXPECT_TRUE(again.repeated);
    EXPECT_EQ(again.answer, first.answer);
    EXPECT_EQ(BW_MUST(service::runs_of(*books_, batch)).size(), 1U);
}

TEST_P(ReleaseDay, ARepeatedDecisionSignsOnce) {
    const std::string batch = ready();
    const service::Intent once = intent();
    const service::ReleaseOrder order{batch, Decision::Release, ""};
    BW_MUST(service::decide_release(desk("quinn"), order, signing(), once));
    EXPECT_TRUE(BW_MUST(service::decide_release(desk("quinn"), order, signing(), once)).repeated);
    EXPECT_EQ(BW_MUST(books_->history("release", batch)).size(), 1U);
}

TEST_P(ReleaseDay, ARecipeIsSignedAsItWasShown) {
    const auto versions =
        BW_MUST(service::kept<works::RecipeVersion>(*books_, std::string(kProduct) + "/1"));
    ASSERT_TRUE(versions.is.approved);
    EXPECT_EQ(versions.is.approved->mark, store::sha256_hex(service::signed_text(versions.is)));
    const auto other = service::approve_recipe(desk("quinn"), versions.is.id(),
                                               std::string(16, '0'), signing(), intent());
    ASSERT_FALSE(other);
    EXPECT_THAT(other.error().message, HasSubstr("look at it again"));
}

TEST_P(ReleaseDay, AYieldThatMissesMuchHasAReason) {
    const std::string batch = blend_batch();
    const works::Yield little{49.5, 0.6, 0.5, 4};
    const auto asked = service::close_batch(desk("otto"), batch, little, intent(""));
    ASSERT_FALSE(asked);
    EXPECT_EQ(asked.error().place.field, "why");
    EXPECT_THAT(asked.error().message, HasSubstr("are not explained"));
    BW_MUST(
        service::close_batch(desk("otto"), batch, little, intent("half of it fell on the floor")));
}

using LimitsDay = WorksDay;

BW_ON_BOTH(LimitsDay);

TEST_P(LimitsDay, LimitsSignedAfterTestingDoNotCount) {
    BW_MUST(service::keep_method(desk("ana"), method("M-07"), intent()));
    const std::string batch = make_batch();
    const std::string run = test_twice(batch);
    keep_rules();
    count(run);
    EXPECT_EQ(state(batch), BatchState::UnderTest);
    const auto view = BW_MUST(service::show_release(*books_, batch));
    ASSERT_EQ(view.open.size(), 1U);
    EXPECT_EQ(view.open[0].kind, works::OpenKind::NoLimits);
}

TEST_P(LimitsDay, TheLimitsOfTheTimeOfTestingStay) {
    keep_rules();
    const std::string batch = ready(1.006);
    keep_rules("percent = \"0.2 %\"\n");
    EXPECT_EQ(BW_MUST(service::show_release(*books_, batch)).reading.file.limits->number, 1);
    BW_MUST(decide("quinn", batch));
}

TEST_P(LimitsDay, AJointChanceCanBeAskedFor) {
    keep_rules("joint_least = \"99.9 %\"\n");
    const std::string batch = ready(1.009, 1.009);
    const auto refused = decide("quinn", batch);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("at once"));
}

}  // namespace
}  // namespace bw::worksday
