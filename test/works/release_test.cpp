// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// From a plan to a signed release: what blocks it, who may, what it freezes, what makes it stale.
#include <array>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "report/sample_label.hpp"
#include "service/papers.hpp"
#include "service/workroom_papers.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::AllOf;
using testing::EndsWith;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;
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

TEST_P(ReleaseDay, WaitsForTwoDissolutionsAndForTwoMoreResults) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string one = dissolve(sample);
    count(enter({one}));
    EXPECT_EQ(state(batch), BatchState::UnderTest);
    const std::string two = dissolve(sample);
    count(enter({two}, 1.012));  // 1.2 % apart: beyond 2.77 times 0.3 %
    EXPECT_EQ(state(batch), BatchState::UnderTest);
    const auto view = BW_MUST(service::show_release(*books_, batch));
    ASSERT_EQ(view.open.size(), 1U);
    EXPECT_THAT(view.open[0].sentence, HasSubstr("two more"));
    const std::string three = dissolve(sample);
    count(enter({three, dissolve(sample)}, 1.006));
    EXPECT_EQ(state(batch), BatchState::Ready);
    EXPECT_EQ(BW_MUST(service::show_release(*books_, batch))
                  .reading.file.assessment.elements[0]
                  .methods[0]
                  .results,
              4);
}

TEST_P(ReleaseDay, SettingAsideNeedsAReasonAndOpensTheTestAgain) {
    const std::string batch = make_batch();
    const std::string run = test_twice(batch);
    count(run);
    EXPECT_EQ(
        service::set_results_aside(desk("ben"), run, std::array<std::int64_t, 1>{1}, intent(""))
            .error()
            .code,
        ProblemCode::BadInput);
    BW_MUST(service::set_results_aside(desk("ben"), run, std::array<std::int64_t, 1>{1},
                                       intent("bubble in the cell")));
    EXPECT_EQ(state(batch), BatchState::UnderTest);
    const auto after = BW_MUST(service::kept<works::Run>(*books_, run)).is;
    EXPECT_FALSE(after.approved);
    EXPECT_EQ(after.results[0].state, works::ResultState::SetAside);
    EXPECT_EQ(after.results[0].digits, digits(kCalcium * 0.9995));
}

TEST_P(ReleaseDay, ATestPortionIsSetAsideOnceItsResultsAre) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string spilt = dissolve(sample);
    const std::string run = enter({spilt});
    const auto refused = service::set_portion_aside(desk("ben"), spilt, intent("spilt"));
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr(run + "/1, " + run + "/2"));
    for (const std::int64_t line : {1, 2}) {
        BW_MUST(service::set_results_aside(desk("ben"), run, std::array<std::int64_t, 1>{line},
                                           intent("of a spilt portion")));
    }
    EXPECT_EQ(service::set_portion_aside(desk("otto"), spilt, intent("spilt")).error().code,
              ProblemCode::Refused);  // not an operator's
    EXPECT_EQ(service::set_portion_aside(desk("ben"), spilt, intent("")).error().code,
              ProblemCode::BadInput);
    const service::Intent once = intent("spilt");
    BW_MUST(service::set_portion_aside(desk("ben"), spilt, once));
    EXPECT_TRUE(BW_MUST(service::set_portion_aside(desk("ben"), spilt, once)).repeated);
    // Nothing more is tested in it, nor is a result of it brought back.
    EXPECT_THAT(service::enter_results(desk("ana"), {{spilt, "Ca", "M-07", "9.8", "", "", "", ""}},
                                       std::nullopt, intent())
                    .error()
                    .message,
                HasSubstr("is set aside (spilt)"));
    EXPECT_FALSE(
        service::correct_result(desk("ana"), {run, 1, "9.9", "", "", ""}, intent("misread")));
    const auto all = BW_MUST(service::portions_of(*books_, batch));
    ASSERT_EQ(all.size(), 1U);
    EXPECT_EQ(all[0].is.set_aside->by, "ben");
    EXPECT_EQ(BW_MUST(books_->history("test_portion", spilt)).size(), 2U);
    // It counts no more: two others are wanted, and a new one has a number of its own.
    const std::string first = dissolve(sample);
    EXPECT_EQ(first, sample + "/2");
    count(enter({first, dissolve(sample)}));
    EXPECT_EQ(state(batch), BatchState::Ready);
    BW_MUST(decide("quinn", batch));
    EXPECT_TRUE(BW_MUST(books_->verify()).sound());
}

