// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/batch_run.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "unit/factors.hpp"
#include "unit/unit_table.hpp"
#include "works/weighing_doubt.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostRows = 10000;
constexpr int kDigits = 6;
constexpr int kTries = 20;  // against others who write the same records

Result<double> mass_kg(const std::string& field, const std::string& text) {
    const auto typed = unit::parse_quantity(text, "kg");
    if (!typed) {
        Problem problem = typed.error();
        problem.place.field = field;
        return tl::make_unexpected(problem);
    }
    if (typed->unit.dimension != unit::Dimension::Mass) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is no mass: write it with g or kg", base::quoted(text)),
                    {"", 0, field});
    }
    return typed->value();
}

Result<works::MassForm> form_of_line(const store::Books& books, const works::Addition& addition) {
    BW_TRY(scale, kept<works::Scale>(books, addition.scale));
    return works::form_of(addition, scale.is);
}

/// A weighing beside what was wanted of it.
struct Doubted {
    const works::Addition& addition;
    std::span<const works::Weighing> before;
    const works::Weighing& next;
    const works::Scale& scale;
};

/// Errors   BadInput with the question, unless it is answered already.
Result<void> check_doubt(const Doubted& d) {
    if (const std::string doubt = works::doubt_about(d.addition, d.before, d.next, d.scale);
        !doubt.empty() && !d.next.confirmed) {
        return fail(ProblemCode::BadInput,
                    fmt::format("batch {}, step {}: {} If it is right as it is, confirm it",
                                d.next.batch, d.next.step, doubt),
                    {"", 0, "confirmed"});
    }
    return {};
}

/// Weighings recorded one after the other, in memory first.
class WeighingDesk {
public:
    WeighingDesk(const Desk& desk, Intent intent) : desk_(desk), intent_(std::move(intent)) {}

    Result<void> open(const std::string& number) {
        BW_TRY(batch, kept<works::Batch>(*desk_.books, number));
        batch_ = std::move(batch);
        BW_TRY(before, weighings_of(*desk_.books, number));
        weighings_ = std::move(before);
        return {};
    }

    Result<WeighingOutcome> add(const WeighingEntry& entry) {
        BW_TRY(addition, addition_of(entry.step));
        BW_TRY(weighing, weighing_of(entry, addition));
        BW_TRY(scale, scale_of(weighing.scale));
        BW_CHECK(works::may_record(batch_.is, addition, weighings_, weighing, scale.capacity_kg));
        if (weighing.net_kg < scale.step_kg / 2) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("step {}: {} is less than a step of scale {}: check the unit",
                                    addition.step, weighing.net, weighing.scale),
                        {"", 0, "net"});
        }
        const double least = works::least_well_weighed_kg(scale);
        if (weighing.scale != addition.scale && weighing.net_kg < least) {
            return fail(ProblemCode::Refused,
                        fmt::format("step {}: scale {} weighs well from {} kg on, and the sheet "
                                    "asks for scale {}",
                                    addition.step, weighing.scale,
                                    base::format_short(least, kDigits), addition.scale),
                        {"", 0, "scale"});
        }
        BW_CHECK(check_doubt({addition, weighings_, weighing, scale}));
        BW_TRY(lot, kept<works::Lot>(*desk_.books, weighing.lot));
        BW_CHECK(works::may_be_weighed(lot.is, desk_.day()));
        BW_TRY(duty, works::duty_for(desk_.person, works::Deed::Weigh));

        store::Change change;
        change.act = {intent_.request + "/" + std::to_string(changes_.size() + 1),
                      desk_.person.id,
                      std::string(works::name(duty)),
                      desk_.device,
                      "batch weigh",
                      kKind<works::Weighing>,
                      weighing.id(),
                      intent_.why,
                      desk_.at,
                      intent_.asked};
        change.expects.push_back(expect_same(lot));
        BW_CHECK(take_stock(weighing, change));
        if (batch_.is.state == works::BatchState::Planned) {
            BW_TRY(next, works::moved(batch_.is, works::BatchState::Weighing));
            change.writes.push_back(write_of(next, batch_.version));
            batch_ = {std::move(next), batch_.version + 1};
        } else if (changes_.empty()) {
            change.expects.push_back(expect_same(batch_));
        }
        change.writes.push_back(write_of(weighing, 0));
        change.answer = weighing.id();
        changes_.push_back(std::move(change));
        weighings_.push_back(weighing);
        BW_TRY(form, form_of_line(*desk_.books, addition));
        return WeighingOutcome{weighing, addition, works::state_of(addition, weighings_), form};
    }

    [[nodiscard]] const std::vector<store::Change>& changes() const { return changes_; }

