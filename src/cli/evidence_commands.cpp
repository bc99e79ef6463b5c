// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"
#include "service/explain_batch.hpp"
#include "service/trace.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

constexpr int kPlaces = 2;

struct EvidenceArguments {
    BooksOptions books;
    std::string id, element;
};

std::string percent(double share) { return base::format_places(share * unit::kPercent, kPlaces); }

std::string_view name_of(assay::DiagnosisVerdict verdict) {
    switch (verdict) {
        case assay::DiagnosisVerdict::Nothing:
            return "nothing";
        case assay::DiagnosisVerdict::Found:
            return "found";
        case assay::DiagnosisVerdict::CannotTell:
            return "cannot tell";
        case assay::DiagnosisVerdict::Unexplained:
            break;
    }
    return "unexplained";
}

std::string explained_text(const service::BatchExplanation& x) {
    if (x.too_few) {
        return wrapped(
            "", fmt::format("Batch {}: no cause can be told. {}", x.batch, x.sentences.front()));
    }
    const bool only_scatter = x.fault() && x.diagnosis.verdict == assay::DiagnosisVerdict::Nothing;
    std::string out =
        fmt::format("Batch {}: {}\n", x.batch,
                    only_scatter ? "its test portions scatter more than the methods do"
                    : x.fault()  ? "a fault is to be seen"
                                 : "no fault is to be seen");
    for (std::size_t i = 0; i < x.sentences.size(); ++i) {
        out += wrapped(i == 0 ? "  " : "  - ", x.sentences[i]);
    }
    TextTable table(
        {{{""}}, {{"found off", "expected, %"}, Align::Decimal}, {{"own u", "%"}, Align::Decimal}});
    for (const service::PatternLine& line : x.pattern) {
        table.add({line.symbol, percent(line.deviation), percent(line.u)});
    }
    out += "\n" + table.text();
    out += fmt::format("  shared by all: u {} %\n\n", percent(x.u_common));
    TextTable seen({{{"material"}}, {{"smallest fault", "seen, %"}, Align::Decimal}});
    for (std::size_t k = 0; k < x.causes.size(); ++k) {
        const double least = x.diagnosis.smallest_seen[k];
        seen.add({x.causes[k], std::isfinite(least) && least < 1 ? percent(least) : "none"});
    }
    return out + seen.text();
}

Json explained_json(const service::BatchExplanation& x) {
    Json pattern = Json::array();
    for (const service::PatternLine& line : x.pattern) {
        pattern.push_back({{"symbol", line.symbol},
                           {"expected_mol_per_kg", line.expected},
                           {"found_mol_per_kg", line.found},
                           {"deviation_percent", line.deviation * unit::kPercent},
                           {"u_percent", line.u * unit::kPercent}});
    }
    Json causes = Json::array();
    for (const assay::Explanation& e : x.diagnosis.explanations) {
        causes.push_back(
            {{"kind", assay::name(e.kind)},
             {"of", e.of},
             {"source",
              e.kind == assay::FaultKind::Amount ? Json(assay::name(e.source)) : Json(nullptr)},
             {"size_percent", e.size * unit::kPercent},
             {"u_size_percent", e.u_size * unit::kPercent},
             {"weight", e.weight},
             {"explains", e.explains},
             {"left_over", e.left_over},
             {"left_p", e.left_p}});
    }
    Json seen = Json::array();
    for (std::size_t k = 0; k < x.causes.size(); ++k) {
        seen.push_back({{"material", x.causes[k]},
                        {"percent", json_number(x.diagnosis.smallest_seen[k] * unit::kPercent)}});
    }
    return {{"version", 1},
            {"batch", x.batch},
            {"fault", x.fault()},
            {"verdict", x.too_few ? "too few tested" : name_of(x.diagnosis.verdict)},
            {"unmixed", x.spread.unmixed()},
            {"sentences", x.sentences},
            {"pattern", pattern},
            {"u_common_percent", x.u_common * unit::kPercent},
            {"chi_squared", x.diagnosis.chi_squared},
            {"chi_squared_most", x.diagnosis.chi_squared_most},
            {"chance_weight", x.diagnosis.chance_weight},
            {"explanations", causes},
            {"test_element", x.diagnosis.test_element
                                 ? Json(x.pattern[*x.diagnosis.test_element].symbol)
                                 : Json(nullptr)},
            {"smallest_seen", seen}};
}

