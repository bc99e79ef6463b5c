// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Tables of results into the books: all of a table or nothing of it.
#include <random>

#include <gmock/gmock.h>

#include "figure.hpp"
#include "service/import_map.hpp"
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

std::string spoiled(std::string bytes, std::mt19937_64& random) {
    for (std::size_t changes = 1 + random() % 4; changes > 0; --changes) {
        const std::size_t at = random() % bytes.size();
        switch (random() % 4) {
            case 0:
                bytes.insert(at, 1, static_cast<char>(random()));
                break;
            case 1:
                bytes.erase(at, 1 + random() % 5);
                break;
            case 2:
                bytes[at] = static_cast<char>(random());
                break;
            default:
                bytes.insert(at, bytes.substr(at, random() % 20));
                break;
        }
    }
    return bytes;
}

TEST_P(ImportDay, OfAThousandSpoiledTablesNoneThatIsRefusedWrites) {
    constexpr int kTables = 1000;
    std::mt19937_64 random(20'261'128);
    int refused = 0;
    std::size_t kept = 0;
    for (int i = 0; i < kTables; ++i) {
        auto given = order(one_ + ",50,8.05,23.60\n" + two_ + ",50,8.06,23.61\n");
        given.bytes = spoiled(given.bytes, random);
        const std::string before = BW_MUST(books_->mark());
        const auto got = service::import_results(desk("ana"), given, intent());
        if (got) {
            ++kept;
            continue;
        }
        ++refused;
        EXPECT_FALSE(got.error().message.empty()) << given.bytes;
        EXPECT_EQ(BW_MUST(books_->mark()), before) << given.bytes;
    }
    EXPECT_THAT(BW_MUST(service::runs_of(*books_, batch_)), SizeIs(kept));
    EXPECT_TRUE(BW_MUST(books_->verify({{}, true, false})).sound());
    EXPECT_GT(refused, kTables / 2);
    test::record(
        {"Books",
         fmt::format("1000 tables of results spoiled at random, into open books on {}",
                     store::ground::name_of({GetParam(), 0})),
         "none crashes, none that is refused writes",
         fmt::format("{} refused, nothing written; {} still whole and kept", refused, kept),
         !testing::Test::HasFailure()});
}

// Another server does the same request while this one decides, which then finds it done already.
TEST_P(ImportDay, ARefusalOfWhatIsDoneMeanwhileIsARepeat) {
    const auto given = order(one_ + ",50,8.05,23.60\n");
    const auto once = intent();
    store::Receipt first;
    const service::ActName name{works::Deed::EnterResults, "results import", "", ""};
    const auto late = BW_MUST(service::done_once(desk("ana"), name, once, [&] {
        first = BW_MUST(service::import_results(desk("ana"), given, once));
        return service::import_results(desk("ana"), given, intent());  // refused: it is in already
    }));
    EXPECT_FALSE(first.repeated);
    EXPECT_TRUE(late.repeated);
    EXPECT_EQ(late.answer, first.answer);
    EXPECT_THAT(BW_MUST(service::runs_of(*books_, batch_)), SizeIs(1));
    EXPECT_FALSE(service::import_results(desk("ana"), given, intent()));
}

