// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <memory>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "service/releases.hpp"
#include "service/shown_amount.hpp"
#include "unit/factors.hpp"
#include "works/tested_together.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 5;
constexpr int kPlaces = 2;
constexpr std::size_t kShortMark = 16;

std::string elements_text(const works::Assessment& assessment) {
    TextTable table({{{""}},
                     {{"found", "\u00B1 u"}, Align::Decimal},
                     {{"unit"}},
                     {{"target"}, Align::Decimal},
                     {{"off", "%"}, Align::Decimal},
                     {{"low"}, Align::Decimal},
                     {{"high"}, Align::Decimal},
                     {{"conforms", "%"}, Align::Decimal},
                     {{"verdict"}}});
    for (const works::Tested& t : assessment.elements) {
        const service::ShownUnit shown = service::shown_unit(t.symbol, t.target.value_or(t.value));
        const auto number = [&](std::optional<double> x) {
            return x ? base::format_significant(*x * shown.per_mol_per_kg, kDigits) : std::string();
        };
        const bool tested = t.verdict != works::Verdict::NotTested;
        table.add({t.symbol,
                   tested ? (t.below_limit ? "< " : "") +
                                base::format_with_uncertainty(t.value * shown.per_mol_per_kg,
                                                              t.u * shown.per_mol_per_kg)
                                    .text()
                          : "",
                   shown.unit, number(t.target),
                   tested && t.target && *t.target > 0
                       ? base::format_places((t.value / *t.target - 1) * unit::kPercent, kPlaces)
                       : "",
                   number(t.low), number(t.high),
                   tested ? works::chance_percent(t.probability) : "",
                   std::string(works::name(t.verdict))});
    }
    return table.text();
}

std::vector<std::string> notes_of(const works::Assessment& assessment) {
    std::vector<std::string> out;
    for (const works::Tested& t : assessment.elements) {
        out.insert(out.end(), t.notes.begin(), t.notes.end());
    }
    const std::vector<std::string> samples = works::told_of(assessment.spreads);
    out.insert(out.end(), samples.begin(), samples.end());
    out.push_back(assessment.sampling);
    out.push_back(assessment.charges.sentence);
    return out;
}

std::string decision_text(const service::ReleaseView& view) {
    if (!view.decision) {
        return "  not decided yet\n";
    }
    const works::Release& r = view.decision->is;
    std::string out =
        fmt::format("  decision {}: {}, {} by {} ({}) at {}, content mark {}\n", r.number,
                    works::name(r.decision), r.approved.meaning, r.approved.name, r.approved.duty,
                    r.approved.at, r.approved.mark.substr(0, kShortMark));
    if (view.stale()) {
        out += "  That signature no longer holds, for what it rests on has changed:\n" +
               bullets(view.changed);
    }
    return out;
}

std::string view_text(const service::ReleaseView& view) {
    const works::BatchFile& file = view.reading.file;
    std::string out = fmt::format("Batch {} of {}: {}{}\n", file.batch.number, file.batch.product,
                                  works::name(file.batch.state), view.stale() ? ", unsigned" : "");
    out += decision_text(view) + dashes(view.notices);
    if (file.limits) {
        out += wrapped("  limits " + std::to_string(file.limits->number) + ": ",
                       works::sentence_of_rule(*file.limits)) +
               "\n" + elements_text(file.assessment);
        out += fmt::format("  {}\n", works::together_of(file.assessment));
        out += "  u: standard uncertainty\n" + dashes(notes_of(file.assessment));
    }
    for (std::size_t i = 0; i < file.departures.size(); ++i) {
        const works::Departure& d = file.departures[i];
        out +=
            wrapped("  departure ", fmt::format("{}{} ({}): {}{}", d.number, works::about_words(d),
                                                works::name(d.state), d.what,
                                                d.answer.empty() ? "" : ". Answer: " + d.answer)) +
            dashes(view.remarks[i]);
    }
    if (!view.open.empty()) {
        std::vector<std::string> sentences;
        sentences.reserve(view.open.size());
        for (const works::OpenItem& item : view.open) {
            sentences.push_back(item.sentence);
        }
        out += "\nOpen\n" + bullets(sentences);
    }
    out +=
        fmt::format("\nProposed: {}: {}\n", works::name(view.proposal.decision), view.proposal.why);
    std::vector<std::string> hands;
    hands.reserve(view.hands.size());
    for (const works::Hand& hand : view.hands) {
        hands.push_back(hand.person + " " + hand.did);
    }
    out += wrapped("Made by: ", fmt::format("{}", fmt::join(hands, ", ")));
    return out + fmt::format("To sign exactly this: --shown {}\n", view.mark.substr(0, kShortMark));
}