TEST_P(ReleaseDay, LabelsOfASampleFitAllTheirStocks) {
    const std::string sample = take_sample(make_batch());
    const auto labels =
        BW_MUST(service::sample_labels(*books_, sample, "2026-03-09T12:00:00.000Z"));
    ASSERT_EQ(labels.labels.size(), 12U);  // ten increments, one for tests, one retained
    EXPECT_EQ(labels.labels.front().mass, "of 500 g taken in all");
    EXPECT_EQ(labels.labels.back().mass, "of 500 g taken in all");
    EXPECT_THAT(labels.labels.back().taken_at, testing::EndsWith(" UTC"));
    for (const auto code : {report::LabelCode::Square, report::LabelCode::Bars}) {
        for (const auto stock : {report::LabelStock::SheetA4, report::LabelStock::Roll}) {
            auto on = labels;
            on.code = code;
            on.stock = stock;
            BW_MUST(report::sample_labels_pdf(on));
        }
    }
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

TEST_P(ReleaseDay, NothingFoundIsALimitAndThePlaceIsNamedOnce) {
    const std::string portion = dissolve(take_sample(make_batch()));
    for (const char* digits : {"0", "0.00", "-0.3"}) {
        const auto refused = service::enter_results(
            desk("ana"), {{portion, "Ca", "M-07", digits, "", "", "", ""}}, std::nullopt, intent());
        ASSERT_FALSE(refused) << digits;
        EXPECT_THAT(refused.error().message, StartsWith("line 1, Ca of " + portion + ": "));
        EXPECT_THAT(refused.error().message, HasSubstr("write the limit that the method can see"));
        const auto in_file =
            service::enter_results(desk("ana"), {{portion, "Ca", "M-07", digits, "", "", "", "C2"}},
                                   std::nullopt, intent());
        EXPECT_THAT(in_file.error().message, StartsWith("C2, Ca of " + portion + ": "));
    }
}

TEST_P(ReleaseDay, AnotherUnitThanTheMethodsIsConvertedAndKeptAsTyped) {
    const std::string portion = dissolve(take_sample(make_batch()));
    const auto entered = [&](const char* digits, const char* unit) {
        return service::enter_results(desk("ana"),
                                      {{portion, "Ca", "M-07", digits, unit, "", "", ""}},
                                      std::nullopt, intent());
    };
    const auto run =
        BW_MUST(service::kept<works::Run>(*books_, BW_MUST(entered("400.78", "mg/kg")).answer)).is;
    EXPECT_EQ(run.results[0].digits, "400.78");
    EXPECT_EQ(run.results[0].unit, "mg/kg");
    const auto other =
        BW_MUST(service::kept<works::Run>(*books_, BW_MUST(entered("10.000", "")).answer)).is;
    EXPECT_NEAR(run.results[0].mol_per_kg, other.results[0].mol_per_kg, 1e-7);  // 40.078 g/mol
    EXPECT_FALSE(entered("10", "kg"));
    EXPECT_FALSE(entered("10", "degC"));
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

TEST_P(ReleaseDay, ResultsAreAllOrNothingAndNameTheirLine) {
    const std::string batch = make_batch();
    const std::string one = dissolve(take_sample(batch));
    const auto refused = service::enter_results(desk("ana"),
                                                {{one, "Ca", "M-07", "9.8", "", "", "", "C2"},
                                                 {one, "Mg", "M-07", "4,2", "", "", "", "D2"}},
                                                std::nullopt, intent());
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("D2"));
    EXPECT_TRUE(BW_MUST(service::runs_of(*books_, batch)).empty());
    EXPECT_THAT(service::enter_results(desk("ana"), {{one, "Sr", "M-07", "9", "", "", "", ""}},
                                       std::nullopt, intent())
                    .error()
                    .message,
                HasSubstr("Ca, Mg, Na and Cl"));
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

TEST_P(ReleaseDay, AMethodsCheckSampleJudgesTheRun) {
    works::Method with = method("M-07");
    with.checks = {{"QC-1", "Ca", "10 mmol/kg", 1.5}};
    BW_MUST(service::keep_method(desk("ana"), with, intent()));
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string one = dissolve(sample);
    const service::ResultEntry calcium{one, "Ca", "M-07", digits(kCalcium), "", "", "", ""};
    const service::ResultEntry magnesium{one, "Mg", "M-07", digits(kMagnesium), "", "", "", ""};
    const auto none = service::enter_results(desk("ana"), {calcium}, std::nullopt, intent());
    ASSERT_FALSE(none);
    EXPECT_THAT(none.error().message, HasSubstr("check sample QC-1 read for Ca"));
    service::ResultEntry check{"", "Ca", "M-07", "10.2", "", "", "", "", "", "QC-1"};
    const std::string off = BW_MUST(service::enter_results(desk("ana"), {calcium, magnesium, check},
                                                           std::nullopt, intent()))
                                .answer;
    BW_MUST(service::check_run(desk("ben"), off, {}, intent()));
    const auto refused = service::count_run(desk("ben"), off, signing(), intent());
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::Refused);
    EXPECT_THAT(refused.error().message,
                HasSubstr("Ca by M-07 reads 10.2 mmol/kg, 2.00 % above 10 mmol/kg, 1.5 % allowed"));
    // Typed wrongly, it is corrected; what it vouches for is checked again.
    service::CheckCorrection typed{off, "QC-1", "Ca", "", "10.02", "", ""};
    BW_MUST(service::correct_check(desk("ana"), typed, intent("misread 10.02")));
    EXPECT_EQ(service::count_run(desk("ben"), off, signing(), intent()).error().code,
              ProblemCode::Refused);
    EXPECT_EQ(service::check_run(desk("ana"), off, {}, intent()).error().code,
              ProblemCode::Refused);
    typed.digits = "10.2";
    BW_MUST(service::correct_check(desk("ana"), typed, intent("it was 10.2")));
    BW_MUST(service::check_run(desk("ben"), off, {}, intent()));
    // What it does not speak of counts once what it speaks of is set aside.
    BW_MUST(service::set_results_aside(desk("ben"), off, std::array<std::int64_t, 1>{1},
                                       intent("check sample off")));
    BW_MUST(service::count_run(desk("ben"), off, signing(), intent()));
    check.digits = "10.1";
    count(BW_MUST(service::enter_results(desk("ana"), {calcium, check}, std::nullopt, intent()))
              .answer);
    check.check_sample = "QC-2";
    const auto unknown =
        service::enter_results(desk("ana"), {calcium, check}, std::nullopt, intent());
    ASSERT_FALSE(unknown);
    EXPECT_THAT(unknown.error().message, HasSubstr("no check sample"));
}

TEST_P(ReleaseDay, ARunIsCountedAsItWasShown) {
    const std::string one = dissolve(take_sample(make_batch()));
    const std::string run =
        BW_MUST(service::enter_results(desk("ana"),
                                       {{one, "Ca", "M-07", digits(kCalcium), "", "", "", ""},
                                        {one, "Mg", "M-07", digits(kMagnesium), "", "", "", ""}},
                                       std::nullopt, intent()))
            .answer;
    BW_MUST(service::check_run(desk("ben"), run, {}, intent()));
    const std::string shown =
        BW_MUST(service::content_mark(*books_, service::kKind<works::Run>, run));
    service::ResultCorrection typed;
    typed.run = run;
    typed.line = 1;
    typed.digits = digits(kMagnesium);
    BW_MUST(service::correct_result(desk("ana"), typed, intent("swapped")));
    BW_MUST(service::check_run(desk("ben"), run, {}, intent()));
    const auto other =
        service::count_run(desk("ben"), run, service::Signing{kPassword, shown}, intent());
    ASSERT_FALSE(other);
    EXPECT_EQ(other.error().code, ProblemCode::Refused);
    EXPECT_THAT(other.error().message, HasSubstr("look at it again"));
    const std::string now =
        BW_MUST(service::content_mark(*books_, service::kKind<works::Run>, run));
    BW_MUST(service::count_run(desk("ben"), run, service::Signing{kPassword, now.substr(0, 16)},
                               intent()));
}

TEST_P(ReleaseDay, TellsReadingsThatAreEnteredTwice) {
    const std::string sample = take_sample(make_batch());
    const std::string one = dissolve(sample);
    const std::vector<service::ResultEntry> run = {
        {one, "Ca", "M-07", digits(kCalcium), "", "", "", ""},
        {one, "Mg", "M-07", digits(kMagnesium), "", "", "", ""}};
    const std::string first =
        BW_MUST(service::enter_results(desk("ana"), run, std::nullopt, intent())).answer;
    const auto again = service::enter_results(desk("ana"), run, std::nullopt, intent(""));
    ASSERT_FALSE(again);
    EXPECT_EQ(again.error().code, ProblemCode::Refused);
    EXPECT_THAT(again.error().message, HasSubstr("those of run " + first));
    BW_MUST(service::enter_results(desk("ana"), run, std::nullopt, intent("read a second time")));
}

TEST_P(ReleaseDay, RefusesWhatCannotHaveBeenRead) {
    const std::string sample = take_sample(make_batch());
    const std::string portion = dissolve(sample);
    service::ResultEntry entry{portion, "Ca", "M-07", "9.8", "", "", "", ""};
    entry.read_at = "2026-04-01";  // this day is in March
    const auto to_come = service::enter_results(desk("ana"), {entry}, std::nullopt, intent());
    ASSERT_FALSE(to_come);
    EXPECT_THAT(to_come.error().message, HasSubstr("still to come"));
    entry.read_at = "2026-02-20";  // the batch is of March
    const auto before = service::enter_results(desk("ana"), {entry}, std::nullopt, intent());
    ASSERT_FALSE(before);
    EXPECT_THAT(before.error().message, HasSubstr("was made"));
    entry.read_at = "";
    entry.digits = "25100";  // mmol/kg: 1006 g of calcium
    const auto heavy = service::enter_results(desk("ana"), {entry}, std::nullopt, intent());
    ASSERT_FALSE(heavy);
    EXPECT_THAT(heavy.error().message, HasSubstr("g in a kg of solution"));
    const auto salinity =
        service::keep_portion(desk("ana"),
                              {sample, "38.50 g", "1000.0 g", works::StrengthBy::Conductivity,
                               "3.5", "0.1", "25 degC", ""},
                              intent());
    ASSERT_FALSE(salinity);
    EXPECT_EQ(salinity.error().place.field, "salinity");
    EXPECT_THAT(salinity.error().message, HasSubstr("make about"));
    const auto more = service::keep_portion(
        desk("ana"), {sample, "600.0 g", "15584 g", works::StrengthBy::DryMass, "", "", "", ""},
        intent());
    ASSERT_FALSE(more);
    EXPECT_EQ(more.error().place.field, "salt");
    EXPECT_THAT(more.error().message, HasSubstr("more than the 500 g"));
    const auto large =
        service::take_sample(desk("otto"), {make_batch(), 10, "30000 kg", "", "riffler"}, intent());
    ASSERT_FALSE(large);
    EXPECT_EQ(large.error().place.field, "mass");
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

TEST_P(ReleaseDay, ResultsAreFoundAsMeasurements) {
    const std::string batch = ready();
    store::MeasurementQuery query;
    query.analyte = "Ca";
    query.batch = batch;
    const auto rows = BW_MUST(books_->measurements(query));
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(rows[0].is.state, "counted");
    EXPECT_EQ(rows[0].is.digits, digits(kCalcium * 0.9995));
    EXPECT_NEAR(*rows[0].is.value, kCalcium * 999.5, 1e-3);
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
