// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the laboratory writes down about a batch: portions, runs and their checks, results.
#include <array>

#include <gmock/gmock.h>

#include "report/sample_label.hpp"
#include "service/papers.hpp"
#include "service/workroom_papers.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::HasSubstr;
using testing::StartsWith;
using works::BatchState;

class ResultsDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
    }
};

BW_ON_BOTH(ResultsDay);

TEST_P(ResultsDay, WaitsForTwoDissolutionsAndForTwoMoreResults) {
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

TEST_P(ResultsDay, SettingAsideNeedsAReasonAndOpensTheTestAgain) {
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

TEST_P(ResultsDay, ATestPortionIsSetAsideOnceItsResultsAre) {
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

TEST_P(ResultsDay, LabelsOfASampleFitAllTheirStocks) {
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

TEST_P(ResultsDay, NothingFoundIsALimitAndThePlaceIsNamedOnce) {
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

TEST_P(ResultsDay, AnotherUnitThanTheMethodsIsConvertedAndKeptAsTyped) {
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

TEST_P(ResultsDay, ResultsAreAllOrNothingAndNameTheirLine) {
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

TEST_P(ResultsDay, AMethodsCheckSampleJudgesTheRun) {
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

TEST_P(ResultsDay, ARunIsCountedAsItWasShown) {
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

TEST_P(ResultsDay, TellsReadingsThatAreEnteredTwice) {
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

TEST_P(ResultsDay, RefusesWhatCannotHaveBeenRead) {
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

TEST_P(ResultsDay, ResultsAreFoundAsMeasurements) {
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

}  // namespace
}  // namespace bw::worksday
