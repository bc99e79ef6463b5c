// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/release.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

constexpr int kDigits = 4;

class Collector {
public:
    explicit Collector(const BatchFile& file) : file_(file) {}

    std::vector<OpenItem> items() {
        making();
        weighing();
        sampling();
        testing();
        verdicts();
        return std::move(out_);
    }

private:
    void add(OpenKind kind, std::string sentence) { out_.push_back({kind, std::move(sentence)}); }

    void making() {
        for (const Departure& d : file_.departures) {
            if (d.state != DepartureState::Closed) {
                add(OpenKind::OpenDeparture,
                    fmt::format("departure {} is {}: {}", d.number, name(d.state), d.what));
            }
        }
        if (!file_.batch.changes.empty() && !file_.batch.adjustment_approved) {
            add(OpenKind::NotApproved, "the lot adjustment is not approved");
        }
        for (const std::string& lot : file_.held_lots) {
            add(OpenKind::LotHeld, lot);
        }
    }

    [[nodiscard]] bool has_closed_departure(std::int64_t step) const {
        const std::string id = fmt::format("{}/{}", file_.batch.number, step);
        return std::any_of(file_.departures.begin(), file_.departures.end(),
                           [&](const Departure& d) {
                               return d.subject_kind == kAddition && d.subject == id &&
                                      d.state == DepartureState::Closed;
                           });
    }

    void weighing() {
        for (const Addition& a : file_.batch.additions) {
            const AdditionState state = state_of(a, file_.weighings);
            if (state.parts == 0) {
                add(OpenKind::NotWeighed,
                    fmt::format("step {}, {}, is not weighed", a.step, a.material));
            } else if (state.verdict != WeighingVerdict::Within && !has_closed_departure(a.step)) {
                add(OpenKind::OutsideTolerance,
                    fmt::format("step {}, {}, is {} by {} kg (tolerance {} kg) without a closed "
                                "departure about it",
                                a.step, a.material, name(state.verdict),
                                base::format_short(std::abs(state.off_kg), kDigits),
                                base::format_short(a.tolerance_kg, kDigits)));
            }
        }
        if (!file_.batch.yield) {
            add(OpenKind::NotClosed, "the batch is not closed: its yield is missing");
        }
    }

    void sampling() {
        if (file_.samples.empty()) {
            add(OpenKind::NoSample, "no sample is taken");
        }
        const auto portions =
            std::count_if(file_.portions.begin(), file_.portions.end(), [&](const TestPortion& p) {
                return std::any_of(
                    file_.results.begin(), file_.results.end(), [&](const PlacedResult& r) {
                        return r.is.portion == p.id() && r.is.state != ResultState::SetAside;
                    });
            });
        if (portions < kLeastPortions) {
            add(OpenKind::FewPortions,
                fmt::format("{} test portion{} with results, {} are wanted", portions,
                            portions == 1 ? "" : "s", kLeastPortions));
        }
        if (!file_.limits) {
            add(OpenKind::NoLimits, "no limits were signed before testing began");
        }
    }

    void testing() {
        for (const std::string& run : file_.unsigned_runs) {
            add(OpenKind::NotSigned,
                fmt::format("run {} holds results that count and is not signed: count it anew",
                            run));
        }
        not_counted(ResultState::Entered);
        not_counted(ResultState::Checked);
    }

    /// Results of a state, those of a run in one sentence.
    void not_counted(ResultState state) {
        std::map<std::string, std::vector<const PlacedResult*>> runs;
        for (const PlacedResult& r : file_.results) {
            if (r.is.state == state) {
                runs[r.run].push_back(&r);
            }
        }
        for (const auto& [run, results] : runs) {
            std::vector<std::string> analytes;
            for (const PlacedResult* r : results) {
                if (std::find(analytes.begin(), analytes.end(), r->is.analyte) == analytes.end()) {
                    analytes.push_back(r->is.analyte);
                }
            }
            const std::string which =
                results.size() == 1
                    ? fmt::format("result {}, {}, is", results[0]->id(), analytes[0])
                    : fmt::format("{} results of run {}, {}, are", results.size(), run,
                                  base::join_words(analytes));
            add(OpenKind::NotChecked, fmt::format("{} {} and not counted", which, name(state)));
        }
    }

    /// What the tests show and no departure about it was closed over.
    void seen_in_tests() {
        constexpr std::array kOf = {
            std::tuple{OpenKind::NotHomogeneous, Concern::Samples, "the samples are not alike"},
            std::tuple{OpenKind::NotBalanced, Concern::Charges, "the charges do not balance"},
            std::tuple{OpenKind::FaultSeen, Concern::Fault, "the tests show a fault"}};
        for (const auto& [kind, concern, what] : kOf) {
            for (const std::string& sentence : seen_of(file_, concern)) {
                if (!closed_over(concern, sentence)) {
                    add(kind, fmt::format("{} and no departure about its {} is closed over it: {}",
                                          what, name(concern), sentence));
                }
            }
        }
    }