Json view_json(const service::ReleaseView& view) {
    Json open = Json::array();
    for (const works::OpenItem& item : view.open) {
        open.push_back({{"kind", works::name(item.kind)}, {"text", item.sentence}});
    }
    Json hands = Json::array();
    for (const works::Hand& hand : view.hands) {
        hands.push_back({{"person", hand.person}, {"did", hand.did}});
    }
    Json departures = Json::array();
    for (std::size_t i = 0; i < view.remarks.size(); ++i) {
        const works::Departure& d = view.reading.file.departures[i];
        departures.push_back({{"number", d.number},
                              {"state", works::name(d.state)},
                              {"what", d.what},
                              {"answer", d.answer},
                              {"remarks", view.remarks[i]}});
    }
    Json units = Json::array();
    for (const works::Tested& t : view.evidence.assessment.elements) {
        const service::ShownUnit shown = service::shown_unit(t.symbol, t.target.value_or(t.value));
        units.push_back(
            {{"symbol", t.symbol}, {"unit", shown.unit}, {"per_mol_per_kg", shown.per_mol_per_kg}});
    }
    Json out = {{"version", 1},
                {"batch", view.evidence.batch},
                {"state", works::name(view.reading.file.batch.state)},
                {"signed", view.decision.has_value() && !view.stale()},
                {"changed", view.changed},
                {"notices", view.notices},
                {"open", open},
                {"departures", departures},
                {"certificate_units", units},
                {"hands", hands},
                {"tested_together", works::together_of(view.evidence.assessment)},
                {"proposal", works::name(view.proposal.decision)},
                {"proposal_why", view.proposal.why},
                {"mark", view.mark},
                {"evidence", json_of_text(view.text)}};
    out["decision"] = nullptr;
    if (view.decision) {
        const works::Release& r = view.decision->is;
        out["decision"] = {{"number", r.number},
                           {"decision", works::name(r.decision)},
                           {"person", r.approved.person},
                           {"at", r.approved.at},
                           {"why", r.why},
                           {"mark", r.approved.mark}};
    }
    return out;
}

struct ReleaseArguments {
    BooksOptions books;
    service::ReleaseOrder order;
    std::string decision;
};

void add_show(Command noun, BookCommands& commands) {
    auto a = std::make_shared<ReleaseArguments>();
    const Command show =
        add_command(noun, "show", "A batch beside its limits, what is open, and who decided",
                    "release show B26-0001-K --books books");
    show.add_option("BATCH", a->order.batch, "Number of the batch").required();
    add_reading_options(show, a->books);
    show.footer(
        "Example:\n  brinewright release show B26-0001-K --books books\n\n"
        "Exit codes: 0 released and signed, or nothing is open; 1 something is open, or what was "
        "signed has changed since; 2 bad input.");
    commands.add(show, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(view, service::show_release(books, a->order.batch));
        if (a->books.json) {
            put(json_text(view_json(view)), streams);
        } else if (!a->books.quiet) {
            put(view_text(view), streams);
        }
        return view.open.empty() && !view.stale() ? 0 : 1;
    });
}

void add_decide(Command noun, BookCommands& commands) {
    auto a = std::make_shared<ReleaseArguments>();
    const Command decide = add_command(
        noun, "decide", "Signs a decision on a batch over its evidence as it stands",
        "release decide B26-0001-K release --shown 9f3a6b1c22d04e57 --session q --password-file "
        "q.password");
    decide.add_option("BATCH", a->order.batch, "Number of the batch").required();
    decide.add_option("DECISION", a->decision, "release, hold, reject or rework").required();
    decide
        .add_option("--shown", a->order.shown,
                    "Mark of what `release show` showed; refused when it is no longer that")
        .required();
    add_writing_options(decide, a->books);
    commands.add(decide, [a](const Streams& streams) -> Result<int> {
        const auto decision = works::from_word<works::Decision>(a->decision);
        if (!decision) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is no decision: write {}", base::quoted(a->decision),
                                    works::all_words<works::Decision>()),
                        {"", 0, "DECISION"});
        }
        a->order.decision = *decision;
        BW_TRY(signing, signing_from(a->books));
        BW_TRY(open, open_desk(a->books));
        BW_TRY(receipt, service::decide_release(open.desk, a->order, signing, open.intent));
        report_receipt(a->books, receipt,
                       fmt::format("Batch {} is {}; content mark {}", a->order.batch,
                                   works::meaning(*decision), receipt.answer.substr(0, kShortMark)),
                       streams);
        return 0;
    });
}

}  // namespace

void add_release_commands(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "release", "Release decisions: show, decide");
    add_show(noun, commands);
    add_decide(noun, commands);
}

}  // namespace bw::cli
