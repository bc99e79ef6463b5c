// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/departures.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/batch_file.hpp"
#include "service/batch_run.hpp"
#include "service/paper_safety.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostRows = 10000;

}  // namespace

Result<std::vector<works::Departure>> departures_of(const store::Books& books,
                                                    const std::string& number) {
    store::ListQuery query;
    query.pointing_to = store::Link{"holds", kKind<works::Batch>, number};
    query.limit = kMostRows;
    BW_TRY(rows, kept_list<works::Departure>(books, query));
    std::vector<works::Departure> out;
    out.reserve(rows.size());
    for (auto& row : rows) {
        out.push_back(std::move(row.is));
    }
    return out;
}

namespace {

/// The newest correction of a weighing after an entry of the trail: "to 5.2 kg by olga at ...:
/// why".
Result<std::optional<std::string>> correction_of(const store::Books& books,
                                                 const works::Weighing& weighing,
                                                 std::int64_t after) {
    BW_TRY(acts, books.entries({kKind<works::Weighing>, weighing.id(), ""}));  // newest first
    const auto corrected = std::find_if(acts.begin(), acts.end(), [&](const store::Entry& e) {
        return e.act == "batch correct" && e.seq > after;
    });
    if (corrected == acts.end()) {
        return std::optional<std::string>();
    }
    return std::optional(fmt::format("to {} by {} at {}: {}", weighing.net, corrected->person,
                                     corrected->at, base::one_line(base::trim(corrected->why))));
}

}  // namespace

Result<std::vector<std::string>> corrections_of(const store::Books& books,
                                                std::span<const works::Weighing> weighings) {
    std::vector<std::string> out;
    for (const works::Weighing& w : weighings) {
        BW_TRY(correction, correction_of(books, w, 0));
        if (correction) {
            out.push_back(fmt::format("weighing {} was corrected {}", w.id(), *correction));
        }
    }
    return out;
}

Result<std::vector<std::string>> remarks_on(const store::Books& books,
                                            const works::Departure& departure,
                                            std::span<const works::Weighing> weighings) {
    std::vector<std::string> out;
    if (departure.subject_kind != works::kAddition) {
        return out;
    }
    store::EntryQuery raised{kKind<works::Departure>, departure.number, ""};
    raised.from_seq = 1;
    raised.limit = 1;
    BW_TRY(first, books.entries(raised));
    base::expect(!first.empty(), "a departure was raised");
    for (const works::Weighing& w : weighings) {
        if (fmt::format("{}/{}", w.batch, w.step) != departure.subject) {
            continue;
        }
        BW_TRY(correction, correction_of(books, w, first.front().seq));
        if (correction) {
            out.push_back(fmt::format("weighing {} was corrected since {}", w.id(), *correction));
        }
    }
    return out;
}

namespace {

/// What is about a line of the sheet names one that is there.
Result<void> check_step(const works::Departure& departure, const works::Batch& batch) {
    if (departure.subject_kind != works::kAddition) {
        return {};
    }
    for (std::size_t step = 1; step <= batch.additions.size(); ++step) {
        if (departure.subject == fmt::format("{}/{}", batch.number, step)) {
            return {};
        }
    }
    return fail(ProblemCode::NotFound,
                fmt::format("{} is no line of the sheet of batch {}, which has lines 1 to {}",
                            departure.subject, batch.number, batch.additions.size()),
                {"", 0, "step"});
}

}  // namespace

Result<std::vector<std::string>> remarks_on(const store::Books& books,
                                            const works::Departure& departure) {
    if (departure.subject_kind != works::kAddition) {
        return std::vector<std::string>{};
    }
    BW_TRY(weighings, weighings_of(books, departure.batch));
    return remarks_on(books, departure, weighings);
}

Result<store::Receipt> raise_departure(const Desk& desk, works::Departure departure,
                                       const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::RaiseDeparture));
    if (base::trim(departure.what).empty()) {
        return fail(ProblemCode::BadInput, "a departure says what differed: write what",
                    {"", 0, "what"});
    }
    BW_CHECK(check_printable(departure.what, "what"));
    return act(desk, {works::Deed::RaiseDeparture, "departure raise", kKind<works::Departure>, ""},
               intent, [&](store::Change& change) -> Result<void> {
                   if (!departure.batch.empty()) {
                       BW_TRY(batch, kept<works::Batch>(*desk.books, departure.batch));
                       BW_CHECK(check_step(departure, batch.is));
                   }
                   BW_TRY(number, next_identifier(desk, "D", change));
                   departure.number = number;
                   departure.state = works::DepartureState::Open;
                   departure.raised_by = desk.person.id;
                   change.act.subject_id = number;
                   change.writes.push_back(write_of(departure, 0));
                   change.answer = number;
                   return {};
               });
}

Result<store::Receipt> answer_departure(const Desk& desk, const std::string& number,
                                        const std::string& answer, const Intent& intent) {
    return act(desk,
               {works::Deed::AnswerDeparture, "departure answer", kKind<works::Departure>, number},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(departure, kept<works::Departure>(*desk.books, number));
                   BW_TRY(next, works::answered(departure.is, desk.person.id, answer));
                   change.writes.push_back(write_of(next, departure.version));
                   return {};
               });
}

Result<store::Receipt> close_departure(const Desk& desk, const std::string& number,
                                       const Intent& intent) {
    return act(desk,
               {works::Deed::CloseDeparture, "departure close", kKind<works::Departure>, number},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(departure, kept<works::Departure>(*desk.books, number));
                   std::vector<std::string> over;
                   if (departure.is.about != works::Concern::Making) {
                       BW_TRY(reading, read_batch(*desk.books, departure.is.batch));
                       over = works::seen_of(reading.file, departure.is.about);
                       change.expects = reading.expects;
                   }
                   BW_TRY(next, works::closed(departure.is, desk.person.id, std::move(over)));
                   change.writes.push_back(write_of(next, departure.version));
                   return {};
               });
}

}  // namespace bw::service
