// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/today.hpp"

#include <array>

#include <fmt/format.h>

#include "http/answers.hpp"
#include "works/batch.hpp"
#include "works/departure.hpp"
#include "works/method.hpp"
#include "works/run.hpp"
#include "works/scale.hpp"
#include "works/supplier.hpp"

namespace bw::http {
namespace {

using works::Deed;

/// A state in which something waits, for what deed, and how its action is named.
struct Waits {
    std::string_view area, kind, state;
    Deed deed;
    std::string_view what;  ///< with {} for the record
};

constexpr std::array kWaits = {
    Waits{"materials", "lot", "received", Deed::JudgeLot, "Judge lot {}"},
    Waits{"materials", "lot", "on hold", Deed::JudgeLot, "Judge held lot {}"},
    Waits{"recipes", "recipe", "draft", Deed::DraftRecipe, "Offer recipe {}"},
    Waits{"recipes", "recipe", "offered", Deed::ApproveRecipe, "Approve recipe {}"},
    Waits{"batches", "batch", "planned", Deed::Weigh, "Weigh batch {}"},
    Waits{"batches", "batch", "weighing", Deed::Weigh, "Go on weighing batch {}"},
    Waits{"batches", "batch", "blended", Deed::TakeSample, "Close and sample batch {}"},
    Waits{"batches", "departure", "open", Deed::AnswerDeparture, "Answer departure {}"},
    Waits{"batches", "departure", "answered", Deed::CloseDeparture, "Close departure {}"},
    Waits{"tests", "batch", "sampled", Deed::EnterResults, "Dissolve test portions of batch {}"},
    Waits{"tests", "batch", "under test", Deed::EnterResults, "Test batch {}"},
    Waits{"tests", "run", "read", Deed::CheckResults, "Check run {}"},
    Waits{"tests", "run", "judged", Deed::CheckResults, "Count run {}"},
    Waits{"release", "batch", "ready", Deed::DecideRelease, "Decide on batch {}"},
    Waits{"release", "batch", "on hold", Deed::DecideRelease, "Decide on held batch {}"},
};

class Waiting {
public:
    explicit Waiting(const Caller& caller) : desk_(caller.desk) {}

    Result<std::string> json() {
        for (const Waits& waits : kWaits) {
            store::ListQuery query;
            query.kind = waits.kind;
            query.state = waits.state;
            query.limit = kMostWaiting;
            query.with_bodies = waits.kind == "batch";
            BW_TRY(rows, desk_.books->list(query));
            for (const store::Listed& row : rows) {
                BW_CHECK(add(waits, row));
            }
        }
        return "[" + out_ + "]";
    }

private:
    Result<void> add(const Waits& waits, const store::Listed& row) {
        Deed deed = waits.deed;
        std::string_view what = waits.what;
        if (waits.state == "planned" && waits.kind == "batch") {
            BW_TRY(batch, service::read_record<works::Batch>(row.body));
            if (!batch.changes.empty() && !batch.adjustment_approved) {
                deed = Deed::ApproveAdjustment;
                what = "Approve the lot adjustment of batch {}";
            }
        }
        store::EntryQuery query;
        query.from_seq = row.entry;
        query.limit = 1;
        BW_TRY(entries, desk_.books->entries(query));
        const auto duty = works::duty_for(desk_.person, deed);
        out_ += fmt::format(
            R"({}{{"area":{},"kind":{},"id":{},"title":{},"state":{},"since":{},"what":{},"duty":{},"mine":{},"late":false}})",
            out_.empty() ? "" : ",", json_string(waits.area), json_string(row.kind),
            json_string(row.id), json_string(row.title), json_string(row.state),
            json_string(entries.empty() ? "" : entries.front().at),
            json_string(fmt::format(fmt::runtime(what), row.id)),
            json_string(duty ? works::name(*duty) : ""), duty.has_value());
        return {};
    }

    const service::Desk& desk_;
    std::string out_;
};

/// Sentences on what is past its day.
class Late {
public:
    explicit Late(const Caller& caller) : desk_(caller.desk), day_(caller.desk.day()) {}

    Result<std::string> json() {
        BW_CHECK(each<works::Scale>([&](const works::Scale& s) {
            if (s.state == works::ServiceState::InService) {
                past(s.checked_until, fmt::format("scale {} was to be checked", s.id));
            }
        }));
        BW_CHECK(each<works::Method>([&](const works::Method& m) {
            if (m.state == works::ServiceState::InService) {
                past(m.checked_until, fmt::format("method {} was to be checked", m.id));
            }
        }));
        BW_CHECK(each<works::Supplier>([&](const works::Supplier& s) {
            past(s.review_by, fmt::format("supplier {} was to be reviewed", s.name));
        }));
        return "[" + out_ + "]";
    }

private:
    template <class T, class Look>
    Result<void> each(const Look& look) {
        store::ListQuery query;
        query.limit = kMostWaiting;
        BW_TRY(rows, service::kept_list<T>(*desk_.books, query));
        for (const auto& row : rows) {
            look(row.is);
        }
        return {};
    }
    void past(const std::string& last_day, const std::string& what) {
        if (!last_day.empty() && day_ > last_day) {
            out_ +=
                (out_.empty() ? "" : ",") + json_string(fmt::format("{} by {}", what, last_day));
        }
    }

    const service::Desk& desk_;
    std::string day_, out_;
};

}  // namespace

Result<Response> show_today(const Request&, const Caller& caller) {
    BW_TRY(waiting, Waiting(caller).json());
    BW_TRY(late, Late(caller).json());
    BW_TRY(mark, caller.desk.books->mark());
    return json_answer(fmt::format(R"({{"version":1,"at":{},"waiting":{},"late":{},"mark":{}}})",
                                   json_string(caller.desk.at), waiting, late, json_string(mark)));
}

}  // namespace bw::http
