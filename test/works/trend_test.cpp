// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Charts of results in the books: the same numbers as of a file with the same values.
#include <array>
#include <cstdio>
#include <fstream>

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "service/book_trend.hpp"
#include "service/results_import.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using nlohmann::json;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::SizeIs;
using testing::StartsWith;

constexpr double kRound = 1e-9;  // relative: of the digits through the portion's strength and back

class TrendDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
    }
    service::BookTrend trend(const service::BookTrendQuery& query) {
        return BW_MUST(service::results_in_time(*books_, query));
    }
    /// Runs a command on the books, and gives its JSON.
    json charted(std::vector<std::string> words, int code) {
        words.insert(words.begin(), {"chart", "trend", "--json"});
        std::FILE* out = std::tmpfile();
        std::FILE* err = std::tmpfile();
        EXPECT_EQ(cli::run(words, {out, err}), code) << text_of(err);
        const std::string text = text_of(out);
        return json::parse(text.empty() ? "{}" : text);
    }
    static std::string text_of(std::FILE* file) {
        std::rewind(file);
        std::string out;
        for (int c = std::fgetc(file); c != EOF; c = std::fgetc(file)) {
            out += static_cast<char>(c);
        }
        std::fclose(file);
        return out;
    }
    std::string file_of(const std::string& name, const std::string& text) {
        std::ofstream(ground_.folder() / name) << text;
        return ground_.folder() / name;
    }
};
BW_ON_BOTH(TrendDay);

/// Every number of a chart, and every mark, is that of another.
void expect_same_chart(const json& books, const json& file) {
    for (const char* of : {"limits", "range_limits"}) {
        for (const char* which : {"low", "centre", "high"}) {
            const double wanted = file[of][which];
            EXPECT_NEAR(books[of][which], wanted, kRound * std::abs(wanted)) << of << which;
        }
    }
    EXPECT_NEAR(books["sigma"], file["sigma"], kRound);
    EXPECT_EQ(books["signals"], file["signals"]);
    ASSERT_EQ(books["points"].size(), file["points"].size());
    for (std::size_t i = 0; i < file["points"].size(); ++i) {
        const json& a = books["points"][i];
        const json& b = file["points"][i];
        EXPECT_EQ(a["label"], b["label"]);
        EXPECT_NEAR(a["value"], b["value"], kRound * b["value"].get<double>());
        EXPECT_NEAR(a["weighted_mean"], b["weighted_mean"],
                    kRound * b["weighted_mean"].get<double>());
        EXPECT_EQ(a["marked"], b["marked"]) << i;
    }
}

TEST_P(TrendDay, HasTheNumbersOfAFileAndNamesTheBatchThatIsOff) {
    const std::vector<double> times = {1, 1.002, 0.999, 1.001, 0.998, 1.0015, 1, 0.9995, 1.03};
    std::string file = "result,batch,value\n", means = "batch,value\n";
    std::vector<std::string> batches;
    for (const double t : times) {
        batches.push_back(ready(t));
        const auto run = BW_MUST(service::runs_of(*books_, batches.back())).front().is;
        double sum = 0;
        for (const works::TestResult& r : run.results) {
            if (r.analyte == "Ca") {
                file += fmt::format("{} {}/{},", r.batch, run.number, r.line) + r.batch + "," +
                        r.digits + "\n";
                sum += std::stod(r.digits) / 2;
            }
        }
        means += fmt::format("{},{:.5f}\n", batches.back(), sum);
    }
    const std::vector<std::string> of_books = {"--analyte", "Ca",   "--books",  place_,
                                               "--method",  "M-07", "--recipe", kProduct};
    const auto with = [](std::vector<std::string> a, const std::vector<std::string>& b) {
        a.insert(a.end(), b.begin(), b.end());
        return a;
    };
    const std::string values = file_of("values.csv", file);
    const json books = charted(with(of_books, {"--phase-1", "16"}), 1);
    expect_same_chart(books, charted({values, "--column", "value", "--phase-1", "16"}, 1));
    EXPECT_EQ(books["unit"], "mmol/kg");
    EXPECT_EQ(books["invented"], true);
    ASSERT_EQ(books["points"].size(), 18U);
    EXPECT_THAT(books["points"][16]["label"].get<std::string>(), StartsWith(batches[8] + " "));
    EXPECT_EQ(books["points"][16]["marked"][0], "beyond an action limit");
    EXPECT_EQ(books["points"][15]["marked"].size(), 0U);
    expect_same_chart(
        charted(with(of_books, {"--group", "batch"}), 1),
        charted({values, "--column", "value", "--label", "result", "--group", "batch"}, 1));
    const json one_each = charted(with(of_books, {"--batch-means", "--phase-1", "8"}), 1);
    expect_same_chart(one_each, charted({file_of("means.csv", means), "--phase-1", "8"}, 1));
    EXPECT_EQ(one_each["points"][8]["label"], batches[8]);
    EXPECT_EQ(one_each["points"][8]["marked"][0], "beyond an action limit");
}

