// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The end user's sheet: drafted, signed for what it says on safety, kept and printed from what is
// kept.
#include <cmath>
#include <limits>

#include <gmock/gmock.h>

#include "ref/tables.hpp"
#include "report/pictogram.hpp"
#include "service/mixing_sheets.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::HasSubstr;
using testing::StartsWith;
using works::Decision;

class MixingDay : public ReleasedDay {
protected:
    service::MixingOrder order(const std::string& shown = "") {
        service::MixingOrder out;
        out.batch = batch_;
        out.use_by = "2027-12-31";
        out.shown = shown;
        return out;
    }
    std::string mark() {
        return BW_MUST(service::draft_mixing_sheet(*books_, order())).mark.substr(0, 16);
    }
};

BW_ON_BOTH(MixingDay);

TEST_P(MixingDay, IsSignedByADutyOverWhatWasShownAndKept) {
    const auto draft = BW_MUST(service::draft_mixing_sheet(*books_, order()));
    EXPECT_EQ(draft.sheet.safety.decided_by, "");
    EXPECT_THAT(draft.sheet.safety.cautions,
                testing::ElementsAre(testing::HasSubstr("its own safety data sheet")));
    const auto unseen =
        service::sign_mixing_sheet(desk("quinn"), order(std::string(16, '0')), signing(), intent());
    ASSERT_FALSE(unseen);
    EXPECT_EQ(unseen.error().code, ProblemCode::Refused);
    EXPECT_FALSE(service::sign_mixing_sheet(desk("ana"), order(mark()), signing(), intent()));
    EXPECT_EQ(service::mixing_papers(*books_, batch_).error().code, ProblemCode::NotFound);
    const std::string id =
        BW_MUST(service::sign_mixing_sheet(desk("quinn"), order(mark()), signing(), intent()))
            .answer;
    EXPECT_EQ(id, "MS-" + batch_ + "/1");
    const auto papers = BW_MUST(service::mixing_papers(*books_, batch_));
    EXPECT_THAT(papers.pdf, StartsWith("%PDF-"));
    EXPECT_THAT(papers.narrow_pdf, StartsWith("%PDF-"));
    EXPECT_EQ(store::sha256_hex(papers.pdf), papers.is.paper);
    EXPECT_EQ(store::sha256_hex(papers.narrow_pdf), papers.is.narrow);
    EXPECT_EQ(store::sha256_hex(papers.json), papers.is.approved.mark);
    const auto sheet = BW_MUST(service::mixing_sheet_of_json(papers.json));
    EXPECT_THAT(sheet.safety.decided_by, StartsWith("The quinn, 2026-03-"));
    EXPECT_EQ(sheet.salt_per_litre, draft.sheet.salt_per_litre);
    EXPECT_EQ(sheet.amounts.size(), 4U);
    EXPECT_EQ(sheet.density_reference, "20 \u00B0C / 20 \u00B0C");
    EXPECT_THAT(service::mixing_sheet_sheets(sheet).back().head,
                testing::Contains("relative density, 20 \u00B0C / 20 \u00B0C"));
    EXPECT_EQ(BW_MUST(service::mixing_papers(*books_, batch_)).pdf, papers.pdf);
}

TEST_P(MixingDay, TheDraftTellsEverySentenceThatThePaperPrints) {
    const auto draft = BW_MUST(service::draft_mixing_sheet(*books_, order()));
    const std::string data = service::mixing_sheet_json(draft.sheet);
    EXPECT_EQ(store::sha256_hex(data), draft.mark);  // so that the mark is of these sentences
    const auto words = report::mixing_words(draft.sheet);
    ASSERT_EQ(words.steps.size(), 7U);
    for (const report::MixingStep& step : words.steps) {
        EXPECT_THAT(data, HasSubstr(step.rest));
    }
    EXPECT_THAT(data, HasSubstr(words.rate));
    EXPECT_THAT(data, HasSubstr(words.if_cloudy));
    for (const std::string& sentence : words.storing) {
        EXPECT_THAT(data, HasSubstr(sentence));
    }
    EXPECT_THAT(data, HasSubstr(std::string(report::safety_precedence())));
    for (const std::string& code : draft.sheet.safety.pictograms) {
        EXPECT_THAT(data, HasSubstr(std::string(report::pictogram_name(code))));
    }
}

