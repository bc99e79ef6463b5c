// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the papers say of the books' records.
#include <array>

#include <gmock/gmock.h>

#include "service/certificate_paper.hpp"
#include "service/certificates.hpp"
#include "service/workroom_papers.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;
using testing::SizeIs;

const std::string kNow = "2026-03-09T12:00:00.000Z";

class PapersDay : public WorksDay {
protected:
    std::string plan(double size_kg) {
        return BW_MUST(service::plan_batch(desk("pia"), {kProduct, size_kg, true, false, {}, ""},
                                           intent()))
            .answer;
    }
    works::Batch batch(const std::string& number) {
        return BW_MUST(service::kept<works::Batch>(*books_, number)).is;
    }
    report::BatchSheet sheet(const std::string& number) {
        return BW_MUST(service::batch_sheet(*books_, number, kNow));
    }
    void weigh(const std::string& number, const works::Addition& a, const std::string& net) {
        BW_MUST(service::weigh(desk("otto"), number, {{a.step, a.lot, "", net, "250 g", true}},
                               intent()));
    }
    /// A sample tested in a run, its portions counted.
    void test_sample(const std::string& sample) {
        const std::string first = dissolve(sample);
        count(enter({first, dissolve(sample)}));
    }
    report::Certificate issued(const std::string& batch) {
        const std::string id =
            BW_MUST(service::issue_certificate(desk("quinn"), {batch, "", "2027-12-31", true},
                                               nullptr, intent()))
                .answer;
        return BW_MUST(service::certificate_of_json(BW_MUST(service::papers_of(*books_, id)).json));
    }
};

BW_ON_BOTH(PapersDay);

TEST_P(PapersDay, ASheetAsksForPartsWhereTheScaleCarriesLess) {
    const std::string number = plan(900);  // 631 kg of sodium chloride on a scale of 600 kg
    const report::BatchSheet of = sheet(number);
    const report::SheetAddition& salt = of.additions.front();
    EXPECT_EQ(salt.material, "sodium chloride");
    EXPECT_EQ(salt.parts, 2U);
    EXPECT_EQ(salt.part, "315.6");
    EXPECT_EQ(of.additions.back().parts, 1U);
    EXPECT_THAT(batch(number).notices, Contains(HasSubstr("carries 600 kg: weigh the 631.17 kg of "
                                                          "sodium chloride in 2 parts of about "
                                                          "315.6 kg")));
}

TEST_P(PapersDay, ASheetShowsDigitsAsTypedAndWhoWhenAndWhyCorrected) {
    const std::string number = plan(100);
    const works::Addition a = batch(number).additions.front();
    weigh(number, a, "40.00 kg");
    weigh(number, a, fmt::format("{:.0f} g", (a.target_kg - 40) * 1000));
    BW_MUST(service::correct_weighing(desk("otto"), fmt::format("{}/{}.1", number, a.step),
                                      "40.010 kg", false, intent("the display was misread")));
    const auto weighings = sheet(number).additions.front().weighings;
    ASSERT_THAT(weighings, SizeIs(2));
    EXPECT_EQ(weighings[0].net, "40.010");
    EXPECT_EQ(weighings[0].tare, "0.250");
    EXPECT_EQ(weighings[1].net, fmt::format("{:.3f}", a.target_kg - 40));
    EXPECT_EQ(weighings[0].by, "The otto");
    EXPECT_THAT(weighings[0].at, testing::EndsWith(" UTC"));
    EXPECT_FALSE(weighings[0].whole);  // the line's verdict is the last part's
    EXPECT_TRUE(weighings[1].whole);
    EXPECT_THAT(weighings[0].correction,
                HasSubstr("corrected from 40.00 kg by The otto, 2026-03-"));
    EXPECT_THAT(weighings[0].correction, HasSubstr(": the display was misread"));
    EXPECT_EQ(weighings[1].correction, "");
}

