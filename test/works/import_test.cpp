// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Tables of results into the books: all of a table or nothing of it.
#include <gmock/gmock.h>

#include "service/results_import.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::SizeIs;

constexpr const char* kMap = R"(format = "brinewright/1"
kind = "column-map"
name = "invented instrument"
decimal_sign = "point"
below_limit = ["<"]
dilution_applied = false
[[column]]
head = "Sample"
role = "sample"
[[column]]
head = "Dilution"
role = "dilution"
[[column]]
head = "Ca [mg/L]"
role = "analyte"
analyte = "Ca"
unit = "mg/L"
limit = "0.02"
[[column]]
head = "Mg [mg/L]"
role = "analyte"
analyte = "Mg"
unit = "mg/L"
)";

class ImportDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
        batch_ = make_batch();
        sample_ = take_sample(batch_);
        one_ = dissolve(sample_);
        two_ = dissolve(sample_);
    }
    service::ImportOrder order(const std::string& rows) {
        return {"run.csv", "Sample,Dilution,Ca [mg/L],Mg [mg/L]\n" + rows, kMap, batch_, "M-07", {},
                {}};
    }
    std::string batch_, sample_, one_, two_;
};

BW_ON_BOTH(ImportDay);

TEST_P(ImportDay, KeepsTheTableAndItsFile) {
    const auto given = order(one_ + ",50,8.05,23.60\n" + two_ + ",50,8.06,23.61\n");
    const auto plan = BW_MUST(service::plan_import(desk("ana"), given));
    EXPECT_TRUE(plan.committable()) << (plan.problems.empty() ? "" : plan.problems[0]);
    EXPECT_TRUE(BW_MUST(service::runs_of(*books_, batch_)).empty());
    const auto receipt = BW_MUST(service::import_results(desk("ana"), given, intent()));
    const auto run = BW_MUST(service::kept<works::Run>(*books_, receipt.answer)).is;
    ASSERT_THAT(run.results, SizeIs(4));
    EXPECT_EQ(run.results[0].digits, "8.05");
    EXPECT_EQ(run.results[0].dilution, "50");
    EXPECT_EQ(run.file, store::sha256_hex(given.bytes));
    EXPECT_EQ(BW_MUST(books_->attachment(run.file)).bytes, given.bytes);
    // 402.5 mg/L of calcium, 40.078 g/mol; the strength of 38.5 g in 1000 g is that of the dose.
    // Three chlorides without sulfate are as dense as seawater of S 30.57: at 20 degC 1.02139 kg/L
    // [unesco-44].
    EXPECT_NEAR(run.results[0].mol_per_kg, 0.4025 / 40.078 / 1.02139, 2e-7);
    count(receipt.answer);
    EXPECT_EQ(state(batch_), works::BatchState::Ready);
}

TEST_P(ImportDay, JudgesTheRunByTheCheckSampleInTheTable) {
    works::Method with = method("M-07");
    with.checks = {{"QC-1", "Ca", "400 mg/L", 1.5}, {"QC-1", "Mg", "1180 mg/L", 1.5}};
    BW_MUST(service::keep_method(desk("ana"), with, intent()));
    const auto plan = BW_MUST(service::plan_import(desk("ana"), order(one_ + ",50,8.05,23.60\n")));
    EXPECT_THAT(plan.problems, Contains(HasSubstr("check sample QC-1")));
    auto given = order(one_ + ",50,8.05,23.60\n" + two_ + ",50,8.06,23.61\nQC-1,50,8.2,23.6\n");
    given.map.insert(given.map.find("below_limit"), "check_samples = [\"QC-1\"]\n");
    const std::string run = BW_MUST(service::import_results(desk("ana"), given, intent())).answer;
    const auto kept = BW_MUST(service::kept<works::Run>(*books_, run)).is;
    EXPECT_THAT(kept.results, SizeIs(4));
    ASSERT_THAT(kept.checks, SizeIs(2));
    EXPECT_NEAR(kept.checks[0].off_percent, 2.5, 1e-9);  // 8.2 times 50 beside 400
    EXPECT_FALSE(kept.checks[0].good);
    EXPECT_TRUE(kept.checks[1].good);
    BW_MUST(service::check_run(desk("ben"), run, {}, intent()));
    EXPECT_FALSE(service::count_run(desk("ben"), run, signing(), intent()));
}

