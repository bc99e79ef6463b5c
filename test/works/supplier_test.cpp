// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What a supplier's record decides about the lots that come from it.
#include <fmt/format.h>
#include <gmock/gmock.h>

#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::HasSubstr;
using works::LotState;
using works::SupplierState;

class SupplierDay : public WorksDay {
protected:
    Result<store::Receipt> receive(const std::string& number, const std::string& from,
                                   const std::string& material = "sodium chloride") {
        const std::string text = fmt::format(
            "format = \"brinewright/1\"\nkind = \"lots\"\n[[lot]]\nmaterial = \"{}\"\n"
            "number = \"{}\"\nstock = \"10 kg\"\n{}",
            material, number, from.empty() ? "" : "supplier = \"" + from + "\"\n");
        return service::receive_lots(desk("rex"), BW_MUST(io::parse_document(text, "test")), {},
                                     intent());
    }
    works::Lot lot(const std::string& number) {
        return BW_MUST(service::kept<works::Lot>(*books_, number)).is;
    }
    void keep(works::Supplier supplier) {
        BW_MUST(service::keep_supplier(desk("quinn"), supplier, intent("looked at anew")));
    }
};

BW_ON_BOTH(SupplierDay);

TEST_P(SupplierDay, IsNeededAndTheSentenceSaysHowToKeepIt) {
    const auto unknown = receive("A1", "Nobody");
    ASSERT_FALSE(unknown);
    EXPECT_EQ(unknown.error().code, ProblemCode::NotFound);
    EXPECT_THAT(unknown.error().text(), HasSubstr("first keep this supplier, who may supply '"));
    EXPECT_THAT(unknown.error().place.field, HasSubstr("supplier"));
    const auto none = receive("A1", "");
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, ProblemCode::BadInput);
    EXPECT_THAT(none.error().text(), HasSubstr("names no supplier"));
    EXPECT_FALSE(BW_MUST(service::if_kept<works::Lot>(*books_, "A1")));
}

TEST_P(SupplierDay, ApprovedGivesAReceivedLotWithoutNotice) {
    EXPECT_EQ(BW_MUST(receive("A1", "Invented salts")).answer, "");
    EXPECT_EQ(lot("A1").state, LotState::Received);
}

TEST_P(SupplierDay, StoppedIsRefused) {
    works::Supplier s = supplier();
    s.state = SupplierState::Stopped;
    s.reason = "ammonium twice";
    keep(s);
    const auto refused = receive("A1", s.name);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::Refused);
    EXPECT_THAT(refused.error().text(), HasSubstr("stopped (ammonium twice)"));
    EXPECT_FALSE(BW_MUST(service::if_kept<works::Lot>(*books_, "A1")));
}

TEST_P(SupplierDay, OnWatchIsHeldWithANoticeAndSomebodyElseAccepts) {
    works::Supplier s = supplier();
    s.state = SupplierState::OnWatch;
    s.reason = "moist bags";
    keep(s);
    EXPECT_THAT(BW_MUST(receive("A1", s.name)).answer, HasSubstr("on watch (moist bags)"));
    EXPECT_EQ(lot("A1").state, LotState::OnHold);
    EXPECT_FALSE(service::judge_lot(desk("rex"), "A1", LotState::Accepted, intent()));
    BW_MUST(service::judge_lot(desk("quinn"), "A1", LotState::Accepted, intent()));
    EXPECT_EQ(lot("A1").state, LotState::Accepted);
}

TEST_P(SupplierDay, ReviewIsOverdueOnTheDayAfter) {
    works::Supplier s = supplier();
    s.review_by = "2026-03-02";  // the day on which the tests begin
    keep(s);
    EXPECT_EQ(BW_MUST(receive("A1", s.name)).answer, "");
    s.review_by = "2026-03-01";
    const auto past = service::keep_supplier(desk("quinn"), s, intent("looked at anew"));
    ASSERT_FALSE(past);
    EXPECT_EQ(past.error().place.field, "review_by");
    EXPECT_THAT(past.error().message, HasSubstr("still to come"));
    minutes_ += 24 * 60;
    EXPECT_THAT(BW_MUST(receive("A2", s.name)).answer, HasSubstr("reviewed by 2026-03-02"));
    EXPECT_EQ(lot("A1").state, LotState::Received);
    EXPECT_EQ(lot("A2").state, LotState::OnHold);
}

TEST_P(SupplierDay, OnlyWhatItMaySupplyIsTakenIn) {
    works::Supplier s = supplier();
    s.materials = {"calcium chloride"};
    keep(s);
    const auto other = receive("A1", s.name);
    ASSERT_FALSE(other);
    EXPECT_EQ(other.error().code, ProblemCode::Refused);
    BW_MUST(receive("C1", s.name, "calcium chloride"));
}