TEST_P(PapersDay, ASheetNamesWhatWasSignedAndTheSamplesTaken) {
    const std::string number = make_batch();
    const std::string sample = take_sample(number);
    const report::BatchSheet of = sheet(number);
    EXPECT_THAT(of.safety.signed_for,
                ElementsAre(HasSubstr("Recipe version 1 approved with these hazards and cautions "
                                      "by The quinn (quality manager), 2026-03-")));
    EXPECT_THAT(of.sampling, Contains(HasSubstr("By chance alone portions of 40 g have a standard "
                                                "deviation of ")));
    EXPECT_THAT(of.sampling, Contains(HasSubstr("Taken: " + sample +
                                                ", 500 g in 10 increments, by The otto on "
                                                "2026-03-")));
    EXPECT_EQ(of.planned_on, batch(number).planned_at.substr(0, 10));
}

TEST_P(PapersDay, ACertificateTakesItsSharesFromTheWeighings) {
    keep_rules();
    const std::string number = make_batch(1, 1.03);  // 3 % more of the first line, explained
    count(test_twice(number));
    BW_MUST(decide("quinn", number));
    const works::Batch planned = batch(number);
    double total = 0;
    double first = 0;
    for (const works::Addition& a : planned.additions) {
        const double kg = a.target_kg * (a.step == 1 ? 1.03 : 1);
        total += kg;
        first += a.lot == planned.additions[0].lot ? kg : 0;
    }
    const report::Certificate paper = issued(number);
    bool found = false;
    for (const report::CertificateLot& lot : paper.lots) {
        if (lot.lot == planned.additions[0].lot) {
            found = true;
            EXPECT_NEAR(std::stod(lot.share), 100 * first / total, 5e-3) << lot.share;
        }
    }
    EXPECT_TRUE(found);
    EXPECT_THAT(paper.departures, Contains(HasSubstr("weighed beside the tolerance. Answer: taken "
                                                     "into account.")));
}

TEST_P(PapersDay, ACertificateCountsRunsThatCountAndSaysWhatWasSetAside) {
    keep_rules();
    const std::string number = make_batch();
    const std::string sample = take_sample(number);
    const std::string spilt = dissolve(sample);
    const std::string lost = enter({spilt});  // one portion, two elements
    for (const std::int64_t line : {1, 2}) {
        BW_MUST(service::set_results_aside(desk("ana"), lost, std::array<std::int64_t, 1>{line},
                                           intent("spilt")));
    }
    BW_MUST(service::set_portion_aside(desk("ana"), spilt, intent("spilt")));
    test_sample(sample);
    BW_MUST(decide("quinn", number));
    const report::Certificate paper = issued(number);
    EXPECT_THAT(paper.method_note, Contains(HasSubstr("2 results and 1 test portion.")));
    EXPECT_THAT(paper.method_note, Contains(HasSubstr("per kg of water made with")));
    for (const report::SignatureBlock& s : paper.signatures) {
        EXPECT_THAT(s.meaning, Not(HasSubstr("runs)")));
    }
}

TEST_P(PapersDay, ACertificateSaysNothingOfHomogeneityThatOrdersTheLaboratory) {
    keep_rules();
    const std::string number = make_batch();
    test_sample(take_sample(number));
    test_sample(take_sample(number));
    BW_MUST(decide("quinn", number));
    const report::Certificate paper = issued(number);
    ASSERT_THAT(paper.homogeneity, SizeIs(2));
    EXPECT_THAT(paper.homogeneity[0], HasSubstr("standard deviation between 2 samples"));
    EXPECT_THAT(paper.homogeneity[0],
                HasSubstr("no verdict, for the samples were tested in several runs."));
    EXPECT_THAT(paper.homogeneity, Not(Contains(HasSubstr("test them"))));
    EXPECT_THAT(paper.method_note, Contains("No result and no test portion was set aside."));
}

}  // namespace
}  // namespace bw::worksday
