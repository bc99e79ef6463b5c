// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// A certificate is looked at before it is issued, and what is issued is what was shown.
#include <gmock/gmock.h>

#include "service/certificate_paper.hpp"
#include "service/certificates.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

/// Of these invented books nothing is later.
const std::string kToday = "2026-04-30";

class DraftDay : public ReleasedDay {
protected:
    service::CertificateOrder order(const std::string& shown = "") const {
        return {batch_, "An invented reef", "2027-12-31", true, "", "", shown};
    }
    Result<store::Receipt> issue(const service::CertificateOrder& of,
                                 const std::string& why = "as planned") {
        return service::issue_certificate(desk("quinn"), of, nullptr, intent(why));
    }
};

BW_ON_BOTH(DraftDay);

TEST_P(DraftDay, WhatIsIssuedIsWhatWasShown) {
    const std::string mark_before = BW_MUST(books_->mark());
    const auto draft = BW_MUST(service::draft_certificate(*books_, order(), "", kToday));
    EXPECT_EQ(BW_MUST(books_->mark()), mark_before);  // nothing is written
    EXPECT_TRUE(draft.paper.mark.draft);
    EXPECT_THAT(draft.paper.mark.verification_code, IsEmpty());
    EXPECT_THAT(draft.paper.mark.trail_mark, IsEmpty());
    EXPECT_THAT(draft.paper.issued_on, IsEmpty());
    EXPECT_TRUE(report::certificate_pdf(draft.paper));
    EXPECT_EQ(BW_MUST(service::draft_certificate(*books_, order(), "", kToday)).mark, draft.mark);
    const auto receipt = BW_MUST(issue(order(draft.mark.substr(0, 16))));
    const auto papers = BW_MUST(service::papers_of(*books_, receipt.answer));
    const auto paper = BW_MUST(service::certificate_of_json(papers.json));
    EXPECT_FALSE(paper.mark.draft);
    EXPECT_EQ(paper.customer, "An invented reef");
    EXPECT_EQ(paper.results.size(), draft.paper.results.size());
    EXPECT_EQ(paper.results[0].value, draft.paper.results[0].value);
    EXPECT_EQ(paper.lots.size(), draft.paper.lots.size());
}

TEST_P(DraftDay, AnotherDraftThanTheOneShownIsRefused) {
    const auto draft = BW_MUST(service::draft_certificate(*books_, order(), "", kToday));
    service::CertificateOrder other = order(draft.mark);
    other.customer = "Somebody else";
    const auto refused = issue(other);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::Refused);
    EXPECT_THAT(refused.error().message, HasSubstr("as it would be issued now"));
    const auto short_of = issue(order(draft.mark.substr(0, 8)));
    ASSERT_FALSE(short_of);
    EXPECT_TRUE(issue(order(draft.mark)));
}

TEST_P(DraftDay, AReissueShowsWhyItReplacesAndIsHeldToThatReason) {
    BW_MUST(issue(order()));
    const auto unsaid = service::draft_certificate(*books_, order(), " ", kToday);
    ASSERT_FALSE(unsaid);
    EXPECT_EQ(unsaid.error().place.field, "why");
    const auto draft =
        BW_MUST(service::draft_certificate(*books_, order(), "customer misspelt", kToday));
    EXPECT_EQ(draft.paper.issue, "2");
    EXPECT_THAT(draft.paper.replaces, HasSubstr("customer misspelt"));
    EXPECT_FALSE(issue(order(draft.mark), "another reason"));
    EXPECT_THAT(BW_MUST(issue(order(draft.mark), "customer misspelt")).answer, HasSubstr("/2"));
}

TEST_P(DraftDay, ADayOfReceiptThatIsStillToComeIsRefused) {
    service::CertificateOrder of = order();
    of.received = "2026-05-01";
    const auto early = service::draft_certificate(*books_, of, "", kToday);
    ASSERT_FALSE(early);
    EXPECT_EQ(early.error().code, ProblemCode::BadInput);
    EXPECT_EQ(early.error().place.field, "received");
    EXPECT_THAT(early.error().message, HasSubstr("2026-05-01 is still to come"));
    EXPECT_FALSE(issue(of));
    of.received = kToday;
    EXPECT_TRUE(service::draft_certificate(*books_, of, "", kToday));
    EXPECT_FALSE(issue(of)) << "it is March at that desk";
}

TEST_P(DraftDay, OnlyAReleasedBatchHasADraft) {
    service::CertificateOrder of = order();
    of.batch = ready();
    const auto early = service::draft_certificate(*books_, of, "", kToday);
    ASSERT_FALSE(early);
    EXPECT_THAT(early.error().message, HasSubstr("is ready"));
}

}  // namespace
}  // namespace bw::worksday