TEST_P(TrendDay, IsOfWhatCountsAndWhatIsChosen) {
    const std::string first = ready();
    minutes_ += 24 * 60;
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string one = dissolve(sample);
    const std::string two = dissolve(sample);
    const std::string run = enter({one, two}, 1.001);
    count(run);
    count(enter({one}, 1.002, 1, "M-08"));
    enter({two}, 1.5);  // waits for its check
    service::BookTrendQuery query;
    query.analyte = "Ca";
    const auto mixed = service::results_in_time(*books_, query);
    ASSERT_FALSE(mixed);
    EXPECT_EQ(mixed.error().code, ProblemCode::BadInput);
    EXPECT_EQ(mixed.error().place.field, "--method");
    EXPECT_THAT(mixed.error().message, HasSubstr("by M-07 and M-08"));
    charted({"--analyte", "Ca", "--books", place_}, 2);
    query.method = "M-07";
    service::BookTrend all = trend(query);
    EXPECT_THAT(all.groups, ElementsAre(first, first, batch, batch));
    ASSERT_THAT(all.notices, SizeIs(1));
    EXPECT_THAT(all.notices[0].text, HasSubstr("1 not checked or not counted"));
    BW_MUST(service::set_results_aside(desk("ben"), run, std::array<std::int64_t, 1>{1},
                                       intent("bubble in the cell")));
    all = trend(query);
    EXPECT_THAT(all.groups, ElementsAre(first, first, batch));
    EXPECT_EQ(all.notices.back().code, "set_aside");
    query.method = "M-08";
    all = trend(query);
    ASSERT_THAT(all.values, SizeIs(1));
    EXPECT_NEAR(all.values[0], kCalcium * 1.002 * 0.9995 * 1000, 1e-4);  // four digits were typed
    const auto runs = BW_MUST(service::runs_of(*books_, batch));
    EXPECT_EQ(all.labels[0], batch + " " + runs[1].is.number + "/1");
    query.method = "M-07";
    query.until = "2026-03-02";
    EXPECT_THAT(trend(query).groups, ElementsAre(first, first));
    query.until = "";
    query.since = "2026-03-03";
    EXPECT_THAT(trend(query).groups, ElementsAre(batch));
    query.since = "";
    for (const char* with : {"calcium chloride", "C26-0003"}) {
        query.material = with;
        EXPECT_THAT(trend(query).values, SizeIs(3)) << with;
    }
    query.material = "strontium chloride";
    EXPECT_EQ(service::results_in_time(*books_, query).error().code, ProblemCode::NotFound);
    query.material = "";
    query.recipe = kProduct + "/1";
    EXPECT_THAT(trend(query).values, SizeIs(3));
    query.recipe = kProduct + "/2";
    EXPECT_FALSE(service::results_in_time(*books_, query));
}