TEST_P(ImportDay, KnowsThePortionBehindAName) {
    auto given = order("first,50,8.05,23.6\n");
    auto plan = BW_MUST(service::plan_import(desk("ana"), given));
    EXPECT_THAT(plan.problems, Contains(HasSubstr("say which")));
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

TEST_P(ImportDay, NamesThatAreNoTestPortionAreAskedFor) {
    service::ImportOrder import = order("tube 7,1,403.1,1227.4\n" + two_ + ",1,403.3,1227.9\n");
    const auto asked = BW_MUST(service::plan_import(desk("ana"), import));
    EXPECT_FALSE(asked.committable());
    EXPECT_THAT(asked.unplaced, testing::ElementsAre("tube 7"));
    EXPECT_THAT(asked.problems,  // once, however many readings it has
                testing::ElementsAre("C2 to D2 (2 readings of 'tube 7'): no test portion has this "
                                     "name: say which test portion it is"));
    import.portions = {{ "tube 7", one_ }};
    const auto plan = BW_MUST(service::plan_import(desk("ana"), import));
    EXPECT_TRUE(plan.committable());
    EXPECT_THAT(plan.unplaced, testing::IsEmpty());
}

TEST_P(ImportDay, AMapIsProposedByTheHeadsAndReadsTheTable) {
    const std::string table = "Sample,Ca [mg/L],Mg [mg/L],Lab note\n" + one_ +
                              ",403.1,1227.4,=1+1\n" + two_ + ",403.3,1227.9,ok\n";
    const auto shown = BW_MUST(service::propose_map(desk("ana"), {"run.csv", table}));
    EXPECT_EQ(shown.from, "its heads");
    EXPECT_EQ(shown.problem, "");
    ASSERT_EQ(shown.columns.size(), 4U);
    EXPECT_EQ(shown.columns[0].role, "sample");
    EXPECT_EQ(shown.columns[1].role, "analyte");
    EXPECT_EQ(shown.columns[1].analyte, "Ca");
    EXPECT_EQ(shown.columns[3].role, "ignored");
    ASSERT_EQ(shown.rows.size(), 2U);
    EXPECT_EQ(shown.rows[0][3], "=1+1");  // a formula in a cell of text stays text
    service::ImportOrder import{"run.csv", table, shown.map, batch_, "M-07", {}, {}};
    const auto plan = BW_MUST(service::plan_import(desk("ana"), import));
    EXPECT_TRUE(plan.committable()) << (plan.problems.empty() ? "" : plan.problems.front());
    EXPECT_THAT(plan.entries, SizeIs(4));
}

TEST_P(ImportDay, WhatIsChosenForAColumnIsJudgedByTheReaderOfMaps) {
    const std::string table = "Vial,Calcium found,Comment\n" + one_ + ",403.1,ok\n";
    service::MapOrder order{"run.csv", table};
    const auto first = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_NE(first.problem, "");  // no head is understood: all is to be said
    EXPECT_THAT(first.remarks, testing::Not(testing::IsEmpty()));
    order.columns = {
        {"A", "sample", "", "", ""}, {"B", "analyte", "Ca", "", ""}, {"C", "ignored", "", "", ""}};
    const auto second = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_EQ(second.columns[1].role, "analyte");
    order.columns[1].unit = "furlong";
    const auto bad = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_THAT(bad.problem, HasSubstr("column B (Calcium found): unknown unit 'furlong'"));
    EXPECT_EQ(bad.columns[1].unit, "furlong");  // as it was typed, to be mended
    EXPECT_EQ(bad.columns[1].analyte, "Ca");
    order.columns[1].unit = "mg/L";
    order.decimal_sign = "point";
    const auto whole = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_EQ(whole.problem, "");
    service::ImportOrder import{"run.csv", table, whole.map, batch_, "M-07", {}, {}};
    EXPECT_TRUE(BW_MUST(service::plan_import(desk("ana"), import)).committable());
    order.columns[0].role = "ignored";
    EXPECT_THAT(BW_MUST(service::propose_map(desk("ana"), order)).problem, HasSubstr("sample"));
    order.columns[0].role = "vial";
    EXPECT_FALSE(service::propose_map(desk("ana"), order));
    order.columns[0] = {"ZZ", "sample", "", "", ""};
    EXPECT_FALSE(service::propose_map(desk("ana"), order));
}

TEST_P(ImportDay, WhatIsLackingIsSaidByItsColumn) {
    service::MapOrder order{"run.csv", "Vial,Calcium found,m\n" + one_ + ",403.1,2\n"};
    const auto said = [&] { return BW_MUST(service::propose_map(desk("ana"), order)).problem; };
    EXPECT_THAT(said(), HasSubstr("no column holds readings yet"));  // the vial is guessed
    order.columns = {
        {"A", "sample", "", "", ""}, {"B", "analyte", "", "", ""}, {"C", "ignored", "", "", ""}};
    EXPECT_THAT(said(), HasSubstr("column B (Calcium found): write of which analyte"));
    order.columns[1].analyte = "Xy";
    EXPECT_THAT(said(), HasSubstr("column B (Calcium found): 'Xy' is no element"));
    order.columns[1].analyte = "calcium";
    EXPECT_EQ(BW_MUST(service::propose_map(desk("ana"), order)).columns[1].analyte, "Ca");
    EXPECT_EQ(said(), "");
    order.columns[2].role = "sample-mass";
    EXPECT_THAT(said(), HasSubstr("column C (m): write its unit, such as g"));
    order.columns[2].unit = "g";
    EXPECT_EQ(said(), "");
    order.columns[2].role = "value";
    EXPECT_THAT(said(), HasSubstr("column C (m): 'g' is a mass"));
    order.columns[2].unit = "";
    EXPECT_THAT(said(), HasSubstr("either a column for each analyte, or one reading a row"));
    order.columns[1].role = "ignored";
    EXPECT_THAT(said(), HasSubstr("no column names the analytes yet"));
    order.columns[0].role = "ignored";
    EXPECT_THAT(said(), HasSubstr("no column holds the samples yet"));
}

TEST_P(ImportDay, PpmIsWhatTheUnitBesideItSays) {
    service::MapOrder order{"run.csv", "Sample,Ca (ppm)\n" + one_ + ",403.1\n"};
    const auto first = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_EQ(first.columns[1].stated_unit, "ppm");
    EXPECT_THAT(first.problem, HasSubstr("column B (Ca (ppm)): ppm is by mass or by volume"));
    order.columns = {{"A", "sample", "", "", ""}, {"B", "analyte", "Ca", "", "mg/kg"}};
    const auto shown = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_EQ(shown.problem, "");
    service::ImportOrder import{"run.csv", order.bytes, shown.map, batch_, "M-07", {}, {}};
    const auto plan = BW_MUST(service::plan_import(desk("ana"), import));
    ASSERT_TRUE(plan.committable()) << plan.problems.front();
    EXPECT_EQ(plan.run.results[0].unit, "mg/kg");
}

TEST_P(ImportDay, TheMapOfAnEarlierRunIsProposedForATableWithItsHeads) {
    const std::string map =
        "format = \"brinewright/1\"\nkind = \"column-map\"\nname = \"by hand\"\n"
        "[[column]]\nhead = \"Vial\"\nrole = \"sample\"\n"
        "[[column]]\nhead = \"Channel 1\"\nrole = \"analyte\"\nanalyte = \"Ca\"\nunit = "
        "\"mg/L\"\n";
    const std::string heads = "Vial,Channel 1\n";
    EXPECT_EQ(BW_MUST(service::propose_map(desk("ben"), {"a.csv", heads + one_ + ",403.1\n"})).from,
              "");
    service::ImportOrder import{"run.csv", heads + one_ + ",403.1\n", map, batch_, "M-07", {}, {}};
    const std::string run = BW_MUST(service::import_results(desk("ana"), import, intent())).answer;
    const auto next =
        BW_MUST(service::propose_map(desk("ben"), {"next.csv", heads + two_ + ",403.3\n"}));
    EXPECT_EQ(next.from, "the map of run " + run + ", whose table had these heads");
    EXPECT_EQ(next.problem, "");
    EXPECT_EQ(next.columns[1].analyte, "Ca");
    // A table with a column more is another table.
    const auto other = BW_MUST(service::propose_map(
        desk("ben"), {"other.csv", "Vial,Channel 1,Channel 2\n" + two_ + ",403.3,1\n"}));
    EXPECT_EQ(other.from, "");
}

TEST_P(ImportDay, AMapThatIsKeptIsProposedForTheNextTableWithTheseHeads) {
    const std::string head = "Vial,Calcium found,Comment\n";
    service::MapOrder order{"run.csv", head + one_ + ",403.1,ok\n"};
    order.columns = {{"A", "sample", "", "", ""},
                     {"B", "analyte", "Ca", "", "mg/L"},
                     {"C", "ignored", "", "", ""}};
    order.decimal_sign = "point";
    const auto made = BW_MUST(service::propose_map(desk("ana"), order));
    ASSERT_EQ(made.problem, "");
    BW_MUST(service::keep_map(desk("ana"), "room 2", made.map, made.head, intent("")));
    EXPECT_FALSE(service::keep_map(desk("ana"), "room 3", "kind = 3", made.head, intent("")));
    EXPECT_FALSE(service::keep_map(desk("otto"), "room 2", made.map, made.head, intent("")));
    const auto next =
        BW_MUST(service::propose_map(desk("ben"), {"next.csv", head + two_ + ",403.3,late\n"}));
    EXPECT_EQ(next.from, "the kept map 'room 2'");
    EXPECT_EQ(next.problem, "");
    EXPECT_EQ(next.columns[1].analyte, "Ca");
    const auto other = BW_MUST(
        service::propose_map(desk("ben"), {"other.csv", "Vial,Ca [mg/L]\n" + two_ + ",403.3\n"}));
    EXPECT_EQ(other.from, "its heads");
    EXPECT_TRUE(BW_MUST(books_->verify()).sound());
}

TEST_P(ImportDay, AMapIsKeptUnderANameThatCanBeReadAgain) {
    const std::string table = "Sample,Ca [mg/L]\n" + one_ + ",403.1\n";
    const auto made = BW_MUST(service::propose_map(desk("ana"), {"run.csv", table}));
    for (const char* blank : {"", " ", " \t "}) {
        const auto kept = service::keep_map(desk("ana"), blank, made.map, made.head, intent(""));
        ASSERT_FALSE(kept);
        EXPECT_EQ(kept.error().place.field, "name");
    }
    for (const std::string& head : {std::string(), std::string("abc"), std::string(64, 'x')}) {
        const auto kept = service::keep_map(desk("ana"), "room 2", made.map, head, intent(""));
        ASSERT_FALSE(kept);
        EXPECT_EQ(kept.error().place.field, "head");
    }
    EXPECT_EQ(BW_MUST(service::propose_map(desk("ben"), {"run.csv", table})).from, "its heads");
    const auto kept =
        BW_MUST(service::keep_map(desk("ana"), " room  2 ", made.map, made.head, intent("")));
    EXPECT_EQ(kept.answer, "room 2");
    EXPECT_EQ(BW_MUST(service::propose_map(desk("ben"), {"run.csv", table})).from,
              "the kept map 'room 2'");
}

TEST_P(ImportDay, AKeptMapThatCannotBeReadIsPassedOverWithARemark) {
    const std::string table = "Sample,Ca [mg/L]\n" + one_ + ",403.1\n";
    const auto made = BW_MUST(service::propose_map(desk("ana"), {"run.csv", table}));
    // As books may hold it that were written when a blank name was still taken.
    works::KeptMap bad{"0 blank", made.head, made.map, "ana"};
    bad.text.replace(bad.text.find("name = \""), std::string("name = \"").size(), "nom = \"");
    BW_MUST(service::act(
        desk("ana"),
        {works::Deed::EnterResults, "results keep map", service::kKind<works::KeptMap>, bad.name},
        intent(""), [&](store::Change& change) -> Result<void> {
            change.writes.push_back(service::write_of(bad, 0));
            change.answer = bad.name;
            return {};
        }));
    const auto shown = BW_MUST(service::propose_map(desk("ben"), {"run.csv", table}));
    EXPECT_EQ(shown.from, "its heads");
    EXPECT_EQ(shown.problem, "");
    EXPECT_THAT(shown.remarks, Contains(HasSubstr("'0 blank' cannot be read")));
}

TEST_P(ImportDay, ARowOfUnitsIsProposedAndAContradictionIsSaid) {
    const std::string table = "Vial;Calcium found;Day\n;µg/L;\n" + one_ + ";436,1;27.11.2026\n";
    service::MapOrder order{"run.csv", table};
    const auto first = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_EQ(first.unit_row, 2);
    EXPECT_EQ(first.first_row, 3);
    EXPECT_EQ(first.decimal_sign, "comma");
    ASSERT_THAT(first.between, SizeIs(1));
    EXPECT_EQ(first.between[0].cells[1], "µg/L");
    order.columns = {
        {"A", "sample", "", "", ""}, {"B", "analyte", "Ca", "", ""}, {"C", "date", "", "", ""}};
    const auto whole = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_EQ(whole.problem, "");
    EXPECT_EQ(whole.date_form, "DD.MM.YYYY");
    order.columns[1].unit = "mg/L";
    EXPECT_THAT(BW_MUST(service::propose_map(desk("ana"), order)).remarks,
                Contains(HasSubstr("says ug/L, and the map mg/L")));
    // The row is skipped without being read: it is said, and so is the contradiction.
    order.unit_row = 0;
    order.first_row = 3;
    const auto skipped = BW_MUST(service::propose_map(desk("ana"), order)).remarks;
    EXPECT_THAT(skipped, Contains(HasSubstr("Row 2 states units and is not read")));
    EXPECT_THAT(skipped, Contains(HasSubstr("says ug/L, and the map mg/L")));
    order.date_form = "DD/MM/YYYY";
    EXPECT_EQ(BW_MUST(service::propose_map(desk("ana"), order)).date_form, "DD/MM/YYYY");
    order.date_form = "day first";
    EXPECT_THAT(BW_MUST(service::propose_map(desk("ana"), order)).problem,
                HasSubstr("not a form of dates"));
}

TEST_P(ImportDay, TheMethodsCheckSamplesAreProposedAndOthersCanBeSaid) {
    works::Method with = method("M-07");
    with.checks = {{"QC-35", "Ca", "400 mg/L", 1.5}};
    BW_MUST(service::keep_method(desk("ana"), with, intent()));
    const std::string table = "Sample,Ca [mg/L]\n" + one_ + ",403.1\nQC-35,401.0\nspare,1.0\n";
    service::MapOrder order{"run.csv", table};
    EXPECT_THAT(BW_MUST(service::propose_map(desk("ana"), order)).check_samples,
                testing::IsEmpty());
    order.method = "M-07";
    const auto shown = BW_MUST(service::propose_map(desk("ana"), order));
    EXPECT_THAT(shown.check_samples, testing::ElementsAre("QC-35"));
    EXPECT_THAT(shown.remarks, Contains(HasSubstr("'QC-35' is a check sample of the method")));
    service::ImportOrder import{"run.csv", table, shown.map, batch_, "M-07", {}, {}};
    EXPECT_THAT(BW_MUST(service::plan_import(desk("ana"), import)).unplaced,
                testing::ElementsAre("spare"));
    order.check_samples = {{"QC-35", "spare"}};
    import.map = BW_MUST(service::propose_map(desk("ana"), order)).map;
    const auto plan = BW_MUST(service::plan_import(desk("ana"), import));
    EXPECT_TRUE(plan.committable()) << (plan.problems.empty() ? "" : plan.problems.front());
    EXPECT_THAT(plan.run.checks, SizeIs(1));
    order.check_samples = std::vector<std::string>{};
    EXPECT_THAT(BW_MUST(service::propose_map(desk("ana"), order)).check_samples,
                testing::IsEmpty());
}

}  // namespace
}  // namespace bw::worksday
