// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/releases.hpp"

#include <fmt/format.h>

#include "base/program.hpp"
#include "base/text.hpp"
#include "ref/tables.hpp"
#include "service/departures.hpp"
#include "service/papers.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

works::Evidence evidence_of(const BatchReading& reading, const std::vector<works::OpenItem>& open) {
    works::Evidence out;
    out.batch = reading.file.batch.number;
    out.product = reading.file.batch.product;
    out.recipe = reading.file.batch.recipe;
    out.wanted = reading.wanted.strength;
    if (reading.file.limits) {
        out.limits_number = reading.file.limits->number;
        out.rule = works::sentence_of_rule(*reading.file.limits);
    }
    out.assessment = reading.file.assessment;
    for (const works::OpenItem& item : open) {
        out.open_items.push_back(item.sentence);
    }
    out.records = reading.pinned;
    out.program = base::kProgramVersion;
    out.data_digest = ref::data_digest();
    return out;
}

Result<std::string> day_of_entry(const store::Books& books, std::int64_t entry) {
    store::EntryQuery query;
    query.from_seq = entry;
    query.limit = 1;
    BW_TRY(entries, books.entries(query));
    return entries.empty() ? std::string() : entries.front().at.substr(0, Desk::kDayLength);
}

/// Holds of the batch's lots that began after it was planned and were lifted after entry `since`.
Result<std::vector<std::string>> lifted_holds(const store::Books& books, const ReleaseView& view,
                                              std::int64_t planned, std::int64_t since) {
    std::vector<std::string> out;
    for (const works::Lot& lot : view.reading.lots) {
        BW_TRY(versions, books.history(kKind<works::Lot>, lot.number));
        std::int64_t held = 0;
        std::string why;
        for (const store::Record& record : versions) {
            BW_TRY(then, read_record<works::Lot>(record.body));
            if (then.state == works::LotState::OnHold) {
                held = record.entry;
                why = then.judged_why;
            } else if (then.state == works::LotState::Accepted) {
                if (held > planned && record.entry > since) {
                    BW_TRY(from, day_of_entry(books, held));
                    BW_TRY(to, day_of_entry(books, record.entry));
                    out.push_back(fmt::format(
                        "lot {} of {} was put on hold on {} ({}) and accepted again on {} ({})",
                        lot.number, lot.material, from, why, to, then.judged_why));
                }
                held = 0;
            }
        }
    }
    return out;
}

Result<void> add_notices(const store::Books& books, ReleaseView& view) {
    const std::string& number = view.evidence.batch;
    BW_TRY(batch, books.history(kKind<works::Batch>, number));
    std::int64_t since = batch.front().entry;
    if (view.decision) {
        BW_TRY(decision, books.newest(kKind<works::Release>, number));
        since = decision.entry;
    }
    if (!view.decision) {  // who decides looks at them; what is decided stands
        for (const works::Sample& s : view.reading.file.samples) {
            for (const std::string& notice : s.notices) {
                view.notices.push_back(fmt::format("sample {}: {}", s.number, notice));
            }
        }
    }
    BW_TRY(notices, lifted_holds(books, view, batch.front().entry, since));
    const bool stands =
        view.decision && view.decision->is.decision == works::Decision::Release && !view.stale();
    for (std::string& notice : notices) {
        view.notices.push_back(
            notice + (stands ? ": the release did not hold in between, and holds again" : ""));
    }
    return {};
}

}  // namespace

Result<ReleaseView> show_release(const store::Books& books, const std::string& number) {
    BW_TRY(reading, read_batch(books, number));
    ReleaseView out;
    out.reading = std::move(reading);
    out.open = works::open_items(out.reading.file);
    out.hands = works::hands_of(out.reading.file);
    out.proposal = works::proposal_for(out.reading.file);
    if (out.open.empty() && out.reading.file.batch.state == works::BatchState::UnderTest) {
        out.open.push_back({works::OpenKind::NotReady,
                            "the batch is under test: counting its runs makes it ready"});
        out.proposal = {works::Decision::Hold, out.open.front().sentence};
    }
    out.evidence = evidence_of(out.reading, out.open);
    out.text = record_text(out.evidence);
    out.mark = store::sha256_hex(out.text);
    BW_TRY(decision, if_kept<works::Release>(books, number));
    if (decision) {
        BW_TRY(then, read_record<works::Evidence>(decision->is.evidence));
        out.changed = works::changed_since(then.records, out.evidence.records);
        const auto& held = out.reading.file.held_lots;
        if (!out.changed.empty()) {
            out.changed.insert(out.changed.end(), held.begin(), held.end());
        }
        out.decision = std::move(decision);
    }
    BW_CHECK(add_notices(books, out));
    for (const works::Departure& d : out.reading.file.departures) {
        BW_TRY(remarks, remarks_on(books, d));
        out.remarks.push_back(std::move(remarks));
    }
    return out;
}

std::string other_decision(const ReleaseView& view) {
    if (!view.decision || view.decision->is.decision == works::Decision::Release) {
        return {};
    }
    const works::Release& r = view.decision->is;
    const std::string_view what = r.decision == works::Decision::Hold     ? "on hold"
                                  : r.decision == works::Decision::Reject ? "rejected"
                                                                          : "given to rework";
    return fmt::format("batch {} is {} since {} (decision {}): {}", r.batch, what,
                       r.approved.at.substr(0, Desk::kDayLength), r.number, r.why);
}

Result<std::vector<DecisionChoice>> decision_choices(const Desk& desk, const std::string& batch) {
    BW_TRY(view, show_release(*desk.books, batch));
    const auto duty = works::duty_for(desk.person, works::Deed::DecideRelease);
    std::vector<DecisionChoice> out;
    for (std::size_t i = 0; i < works::kWords<works::Decision>; ++i) {
        DecisionChoice choice;
        choice.decision = static_cast<works::Decision>(i);
        choice.hinders =
            works::what_hinders(view.reading.file, choice.decision, desk.person.id, view.stale());
        if (!duty) {
            choice.hinders.insert(choice.hinders.begin(), duty.error().message);
        }
        out.push_back(std::move(choice));
    }
    return out;
}

Result<store::Receipt> decide_release(const Desk& desk, const ReleaseOrder& order,
                                      const Signing& signing, const Intent& intent) {
    return act(desk,
               {works::Deed::DecideRelease, "release decide", kKind<works::Release>, order.batch},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(view, show_release(*desk.books, order.batch));
                   BW_CHECK(works::may_decide(view.reading.file, order.decision, desk.person.id,
                                              intent.why, view.stale()));
                   if (!order.shown.empty()) {
                       BW_CHECK(check_shown(
                           {order.shown, fmt::format("what batch {} rests on now", order.batch)},
                           view.mark));
                   }
                   BW_TRY(signature, sign(desk, works::Deed::DecideRelease,
                                          works::meaning(order.decision), signing, view.text));
                   works::Release release;
                   release.batch = order.batch;
                   release.number = view.decision ? view.decision->is.number + 1 : 1;
                   release.decision = order.decision;
                   release.why = intent.why;
                   release.evidence = view.text;
                   release.approved = signature;
                   BW_TRY(batch, kept<works::Batch>(*desk.books, order.batch));
                   BW_TRY(next, works::decided(batch.is, order.decision, view.stale()));
                   change.writes = {write_of(release, view.decision ? view.decision->version : 0),
                                    write_of(next, batch.version)};
                   change.expects = view.reading.expects;
                   // A departure that is raised meanwhile would have been shown.
                   BW_CHECK(expect_none_new(desk, "D", change));
                   change.answer = signature.mark;
                   return {};
               });
}

}  // namespace bw::service