TEST_P(MixingDay, TheNewestIssueCountsAndEachIsKept) {
    BW_MUST(service::sign_mixing_sheet(desk("quinn"), order(mark()), signing(), intent()));
    const auto first = BW_MUST(service::mixing_papers(*books_, batch_));
    BW_MUST(service::sign_mixing_sheet(desk("quinn"), order(mark()), signing(), intent()));
    const auto second = BW_MUST(service::mixing_papers(*books_, batch_));
    EXPECT_EQ(second.is.issue, 2);
    EXPECT_NE(second.pdf, first.pdf);
    EXPECT_EQ(BW_MUST(books_->attachment(first.is.paper)).bytes, first.pdf);
}

TEST_P(MixingDay, IsNotPrintedForABatchWhoseReleaseNoLongerHolds) {
    BW_MUST(service::sign_mixing_sheet(desk("quinn"), order(mark()), signing(), intent()));
    BW_MUST(service::judge_lot(desk("quade"), "C26-0003", works::LotState::OnHold,
                               intent("called back")));
    const auto refused = service::mixing_papers(*books_, batch_);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("no longer holds"));
    EXPECT_FALSE(service::draft_mixing_sheet(*books_, order()));
}

TEST_P(MixingDay, SaysWhichDecisionStands) {
    BW_MUST(service::sign_mixing_sheet(desk("quinn"), order(mark()), signing(), intent()));
    BW_MUST(service::judge_lot(desk("quade"), "C26-0003", works::LotState::OnHold,
                               intent("called back")));
    BW_MUST(decide("quinn", batch_, works::Decision::Hold, "a lot is called back"));
    const auto refused = service::mixing_papers(*books_, batch_);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message,
                HasSubstr("is on hold since 2026-03-02 (decision 2): a lot is called back"));
    BW_MUST(service::judge_lot(desk("quade"), "C26-0003", works::LotState::Accepted,
                               intent("as certified")));
    EXPECT_THAT(service::mixing_papers(*books_, batch_).error().message,
                HasSubstr("is on hold since 2026-03-02 (decision 2)"));
}

TEST_P(MixingDay, RefusesDaysThatAreNone) {
    service::MixingOrder asked = order();
    asked.use_by = "2027-02-30";
    EXPECT_THAT(service::draft_mixing_sheet(*books_, asked).error().message,
                HasSubstr("the day 2027-02-30 does not exist"));
    asked.use_by = "2027-2-3";
    EXPECT_THAT(service::draft_mixing_sheet(*books_, asked).error().message,
                HasSubstr("is no day: write it as"));
    asked.use_by = "2025-01-01";
    EXPECT_THAT(service::draft_mixing_sheet(*books_, asked).error().message,
                HasSubstr("2025-01-01 is before 2026-03-02"));
}

TEST_P(MixingDay, RefusesVolumesThatAreNone) {
    for (const double litres :
         {std::nan(""), std::numeric_limits<double>::infinity(), 0.0, 1e300}) {
        service::MixingOrder asked = order();
        asked.litres = {10, litres};
        const auto refused = service::draft_mixing_sheet(*books_, asked);
        ASSERT_FALSE(refused) << litres;
        EXPECT_EQ(refused.error().place.field, "litres");
    }
}

TEST_P(MixingDay, ARequestNumberActsOnceAndForOneBatchOnly) {
    const service::Intent once = intent();
    const auto asked = order(mark());
    const auto first = BW_MUST(service::sign_mixing_sheet(desk("quinn"), asked, signing(), once));
    const auto again = BW_MUST(service::sign_mixing_sheet(desk("quinn"), asked, signing(), once));
    EXPECT_TRUE(again.repeated);
    EXPECT_EQ(again.answer, first.answer);
    service::MixingOrder other = asked;
    other.batch = "B26-0099-X";
    const auto refused = service::sign_mixing_sheet(desk("quinn"), other, signing(), once);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::Refused);
}

TEST_P(MixingDay, OtherDataThanASheetsAreRefused) {
    EXPECT_EQ(service::mixing_sheet_of_json("{}").error().code, ProblemCode::BadInput);
    EXPECT_EQ(service::mixing_sheet_of_json("no json").error().code, ProblemCode::BadInput);
}

TEST(PaperSafety, EveryPictogramOfTheStatementsIsDrawnAndNamed) {
    for (const ref::HazardStatement& h : ref::hazard_statements()) {
        if (!h.pictogram.empty()) {
            EXPECT_FALSE(report::pictogram_name(h.pictogram).empty()) << h.code;
        }
    }
}

}  // namespace
}  // namespace bw::worksday