private:
    Result<works::Addition> addition_of(std::int64_t step) const {
        for (const works::Addition& a : batch_.is.additions) {
            if (a.step == step) {
                return a;
            }
        }
        return fail(ProblemCode::NotFound,
                    fmt::format("batch {} has no step {}: its sheet has steps 1 to {}",
                                batch_.is.number, step, batch_.is.additions.size()),
                    {"", 0, "step"});
    }

    Result<works::Weighing> weighing_of(const WeighingEntry& entry,
                                        const works::Addition& addition) const {
        works::Weighing w;
        w.batch = batch_.is.number;
        w.step = entry.step;
        w.part = works::state_of(addition, weighings_).parts + 1;
        w.lot = entry.lot;
        w.scale = entry.scale.empty() ? addition.scale : entry.scale;
        w.net = entry.net;
        w.tare = entry.tare;
        BW_TRY(net, mass_kg("net", entry.net));
        w.net_kg = net;
        if (!entry.tare.empty()) {
            BW_TRY(tare, mass_kg("tare", entry.tare));
            if (!(tare >= 0)) {
                return fail(ProblemCode::OutOfRange, "a tare is not below 0", {"", 0, "tare"});
            }
        }
        w.by = desk_.person.id;
        w.at = desk_.at;
        w.by_hand = entry.by_hand;
        w.confirmed = entry.confirmed;
        if (w.lot.empty()) {
            return fail(ProblemCode::BadInput,
                        fmt::format("step {}: give the lot that was weighed, as it stands on its "
                                    "bag: the sheet asks for {} of {}",
                                    w.step, addition.lot, addition.material),
                        {"", 0, "lot"});
        }
        BW_TRY(lot, if_kept<works::Lot>(*desk_.books, w.lot));
        if (!lot) {
            return fail(ProblemCode::NotFound,
                        fmt::format("lot {} is not in the books: read the label again",
                                    base::quoted(w.lot)),
                        {"", 0, "lot"});
        }
        w.material = lot->is.material;
        return w;
    }

    Result<works::Scale> scale_of(const std::string& id) const {
        BW_TRY(scale, kept<works::Scale>(*desk_.books, id));
        if (scale.is.state != works::ServiceState::InService ||
            (!scale.is.checked_until.empty() && scale.is.checked_until < desk_.day())) {
            return fail(ProblemCode::Refused,
                        fmt::format("scale {} is {}{}: weigh on another, or have it checked", id,
                                    name(scale.is.state),
                                    scale.is.checked_until.empty()
                                        ? ""
                                        : ", its check held until " + scale.is.checked_until));
        }
        return scale.is;
    }

    Result<void> take_stock(const works::Weighing& weighing, store::Change& change) {
        auto found = stocks_.find(weighing.lot);
        if (found == stocks_.end()) {
            BW_TRY(stock, kept<works::Stock>(*desk_.books, weighing.lot));
            found = stocks_.emplace(weighing.lot, std::move(stock)).first;
        }
        BW_TRY(next, works::taken(found->second.is, weighing.net_kg));
        change.writes.push_back(write_of(next, found->second.version));
        found->second = {next, found->second.version + 1};
        return {};
    }

    const Desk& desk_;
    Intent intent_;
    Kept<works::Batch> batch_;
    std::vector<works::Weighing> weighings_;
    std::map<std::string, Kept<works::Stock>> stocks_;
    std::vector<store::Change> changes_;
};