TEST_P(TrendDay, TellsTheMethodsOfOneRunApart) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string one = dissolve(sample);
    const auto entry = [&](const std::string& method, double times) {
        return service::ResultEntry{one, "Ca", method, digits(kCalcium * times), "", "", "", ""};
    };
    count(BW_MUST(service::enter_results(desk("ana"), {entry("M-07", 1), entry("M-08", 1.01)},
                                         std::nullopt, intent()))
              .answer);
    service::BookTrendQuery query;
    query.analyte = "Ca";
    EXPECT_EQ(service::results_in_time(*books_, query).error().place.field, "--method");
    query.method = "M-08";
    const auto values = trend(query).values;
    ASSERT_THAT(values, SizeIs(1));
    EXPECT_NEAR(values[0], kCalcium * 1.01 * 1000, 1e-4);  // four digits were typed
}

TEST_P(TrendDay, IsOfTheNewestResultsWhereOlderOnesAreLeftOut) {
    const std::string first = ready();
    const std::string second = ready(1.001);
    const std::string third = ready(0.999);
    service::BookTrendQuery query;
    query.analyte = "Ca";
    EXPECT_THAT(trend(query).notices, SizeIs(0));
    query.last = 6;
    EXPECT_THAT(trend(query).notices, SizeIs(0));
    query.last = 3;
    const service::BookTrend newest = trend(query);
    EXPECT_THAT(newest.groups, ElementsAre(second, third, third));
    ASSERT_THAT(newest.notices, SizeIs(1));
    EXPECT_THAT(newest.notices[0].text, HasSubstr("Of the newest 3 results; there are older"));
    query.batch_means = true;  // of no batch a part
    EXPECT_THAT(trend(query).labels, ElementsAre(third));
    query.last = -1;
    EXPECT_EQ(service::results_in_time(*books_, query).error().place.field, "--last");
    ready(1.0005);
    ready(0.9995);
    const json chart = charted({"--analyte", "Ca", "--books", place_, "--last", "8"}, 0);
    EXPECT_EQ(chart["points"].size(), 8U);
    EXPECT_THAT(chart["notices"].dump(), HasSubstr("Of the newest 8 results"));
    const json grouped =
        charted({"--analyte", "Ca", "--books", place_, "--last", "9", "--group", "batch"}, 0);
    EXPECT_EQ(grouped["points"].size(), 4U);
    charted({"--analyte", "Ca", "--books", place_, "--last", "0"}, 2);
    charted({file_of("values.csv", "value\n1\n2\n3\n"), "--last", "2"}, 2);
}

TEST_P(TrendDay, TakesTheSignedLimitsOfTheProduct) {
    for (const double t : {1.0, 1.002, 0.999, 1.001, 0.998, 1.0015, 1.0, 0.9995, 1.0005, 1.0}) {
        ready(t);
    }
    const std::vector<std::string> words = {"--analyte", "Ca", "--books", place_};
    const json chart = charted(words, 0);
    constexpr double kPart = 0.02;  // of the target: what limits take unless they say so
    EXPECT_NEAR(chart["allowed"]["low"], kCalcium * 1000 * (1 - kPart), 1e-5);
    EXPECT_NEAR(chart["allowed"]["high"], kCalcium * 1000 * (1 + kPart), 1e-5);
    EXPECT_EQ(chart["allowed"]["from"], "limits 1 of Three salts, signed on 2026-03-02");
    EXPECT_TRUE(chart["capability_within"].is_object()) << chart["no_capability"];
    std::vector<std::string> given = words;
    given.insert(given.end(), {"--limits", "9,11"});
    const json own = charted(given, 0);
    EXPECT_EQ(own["allowed"]["low"], 9);
    EXPECT_EQ(own["allowed"]["from"], "as given");
    keep_rules("[[band]]\nsymbol = \"Ca\"\nlow = \"9.5 mmol/kg\"\n", {"Mg"});
    const json next = charted(words, 0);
    EXPECT_NEAR(next["allowed"]["low"], 9.5, 1e-9);
    EXPECT_TRUE(next["allowed"]["high"].is_null());
    EXPECT_THAT(next["allowed"]["from"].get<std::string>(), StartsWith("limits 2 of"));
    keep_rules("", {"Mg"});
    EXPECT_TRUE(charted(words, 0)["allowed"].is_null());
}