TEST_P(ImportDay, ASamplesNameMeansItsOnePortionThatIsNotSetAside) {
    const auto given = order(sample_ + ",50,8.05,23.60\n");
    EXPECT_FALSE(BW_MUST(service::plan_import(desk("ana"), given)).committable());
    BW_MUST(service::set_portion_aside(desk("ben"), one_, intent("spilt")));
    const auto receipt = BW_MUST(service::import_results(desk("ana"), given, intent()));
    const auto run = BW_MUST(service::kept<works::Run>(*books_, receipt.answer)).is;
    EXPECT_EQ(run.results.at(0).portion, two_);
}

TEST_P(ImportDay, KeepsNothingOfATableWithOneBadCell) {
    for (const char* bad : {",50,8.05,\"23,60\"\n", ",50,8.05,abc\n", ",0,8.05,23.6\n"}) {
        const auto given = order(one_ + ",50,8.05,23.60\n" + two_ + bad);
        const auto refused = service::import_results(desk("ana"), given, intent());
        ASSERT_FALSE(refused) << bad;
        EXPECT_EQ(refused.error().code, ProblemCode::BadInput);
        EXPECT_THAT(refused.error().message, HasSubstr("nothing is kept"));
        EXPECT_TRUE(BW_MUST(service::runs_of(*books_, batch_)).empty());
    }
}

TEST_P(ImportDay, KnowsThePortionBehindAName) {
    auto given = order("first,50,8.05,23.6\n");
    auto plan = BW_MUST(service::plan_import(desk("ana"), given));
    EXPECT_THAT(plan.problems, Contains(HasSubstr("--portion")));
    given.portions = {{"first", one_}};
    EXPECT_TRUE(BW_MUST(service::plan_import(desk("ana"), given)).committable());
    // The sample alone does not say which of its two portions was read.
    plan = BW_MUST(service::plan_import(desk("ana"), order(sample_ + ",50,8.05,23.6\n")));
    EXPECT_THAT(plan.problems, Contains(HasSubstr("2 test portions")));
}

TEST_P(ImportDay, RefusesAnotherBatchAndAnUnknownMethod) {
    const std::string other = make_batch();
    const std::string portion = dissolve(take_sample(other));
    const auto plan =
        BW_MUST(service::plan_import(desk("ana"), order(portion + ",50,8.05,23.6\n")));
    EXPECT_THAT(plan.problems, Contains(HasSubstr(other)));
    auto given = order(one_ + ",50,8.05,23.6\n");
    given.method = "M-99";
    EXPECT_FALSE(BW_MUST(service::plan_import(desk("ana"), given)).committable());
}

TEST_P(ImportDay, KeepsBelowTheLimitAsSuch) {
    const auto given = order(one_ + ",1,<0.02,23.6\n");
    const auto plan = BW_MUST(service::plan_import(desk("ana"), given));
    ASSERT_TRUE(plan.committable()) << plan.problems[0];
    EXPECT_EQ(plan.run.results[0].digits, "< 0.02");
    EXPECT_TRUE(plan.run.results[0].below_limit);
}

TEST_P(ImportDay, ARepeatedImportActsOnce) {
    const service::Intent once = intent();
    const auto given = order(one_ + ",50,8.05,23.6\n");
    const auto first = BW_MUST(service::import_results(desk("ana"), given, once));
    const auto again = BW_MUST(service::import_results(desk("ana"), given, once));
    EXPECT_TRUE(again.repeated);
    EXPECT_EQ(again.answer, first.answer);
    const auto look = BW_MUST(service::plan_import(desk("ana"), given));  // told before it is tried
    ASSERT_FALSE(look.committable());
    EXPECT_THAT(look.problems[0], testing::HasSubstr("is in the books already"));
    const auto twice = service::import_results(desk("ana"), given, intent());
    ASSERT_FALSE(twice);
    EXPECT_EQ(twice.error().code, ProblemCode::Refused);
}

}  // namespace
}  // namespace bw::worksday