    [[nodiscard]] bool closed_over(Concern concern, const std::string& sentence) const {
        return std::any_of(
            file_.departures.begin(), file_.departures.end(), [&](const Departure& d) {
                return d.subject_kind == "batch" && d.about == concern &&
                       d.state == DepartureState::Closed &&
                       std::find(d.over.begin(), d.over.end(), sentence) != d.over.end();
            });
    }

    void verdicts() {
        if (!file_.limits) {
            return;
        }
        std::vector<std::string> untested;
        for (const Tested& e : file_.assessment.elements) {
            if (e.verdict == Verdict::NotTested && e.waits.empty()) {
                untested.push_back(e.symbol);
            }
        }
        if (!untested.empty()) {
            add(OpenKind::NotTested, fmt::format("{} {} not tested", base::join_words(untested),
                                                 untested.size() == 1 ? "is" : "are"));
        }
        for (const Tested& e : file_.assessment.elements) {
            for (const std::string& wait : e.waits) {
                add(OpenKind::Waits, wait);
            }
            if (e.verdict == Verdict::Outside || e.verdict == Verdict::TooClose) {
                add(OpenKind::NotWithin, fmt::format("{} is {}", e.symbol, name(e.verdict)));
            }
        }
        seen_in_tests();
        if (file_.assessment.probability < file_.limits->joint_least) {
            add(OpenKind::NotJointly,
                fmt::format(
                    "all conform at once with a probability of {} %, and {} % are asked "
                    "for",
                    base::format_short(file_.assessment.probability * unit::kPercent, kDigits),
                    base::format_short(file_.limits->joint_least * unit::kPercent, kDigits)));
        }
    }

    const BatchFile& file_;
    std::vector<OpenItem> out_;
};

void add_hand(std::vector<Hand>& out, const std::string& person, const std::string& did) {
    const bool known = std::any_of(
        out.begin(), out.end(), [&](const Hand& h) { return h.person == person && h.did == did; });
    if (!person.empty() && !known) {
        out.push_back({person, did});
    }
}

bool decidable(BatchState state, Decision decision) {
    return state == BatchState::Ready ||
           (state == BatchState::OnHold && decision != Decision::Hold);
}

/// What a batch under test still waits for, in words that go on a sentence.
std::string still_under_test(const BatchFile& file) {
    std::vector<std::string> out;
    for (const OpenItem& item : open_items(file)) {
        if (item.kind == OpenKind::NotChecked || item.kind == OpenKind::NotTested ||
            item.kind == OpenKind::Waits) {
            out.push_back(item.sentence);
        }
    }
    return out.empty() ? "before its tests are counted"
                       : fmt::format("as long as {}", fmt::join(out, "; "));
}

/// That a batch is in no state for a decision; nothing: it is.
std::optional<std::string> wrong_state(const BatchFile& file, Decision decision, bool stale) {
    const Batch& batch = file.batch;
    const bool again = stale && batch.state == BatchState::Released;
    if (again || decidable(batch.state, decision)) {
        return std::nullopt;
    }
    return fmt::format("batch {} is {}: there is nothing to {}{}", batch.number, name(batch.state),
                       name(decision),
                       batch.state == BatchState::UnderTest ? " " + still_under_test(file) : "");
}

std::string own_work(const Batch& batch, const Hand& hand) {
    return fmt::format("{} {} batch {}: nobody releases their own work", hand.person, hand.did,
                       batch.number);
}

BatchState state_after(Decision decision) {
    return decision == Decision::Release ? BatchState::Released
           : decision == Decision::Hold  ? BatchState::OnHold
                                         : BatchState::Rejected;
}

}  // namespace

std::string_view name(Decision decision) {
    constexpr std::array<std::string_view, kWords<Decision>> kNames = {"release", "hold", "reject",
                                                                       "rework"};
    return kNames.at(static_cast<std::size_t>(decision));
}

std::string_view meaning(Decision decision) {
    constexpr std::array<std::string_view, kWords<Decision>> kMeanings = {
        "released", "put on hold", "rejected", "rejected for rework"};
    return kMeanings.at(static_cast<std::size_t>(decision));
}

std::string_view name(OpenKind kind) {
    constexpr std::array<std::string_view, kWords<OpenKind>> kNames = {
        "not ready",         "open departure", "not approved", "lot held",     "not weighed",
        "outside tolerance", "not closed",     "no sample",    "few portions", "no limits",
        "not checked",       "not tested",     "waits",        "not within",   "not jointly",
        "not homogeneous",   "not balanced",   "fault seen",   "not signed"};
    return kNames.at(static_cast<std::size_t>(kind));
}