TEST_P(TrendDay, ChartsACheckSampleOfTheImportedTables) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    constexpr const char* kMap = R"(format = "brinewright/1"
kind = "column-map"
name = "invented instrument"
decimal_sign = "point"
below_limit = ["<"]
dilution_applied = false
check_samples = ["QC*"]
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
)";
    const std::vector<std::string> digits = {"8.24", "8.19", "8.31"};
    for (const std::string& d : digits) {
        const std::string portion = dissolve(sample);
        const std::string rows =
            "Sample,Dilution,Ca [mg/L]\nQC 1,1," + d + "\nQC 2,2,4.00\n" + portion + ",50,8.05\n";
        const service::ImportOrder order = {d + ".csv", rows, kMap, batch, "M-07", {}, {}};
        BW_MUST(service::import_results(desk("ana"), order, intent()));
    }
    service::BookTrendQuery query;
    query.analyte = "Ca";
    query.check_sample = "QC 1";
    const service::BookTrend checks = trend(query);
    EXPECT_THAT(checks.values, ElementsAre(8.24, 8.19, 8.31));
    EXPECT_EQ(checks.unit, "mg/L");
    const auto runs = BW_MUST(service::runs_of(*books_, batch));
    EXPECT_EQ(checks.labels[1], runs[1].is.number + " C2");
    query.check_sample = "QC 2";
    EXPECT_THAT(trend(query).values, ElementsAre(8, 8, 8));  // times its dilution
    query.last = 2;
    const service::BookTrend newest = trend(query);
    EXPECT_EQ(newest.labels[0], runs[1].is.number + " C3");
    EXPECT_THAT(newest.values, SizeIs(2));
    ASSERT_THAT(newest.notices, SizeIs(1));
    EXPECT_THAT(newest.notices[0].text, HasSubstr("newest 2 runs"));
    query.last = 0;
    query.method = "M-08";
    EXPECT_EQ(service::results_in_time(*books_, query).error().code, ProblemCode::NotFound);
    const std::string portion = dissolve(sample);
    BW_MUST(
        service::import_results(desk("ana"),
                                {"other.csv",
                                 "Sample,Dilution,Ca [mg/L]\nQC 1,1,8.4\n" + portion + ",50,8.05\n",
                                 kMap,
                                 batch,
                                 "M-08",
                                 {},
                                 {}},
                                intent()));
    query.check_sample = "QC 1";
    query.method = "";
    EXPECT_EQ(service::results_in_time(*books_, query).error().place.field, "--method");
    query.method = "M-08";
    EXPECT_THAT(trend(query).values, ElementsAre(8.4));
    EXPECT_TRUE(BW_MUST(books_->verify()).sound());  // one map, kept by three imports
}

TEST_P(TrendDay, TakesNoTwoProductsIntoOneChart) {
    ready();
    draft("Other salts");
    count(test_twice(make_batch(0, 1, "Other salts")));
    service::BookTrendQuery query;
    query.analyte = "Ca";
    const auto both = service::results_in_time(*books_, query);
    ASSERT_FALSE(both);
    EXPECT_EQ(both.error().place.field, "--recipe");
    EXPECT_THAT(both.error().message, HasSubstr("Other salts and Three salts"));
    query.recipe = "Other salts";
    EXPECT_THAT(trend(query).values, SizeIs(2));
}

TEST_P(TrendDay, RefusesWhatIsNoQuestion) {
    const auto problem = [&](const service::BookTrendQuery& query) {
        return service::results_in_time(*books_, query).error();
    };
    EXPECT_EQ(problem({}).place.field, "--analyte");
    service::BookTrendQuery query;
    query.analyte = "Ca";
    EXPECT_EQ(problem(query).code, ProblemCode::NotFound);
    query.since = "yesterday";
    EXPECT_EQ(problem(query).place.field, "--since");
    query.since = "";
    query.check_sample = "QC 1";
    query.recipe = kProduct;
    EXPECT_EQ(problem(query).place.field, "--check-sample");
    charted({"values.csv", "--analyte", "Ca", "--books", place_}, 2);
    charted({"--method", "M-07", "--books", place_}, 2);
    charted({"--analyte", "Ca", "--books", place_, "--group", "lot"}, 2);
    charted(std::vector<std::string>(), 2);
}

}  // namespace
}  // namespace bw::worksday