void add_explain(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "batch", "Batches");
    auto a = std::make_shared<EvidenceArguments>();
    const Command explain =
        add_command(noun, "explain", "What explains a batch that is off its target",
                    "batch explain B26-0001-K --books books");
    explain.add_option("BATCH", a->id, "Number of the batch").required();
    add_reading_options(explain, a->books);
    explain.footer(
        "Example:\n  brinewright batch explain B26-0001-K --books books\n\n"
        "Exit codes: 0 nothing points to a fault; 1 a fault is to be seen, found or not told, or "
        "too "
        "few elements are tested to tell; 2 bad input.");
    commands.add(explain, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(explained, service::explain_batch(books, a->id));
        if (a->books.json) {
            put(json_text(explained_json(explained)), streams);
        } else if (!a->books.quiet) {
            put(explained_text(explained), streams);
        }
        return explained.fault() || explained.too_few ? 1 : 0;
    });
}

/// What has become of a line's record: nothing, where it stands as it was traced.
std::string since(const service::TraceLine& line) {
    if (line.version == 0) {
        return {};
    }
    if (line.changed) {
        return line.version == line.version_now
                   ? fmt::format(" (version {}; no longer counts)", line.version)
                   : fmt::format(" (version {}; CHANGED SINCE, version {} now)", line.version,
                                 line.version_now);
    }
    return line.version == line.version_now
               ? fmt::format(" (version {})", line.version)
               : fmt::format(" (version {}; version {} now, nothing that counts here changed)",
                             line.version, line.version_now);
}

void add_trace(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "trace", "What stands behind a figure: show");
    auto a = std::make_shared<EvidenceArguments>();
    const Command show =
        add_command(noun, "show",
                    "Every figure of a certificate or batch back to results, samples, weighings "
                    "and lots",
                    "trace show C26-0001-K --element Ca --books books");
    show.add_option("CERTIFICATE", a->id, "Number of a certificate or a batch").required();
    show.add_option("--element", a->element, "One element alone");
    add_reading_options(show, a->books);
    commands.add(show, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        BW_TRY(trace, service::trace_of(books, a->id, a->element));
        Json lines = Json::array();
        std::string text;
        for (const service::TraceLine& line : trace.lines) {
            lines.push_back(
                {{"depth", line.depth},
                 {"kind", line.kind},
                 {"id", line.id},
                 {"text", line.text},
                 {"version_pinned", line.version > 0 ? Json(line.version) : Json(nullptr)},
                 {"version_now", line.version > 0 ? Json(line.version_now) : Json(nullptr)},
                 {"changed_since", line.changed}});
            text += wrapped(std::string(2 * static_cast<std::size_t>(line.depth), ' '),
                            line.kind + " " + line.id + since(line) + ": " + line.text);
        }
        const Json out = {
            {"version", 1},
            {"batch", trace.batch},
            {"certificate", trace.certificate ? Json(trace.certificate->id()) : Json(nullptr)},
            {"changed", trace.changed},
            {"lines", lines}};
        if (a->books.json) {
            put(json_text(out), streams);
        } else if (!a->books.quiet) {
            put(text + (trace.changed.empty()
                            ? ""
                            : "Changed since the release was signed:\n" + bullets(trace.changed)),
                streams);
        }
        return 0;
    });
}

}  // namespace

void add_evidence_commands(Command app, BookCommands& commands) {
    add_explain(app, commands);
    add_trace(app, commands);
}

}  // namespace bw::cli