/// What a repeat of an entry came to the first time.
Result<std::vector<WeighingOutcome>> earlier_outcomes(const Desk& desk, const std::string& number,
                                                      const std::vector<WeighingEntry>& entries,
                                                      const Intent& intent) {
    std::vector<WeighingOutcome> out;
    BW_TRY(batch, kept<works::Batch>(*desk.books, number));
    BW_TRY(all, weighings_of(*desk.books, number));
    for (std::size_t i = 0; i < entries.size(); ++i) {
        BW_TRY(receipt, desk.books->receipt(intent.request + "/" + std::to_string(i + 1)));
        if (!receipt) {
            return fail(ProblemCode::Refused,
                        fmt::format("request {} was sent before with fewer weighings: give the new "
                                    "ones a request number of their own",
                                    base::quoted(intent.request)));
        }
        BW_CHECK(check_repeat(desk, *receipt, {works::Deed::Weigh, "batch weigh", "", ""}, intent));
        BW_TRY(weighing, kept<works::Weighing>(*desk.books, receipt->answer));
        if (weighing.is.batch != number || weighing.is.step != entries[i].step) {
            return fail(
                ProblemCode::Refused,
                fmt::format("request {} weighed step {} of batch {}: give a new request its "
                            "own number",
                            base::quoted(intent.request), weighing.is.step, weighing.is.batch),
                {"", 0, "request"});
        }
        const auto addition =
            std::find_if(batch.is.additions.begin(), batch.is.additions.end(),
                         [&](const works::Addition& a) { return a.step == weighing.is.step; });
        base::expect(addition != batch.is.additions.end(), "weighings are of steps of the sheet");
        BW_TRY(form, form_of_line(*desk.books, *addition));
        out.push_back({weighing.is, *addition, works::state_of(*addition, all), form, *receipt});
    }
    return out;
}

/// Additions that are not within tolerance and have no departure about them.
Result<std::vector<std::string>> unexplained(const Desk& desk, const works::Batch& batch) {
    BW_TRY(weighings, weighings_of(*desk.books, batch.number));
    BW_TRY(departures, departures_of(*desk.books, batch.number));
    const works::MakingNext next = works::next_of(batch, weighings, departures);
    std::vector<std::string> out;
    for (const works::Addition& a : batch.additions) {
        const auto is_in = [&](const std::vector<std::int64_t>& steps) {
            return std::find(steps.begin(), steps.end(), a.step) != steps.end();
        };
        if (is_in(next.short_steps) || is_in(next.over_steps)) {
            BW_TRY(form, form_of_line(*desk.books, a));
            out.push_back(fmt::format("step {} ({} of {} of {})", a.step,
                                      works::digits(works::state_of(a, weighings).weighed_kg, form),
                                      works::in_words(a.target_kg, form), a.material));
        }
    }
    return out;
}

Result<std::vector<WeighingOutcome>> weigh_anew(const Desk& desk, const std::string& number,
                                                const std::vector<WeighingEntry>& entries,
                                                const Intent& intent) {
    for (int attempt = 1;; ++attempt) {
        WeighingDesk at_scale(desk, intent);
        BW_CHECK(at_scale.open(number));
        std::vector<WeighingOutcome> out;
        for (const WeighingEntry& entry : entries) {
            BW_TRY(outcome, at_scale.add(entry));
            out.push_back(std::move(outcome));
        }
        const auto receipts = desk.books->commit_all(at_scale.changes());
        if (receipts) {
            // Done by another server meanwhile: what was written is told, not what would have been.
            if (receipts->front().repeated) {
                return earlier_outcomes(desk, number, entries, intent);
            }
            for (std::size_t i = 0; i < out.size(); ++i) {
                out[i].receipt = (*receipts)[i];
            }
            return out;
        }
        if (receipts.error().code != ProblemCode::Conflict || attempt == kTries) {
            return tl::make_unexpected(receipts.error());
        }
    }
}

}  // namespace