TEST_P(SupplierDay, ACorrectionSupersedesAndDutiesHold) {
    works::Supplier s = supplier();
    s.contact = "2 Invented Road";
    EXPECT_FALSE(service::keep_supplier(desk("pia"), s, intent()));
    keep(s);
    const auto view = BW_MUST(service::show_supplier(*books_, s.name));
    EXPECT_EQ(view.supplier.version, 2);
    EXPECT_EQ(view.supplier.is.contact, "2 Invented Road");
    ASSERT_EQ(view.lots.size(), 3U);
    EXPECT_EQ(view.lots[0].number, "A26-0107");
    EXPECT_EQ(view.lots[0].state, LotState::Accepted);
    s.materials.emplace_back("table sald");
    EXPECT_FALSE(service::keep_supplier(desk("quinn"), s, intent()));
    EXPECT_TRUE(BW_MUST(books_->verify()).sound());
}

TEST_P(SupplierDay, ANameThatDiffersInCaseOrBlanksIsTheSame) {
    for (const char* name : {"invented Salts", "Invented  salts", "INVENTEDSALTS"}) {
        works::Supplier s = supplier();
        s.name = name;
        const auto same = service::keep_supplier(desk("quinn"), s, intent());
        ASSERT_FALSE(same) << name;
        EXPECT_EQ(same.error().code, ProblemCode::DuplicateName);
        EXPECT_THAT(same.error().message, HasSubstr("in the books as 'Invented salts'"));
    }
    works::Supplier other = supplier();
    other.name = "Invented salt";
    keep(other);
}

TEST_P(SupplierDay, ALongNameIsCalledAName) {
    works::Supplier s = supplier();
    s.name = std::string(300, 'x');
    const auto refused = service::keep_supplier(desk("quinn"), s, intent());
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().place.field, "");
    EXPECT_THAT(refused.error().message, HasSubstr("the name of the supplier: the text has 300"));
}

TEST_P(SupplierDay, TheDutyIsAskedForBeforeTheFields) {
    works::Supplier s = supplier();
    s.materials.clear();
    EXPECT_EQ(service::keep_supplier(desk("ana"), s, intent()).error().code, ProblemCode::Refused);
    works::Scale scale;
    EXPECT_EQ(service::keep_scale(desk("ana"), scale, intent()).error().code, ProblemCode::Refused);
}

// As books from before the record have it: the lot names somebody who has none.
TEST_P(SupplierDay, OlderLotsStayReadableAndCanBeJudged) {
    const auto receipt = service::act(
        desk("rex"), {works::Deed::ReceiveLot, "lot receive", "lot", "OLD"}, intent(),
        [](store::Change& change) -> Result<void> {
            works::Lot old;
            old.number = "OLD";
            old.material = "sodium chloride";
            old.supplier = "Long gone";
            old.received_by = "rex";
            store::Write write = service::write_of(old, 0);
            write.links = {{"of", "material", old.material}};  // without one to the supplier
            change.writes.push_back(write);
            return {};
        });
    ASSERT_TRUE(receipt) << receipt.error().text();
    EXPECT_EQ(lot("OLD").supplier, "Long gone");
    BW_MUST(service::judge_lot(desk("quinn"), "OLD", LotState::Accepted, intent()));
    EXPECT_EQ(lot("OLD").state, LotState::Accepted);
    EXPECT_TRUE(BW_MUST(books_->verify()).sound());
    EXPECT_FALSE(service::show_supplier(*books_, "Long gone"));
    works::Supplier s = supplier();
    s.name = "Long gone";
    keep(s);
    EXPECT_EQ(BW_MUST(service::show_supplier(*books_, s.name)).lots.size(), 1U);
}

TEST(SupplierRule, AMaterialIsNamedOnce) {
    works::Supplier s{"A", "", {"b", "c", "b"}, SupplierState::Approved, "", "2027-01-01"};
    const auto twice = works::check(s);
    ASSERT_FALSE(twice);
    EXPECT_THAT(twice.error().message, HasSubstr("'b' is given twice"));
    s.materials.pop_back();
    EXPECT_TRUE(works::check(s));
}

TEST(SupplierRule, StatesNeedTheirReasonAndTheirReview) {
    works::Supplier s{"Invented", "", {"salt"}, SupplierState::OnWatch, "", "2027-01-01"};
    EXPECT_FALSE(works::check(s));
    s.reason = "new";
    EXPECT_TRUE(works::check(s));
    s.review_by.clear();
    EXPECT_FALSE(works::check(s));
    s.state = SupplierState::Stopped;
    EXPECT_TRUE(works::check(s));
    s.materials.clear();
    EXPECT_FALSE(works::check(s));
}

}  // namespace
}  // namespace bw::worksday