std::vector<std::string> seen_of(const BatchFile& file, Concern concern) {
    std::vector<std::string> out;
    if (concern == Concern::Samples) {
        for (const SampleSpread& s : file.assessment.spreads) {
            if (s.verdict == kNotHomogeneous) {
                out.push_back(s.sentence);
            }
        }
    } else if (concern == Concern::Charges && file.assessment.charges.verdict == "act") {
        out.push_back(file.assessment.charges.sentence);
    } else if (concern == Concern::Fault && !file.fault.empty()) {
        out.push_back(file.fault);
    }
    return out;
}

std::vector<OpenItem> open_items(const BatchFile& file) { return Collector(file).items(); }

std::vector<Hand> hands_of(const BatchFile& file) {
    std::vector<Hand> out;
    add_hand(out, file.batch.planned_by, "planned");
    for (const Weighing& w : file.weighings) {
        add_hand(out, w.by, "weighed");
    }
    add_hand(out, file.batch.blended_by, "blended");
    for (const Sample& s : file.samples) {
        add_hand(out, s.taken_by, "sampled");
    }
    for (const TestPortion& p : file.portions) {
        add_hand(out, p.by, "tested");
        add_hand(out, p.set_aside ? p.set_aside->by : "", "set aside a test portion of");
    }
    for (const PlacedResult& r : file.results) {
        add_hand(out, r.is.entered_by, "tested");
        for (const std::string& person : r.is.touched_by) {
            add_hand(out, person, "tested");
        }
        add_hand(out, r.is.set_aside_by, "set aside results of");
    }
    return out;
}

Proposal proposal_for(const BatchFile& file) {
    const std::vector<OpenItem> items = open_items(file);
    std::vector<std::string> outside;
    for (const Tested& e : file.assessment.elements) {
        if (e.verdict == Verdict::Outside && e.waits.empty()) {  // others are not tested to an end
            outside.push_back(e.symbol);
        }
    }
    if (!outside.empty()) {
        return {Decision::Reject, fmt::format("{} {} outside the limits", base::join_words(outside),
                                              outside.size() == 1 ? "lies" : "lie")};
    }
    for (const Tested& e : file.assessment.elements) {
        if (e.verdict == Verdict::Outside) {
            return {Decision::Hold, fmt::format("{}: {}", e.symbol, e.waits.front())};
        }
    }
    if (!items.empty()) {
        return {Decision::Hold, items.front().sentence};
    }
    return {Decision::Release, "all that was asked for lies within its limits"};
}

std::vector<std::string> what_hinders(const BatchFile& file, Decision decision, std::string_view by,
                                      bool stale) {
    if (auto state = wrong_state(file, decision, stale)) {
        return {std::move(*state)};
    }
    std::vector<std::string> out;
    if (decision != Decision::Release) {
        return out;
    }
    for (const Hand& hand : hands_of(file)) {
        if (hand.person == by) {
            out.push_back(own_work(file.batch, hand));
        }
    }
    for (const OpenItem& item : open_items(file)) {
        out.push_back(item.sentence);
    }
    return out;
}

Result<void> may_decide(const BatchFile& file, Decision decision, std::string_view by,
                        std::string_view why, bool stale) {
    const Batch& batch = file.batch;
    if (auto state = wrong_state(file, decision, stale)) {
        return fail(ProblemCode::Refused, std::move(*state));
    }
    if (decision != Decision::Release) {
        if (base::trim(why).empty()) {
            return fail(
                ProblemCode::BadInput,
                fmt::format("to {} batch {} needs its reason", name(decision), batch.number),
                {"", 0, "why"});
        }
        return {};
    }
    for (const Hand& hand : hands_of(file)) {
        if (hand.person == by) {
            return fail(ProblemCode::Refused, own_work(batch, hand));
        }
    }
    const std::vector<std::string> hinders = what_hinders(file, decision, by, stale);
    if (!hinders.empty()) {
        return fail(ProblemCode::Refused,
                    fmt::format("batch {} has open items and is not released: {}", batch.number,
                                fmt::join(hinders, "; ")));
    }
    return {};
}

Result<Batch> decided(Batch batch, Decision decision, bool stale) {
    const BatchState to = state_after(decision);
    if (stale && batch.state == BatchState::Released) {
        batch.state = to;
        return batch;
    }
    if (to == BatchState::OnHold) {
        batch.state_before_hold = name(batch.state);
    }
    return moved(std::move(batch), to);
}

}  // namespace bw::works