Result<std::vector<WeighingOutcome>> weigh(const Desk& desk, const std::string& number,
                                           const std::vector<WeighingEntry>& entries,
                                           const Intent& intent) {
    const auto done = [&] { return desk.books->receipt(intent.request + "/1"); };
    BW_TRY(before, done());
    if (before) {
        return earlier_outcomes(desk, number, entries, intent);
    }
    auto fresh = weigh_anew(desk, number, entries, intent);
    if (!fresh && may_be_done(fresh.error())) {
        const auto meanwhile = done();
        if (meanwhile && *meanwhile) {
            return earlier_outcomes(desk, number, entries, intent);
        }
    }
    return fresh;
}

Result<std::vector<works::MassForm>> mass_forms_of(const store::Books& books,
                                                   const works::Batch& batch) {
    std::vector<works::MassForm> out;
    for (const works::Addition& a : batch.additions) {
        BW_TRY(form, form_of_line(books, a));
        out.push_back(std::move(form));
    }
    return out;
}

namespace {

/// A corrected weighing beside what the others of its addition leave to be weighed.
Result<void> check_corrected(const store::Books& books, const works::Batch& batch,
                             const works::Weighing& weighing) {
    BW_TRY(others, weighings_of(books, batch.number));
    std::erase_if(others, [&](const works::Weighing& w) { return w.id() == weighing.id(); });
    BW_TRY(scale, kept<works::Scale>(books, weighing.scale));
    for (const works::Addition& a : batch.additions) {
        if (a.step == weighing.step) {
            return check_doubt({a, others, weighing, scale.is});
        }
    }
    return {};
}

}  // namespace

Result<store::Receipt> correct_weighing(const Desk& desk, const std::string& id,
                                        const std::string& net, bool confirmed,
                                        const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::Weigh));
    if (base::trim(intent.why).empty()) {
        return fail(ProblemCode::BadInput, "a correction needs its reason", {"", 0, "why"});
    }
    BW_TRY(kg, mass_kg("net", net));
    return act(desk, {works::Deed::Weigh, "batch correct", kKind<works::Weighing>, id}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(weighing, kept<works::Weighing>(*desk.books, id));
                   BW_TRY(batch, kept<works::Batch>(*desk.books, weighing.is.batch));
                   using enum works::BatchState;
                   if (batch.is.state == Released || batch.is.state == Rejected) {
                       return fail(ProblemCode::Refused,
                                   fmt::format("batch {} is {}: its weighings stand",
                                               batch.is.number, name(batch.is.state)));
                   }
                   BW_TRY(stock, kept<works::Stock>(*desk.books, weighing.is.lot));
                   BW_TRY(next, works::taken(stock.is, kg - weighing.is.net_kg));
                   change.writes.push_back(write_of(next, stock.version));
                   change.expects.push_back(expect_same(batch));
                   weighing.is.net = net;
                   weighing.is.net_kg = kg;
                   weighing.is.by_hand = true;
                   weighing.is.confirmed = confirmed;
                   BW_CHECK(check_corrected(*desk.books, batch.is, weighing.is));
                   change.writes.push_back(write_of(weighing.is, weighing.version));
                   return {};
               });
}

Result<store::Receipt> blend_batch(const Desk& desk, const std::string& number,
                                   const Intent& intent) {
    return act(desk, {works::Deed::Weigh, "batch blend", kKind<works::Batch>, number}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(batch, kept<works::Batch>(*desk.books, number));
                   BW_TRY(next, works::moved(batch.is, works::BatchState::Blended));
                   BW_TRY(open, unexplained(desk, batch.is));
                   if (!open.empty()) {
                       return fail(ProblemCode::Refused,
                                   fmt::format("batch {} is not whole: {}; weigh what is missing, "
                                               "or raise a departure about the step",
                                               number, base::join_words(open)));
                   }
                   next.made_on = desk.day();
                   next.blended_by = desk.person.id;
                   change.writes.push_back(write_of(next, batch.version));
                   return {};
               });
}

Result<store::Receipt> close_batch(const Desk& desk, const std::string& number,
                                   const works::Yield& yield, const Intent& intent) {
    return act(desk, {works::Deed::CloseBatch, "batch close", kKind<works::Batch>, number}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(batch, kept<works::Batch>(*desk.books, number));
                   BW_TRY(weighings, weighings_of(*desk.books, number));
                   BW_CHECK(works::check_yield(batch.is, yield, weighings, intent.why));
                   batch.is.yield = yield;
                   change.writes.push_back(write_of(batch.is, batch.version));
                   return {};
               });
}

Result<std::vector<works::Weighing>> weighings_of(const store::Books& books,
                                                  const std::string& number) {
    store::ListQuery query;
    query.id_prefix = number + "/";
    query.limit = kMostRows;
    BW_TRY(rows, kept_list<works::Weighing>(books, query));
    std::vector<works::Weighing> out;
    out.reserve(rows.size());
    for (auto& row : rows) {
        out.push_back(std::move(row.is));
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const works::Weighing& a, const works::Weighing& b) {
                         return a.step != b.step ? a.step < b.step : a.part < b.part;
                     });
    return out;
}

namespace {

Result<std::vector<works::Sample>> samples_of(const store::Books& books,
                                              const std::string& number) {
    store::ListQuery query;
    query.pointing_to = store::Link{"of", kKind<works::Batch>, number};
    query.limit = kMostRows;
    BW_TRY(rows, kept_list<works::Sample>(books, query));
    std::vector<works::Sample> out;
    out.reserve(rows.size());
    for (auto& row : rows) {
        out.push_back(std::move(row.is));
    }
    return out;
}

}  // namespace

Result<store::Receipt> take_sample(const Desk& desk, const SampleTaking& taking,
                                   const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::TakeSample));
    BW_TRY(kg, mass_kg("mass", taking.mass));
    return act(desk, {works::Deed::TakeSample, "sample take", kKind<works::Sample>, ""}, intent,
               [&](store::Change& change) -> Result<void> {
                   BW_TRY(batch, kept<works::Batch>(*desk.books, taking.batch));
                   works::Sample sample;
                   sample.batch = taking.batch;
                   sample.plan = works::plan_for(batch.is.blend_g_per_kg_purified_water);
                   sample.increments = taking.increments;
                   sample.mass = taking.mass;
                   sample.mass_g = kg * unit::kGramPerKg;
                   sample.where = taking.where.empty() ? sample.plan.where : taking.where;
                   sample.split_by = taking.split_by;
                   sample.taken_by = desk.person.id;
                   sample.taken_at = desk.at;
                   BW_CHECK(works::check_sample(sample, intent.why));
                   BW_TRY(weighings, weighings_of(*desk.books, taking.batch));
                   BW_TRY(before, samples_of(*desk.books, taking.batch));
                   BW_CHECK(works::check_left(batch.is, weighings, before, sample, intent.why));
                   if (batch.is.state == works::BatchState::Blended) {
                       BW_TRY(next, works::moved(batch.is, works::BatchState::Sampled));
                       change.writes.push_back(write_of(next, batch.version));
                   } else if (batch.is.state < works::BatchState::Blended) {
                       return fail(ProblemCode::Refused,
                                   fmt::format("batch {} is {}: it is sampled once it is blended",
                                               taking.batch, name(batch.is.state)));
                   } else {
                       change.expects.push_back(expect_same(batch));
                   }
                   BW_TRY(number, next_identifier(desk, "S", change));
                   sample.number = number;
                   change.act.subject_id = number;
                   change.writes.push_back(write_of(sample, 0));
                   change.answer = number;
                   return {};
               });
}

}  // namespace bw::service
