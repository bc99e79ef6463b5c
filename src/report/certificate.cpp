// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/certificate.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "report/code.hpp"
#include "report/figure.hpp"
#include "report/house_style.hpp"
#include "report/status.hpp"
#include "report/table.hpp"

namespace bw::report {
namespace {

constexpr std::size_t kMostResults = 400;
constexpr int kResultsPart = 1, kLotsPart = 2;
constexpr std::ptrdiff_t kFactorAt = 3;  // the column of k
// Points, by eye.
constexpr double kBetween = 3, kBeforeCode = 8, kBeforeEnd = 10;

PageForm form() {
    constexpr double kSide = 20 * kMm, kTop = 20 * kMm, kBottom = 22 * kMm;
    return {kA4, kSide, kSide, kTop, kBottom};
}

std::string limits_of(const CertificateResult& result) {
    const std::string low = printed(result.low), high = printed(result.high);
    if (result.low.empty() && result.high.empty()) {
        return "none";
    }
    if (result.low.empty()) {
        return "≤ " + high;
    }
    return result.high.empty() ? "≥ " + low : low + " to " + high;
}

/// Whether the results name more than one coverage factor.
bool factors_differ(const Certificate& of) {
    std::set<std::string> factors;
    for (const CertificateResult& each : of.results) {
        if (!each.k.empty()) {  // a line that is not tested has none
            factors.insert(each.k);
        }
    }
    return factors.size() > 1;
}

std::string result_head(const Certificate& of) {
    if (!of.coverage.empty()) {
        return "Result ± U (" + of.coverage + ")";
    }
    if (!factors_differ(of) && !of.results.front().k.empty()) {
        return "Result ± U (k = " + of.results.front().k + ")";
    }
    return "Result ± U";
}

/// The marks of a line: a number for its note, a dagger for an outside laboratory.
std::string marks(const CertificateResult& result, std::size_t& notes) {
    std::string out;
    if (!result.note.empty()) {
        out = fmt::to_string(++notes);
    }
    if (result.outside_laboratory) {
        out += out.empty() ? "†" : ",†";
    }
    return out;
}

Strips results(const Certificate& of, const HouseStyle& style) {
    constexpr double kSize = 8.4, kBeforeNotes = 4;
    Table out;
    out.part = kResultsPart;
    out.width = style.width();
    out.size = kSize;
    out.columns = {{"Quantity", {}, Fit::Words, 0, 2},  {"Unit", {}, Fit::Words, 0, 0},
                   {result_head(of), {}, Fit::Figures}, {"Limits", {}, Fit::Right},
                   {"Verdict", {}, Fit::Status},        {"Method", {}, Fit::Words, 0, 1},
                   {"Tested on", {}, Fit::Right}};
    const bool factors = factors_differ(of);
    if (factors) {
        out.columns.insert(out.columns.begin() + kFactorAt, Column{"k", {}, Fit::Right, 0, 1});
    }
    std::size_t notes = 0;
    Strips below;
    for (const CertificateResult& each : of.results) {
        Cell quantity{each.symbol.empty() ? each.quantity
                                          : fmt::format("{} ({})", each.quantity, each.symbol)};
        quantity.note = marks(each, notes);
        Cell value{each.value.empty() ? "not tested" : each.value, each.expanded};
        Row row{{quantity,
                 {each.unit},
                 value,
                 {limits_of(each)},
                 {{}, {}, each.verdict},
                 {each.method},
                 {each.tested_on.empty() ? "–" : each.tested_on}},
                {}};
        if (factors) {
            row.cells.insert(row.cells.begin() + kFactorAt, Cell{each.k.empty() ? "–" : each.k});
        }
        out.rows.push_back(row);
        if (!each.note.empty()) {
            append(below, style.quiet(fmt::format("{}  {}: {}", notes, each.quantity, each.note)));
        }
    }
    Strips strips = table(out, style.typeface);
    const auto some = [&](auto test) {
        return std::any_of(of.results.begin(), of.results.end(), test);
    };
    if (some([](const auto& each) { return each.outside_laboratory; })) {
        append(below, style.quiet("†  tested by an outside laboratory"));
    }
    if (some([](const auto& each) { return !each.value.empty() && each.expanded.empty(); })) {
        append(below, style.quiet("A result without ±: its uncertainty is not stated."));
    }
    if (!below.empty()) {
        below.front().before = kBeforeNotes;
        strips.back().with_next = true;
        below.front().with_next = below.size() > 1;
        append(strips, std::move(below));
    }
    return strips;
}

Strips item(const Certificate& of, const HouseStyle& style) {
    constexpr double kProduct = 13, kMark = 9, kBefore = 5;
    std::string sizes = base::join_words(of.pack_sizes);
    Strips out = paragraph({{of.product, {Face::Bold, kProduct, kInk}}},
                           {0, style.width(), kTightLeading, kBefore, "H2"}, style.typeface);
    if (!of.decision.empty()) {
        const double width = status_width(of.decision_status, of.decision, kMark, style.typeface);
        // To the right of the product where there is room, below it else.
        const double used = style.typeface.width(of.product, {Face::Bold, kProduct, kInk});
        constexpr double kBaseline = 13, kGap = 12;
        if (used + kGap + width > style.width()) {
            Strip line;
            constexpr double kTall = 1.7, kDown = 1.2;  // of the type size
            line.height = kTall * kMark;
            append(line.items, status_mark(of.decision_status, of.decision, 0, kDown * kMark, kMark,
                                           style.typeface));
            out.push_back(line);
        } else {
            append(out.front().items,
                   status_mark(of.decision_status, of.decision, style.width() - width, kBaseline,
                               kMark, style.typeface));
        }
    }
    keep_together(out);
    // What is left out where it is not known stands at the end, so that the columns keep.
    append(out, style.facts({{"Batch", of.batch},
                             {"Sample", of.sample.empty() ? "-" : of.sample},
                             {"Recipe version", of.recipe_version},
                             {"Sampled on", of.sampled_on.empty() ? "-" : of.sampled_on},
                             {"Made on", of.made_on.empty() ? "-" : of.made_on},
                             {"Sampling plan", of.sampling_plan.empty() ? "-" : of.sampling_plan},
                             {"Use by", of.use_by.empty() ? "-" : of.use_by},
                             {"Pack sizes", sizes.empty() ? "-" : sizes},
                             {"Received on", of.received_on},
                             {"Condition", of.sample_condition},
                             {"Customer", of.customer}},
                            2));
    return out;
}

Strips how_it_was_tested(const Certificate& of, const HouseStyle& style) {
    Strips out = style.heading("How it was tested");
    append(out, style.sentences(of.method_note));
    if (!of.methods.empty()) {
        std::string all = "Methods: ";
        for (const std::string& each : of.methods) {
            all += (&each == &of.methods.front() ? "" : "; ") + each;
        }
        append(out, style.text(all + ".", 2));
    }
    if (of.departures.empty()) {
        append(out, style.text("Departures while it was made and tested: none.", 2));
    }
    for (const std::string& each : of.departures) {
        append(out, style.text("Departure " + each, 2));
    }
    return out;
}

std::string code_text(const Certificate& of) {
    return of.code_text.empty()
               ? fmt::format(
                     "Certificate {} issue {}\nBatch {}\nVerification code {}\nContent mark "
                     "{}\nTrail mark {}",
                     of.mark.number, of.issue, of.batch, of.mark.verification_code,
                     of.mark.content_mark, of.mark.trail_mark)
               : of.code_text;
}

/// Signatures, and beside them how to verify with the square code.
Result<Strips> signing(const Certificate& of, const HouseStyle& style) {
    constexpr double kCode = 78, kGap = 16;
    Strips out = style.heading("Signed");
    if (of.signatures.empty()) {
        append(out, style.text("Not signed: this is a draft and no certificate."));
    }
    append(out, style.signatures(of.signatures, 2));
    Strips facts;
    const double room = style.width() - kCode - kGap;
    const auto put = [&](const char* name, const std::string& value) {
        if (!value.empty()) {
            append(facts, paragraph({{std::string(name) + "  ", style.label()},
                                     {value, {Face::Bold, style.body, kInk, true}}},
                                    {0, room}, style.typeface));
        }
    };
    put("Verification code", of.mark.verification_code);
    put("Content mark", of.mark.content_mark);
    put("Trail mark", of.mark.trail_mark);
    const std::string how =
        !of.how_to_verify.empty()
            ? of.how_to_verify
            : "To verify, ask the maker for this number and compare the verification code and the "
              "content mark, which is the beginning of the SHA-256 of what was signed. The square "
              "code holds the same as plain text and needs no network.";
    append(facts, paragraph({{how, style.label()}}, {0, room, kLeading, kBetween}, style.typeface));
    Strip code;
    code.height = kCode;
    BW_TRY(square, square_code(code_text(of), 0, 0, kCode));
    code.items = tagged("Figure", std::move(square));
    Strip both = beside({{0, facts}, {style.width() - kCode, {code}}});
    both.before = kBeforeCode;
    append(out, {both});
    keep_together(out);
    return out;
}

Strips annex(const Certificate& of, const HouseStyle& style) {
    if (of.lots.empty()) {
        return {};
    }
    Strips out = style.heading("Annex: lots in this batch");
    Table lots;
    lots.part = kLotsPart;
    lots.width = style.width();
    lots.columns = {{"Material", {}, Fit::Words, 0, 2},
                    {"Lot", {}, Fit::Words},
                    {"Supplier", {}, Fit::Words, 0, 2},
                    {"Share", {}, Fit::Right}};
    for (const CertificateLot& each : of.lots) {
        lots.rows.push_back({{{each.material}, {each.lot}, {each.supplier}, {each.share}}, {}});
    }
    append(out, table(lots, style.typeface));
    return out;
}

Strips statements(const Certificate& of, const HouseStyle& style) {
    Strips out;
    const auto section = [&](const char* title, const std::vector<std::string>& texts) {
        if (!texts.empty()) {
            append(out, style.heading(title));
            append(out, style.sentences(texts));
        }
    };
    section("Homogeneity", of.homogeneity);
    section("How the verdicts were reached", of.decision_rule);
    std::vector<std::string> said{"The results relate only to the items tested.",
                                  "This certificate may be reproduced only in full."};
    said.insert(said.end(), of.statements.begin(), of.statements.end());
    section("Statements", said);
    section("Opinions, apart from the results", of.opinions);
    return out;
}

Result<void> check(const Certificate& of) {
    BW_CHECK(check_needed({{"number", of.mark.number},
                           {"maker", of.maker.name},
                           {"product", of.product},
                           {"batch", of.batch},
                           {"issue", of.issue}}));
    if (of.results.empty()) {
        return fail(ProblemCode::BadInput, "a certificate needs a result at least",
                    {{}, 0, "results"});
    }
    if (of.results.size() > kMostResults) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("{} results; a certificate holds at most {}", of.results.size(),
                                kMostResults),
                    {{}, 0, "results"});
    }
    return {};
}

}  // namespace

Result<std::string> certificate_pdf(const Certificate& of) {
    BW_CHECK(check(of));
    const Typeface typeface;
    const HouseStyle style{typeface, form()};
    std::vector<std::string> under{of.laboratory.empty() ? "" : "Tested by " + of.laboratory};
    under.insert(under.end(), of.place_of_work.begin(), of.place_of_work.end());
    under.erase(std::remove(under.begin(), under.end(), std::string{}), under.end());
    Strips strips = style.opening("Certificate of analysis", of.maker, under,
                                  {{"Certificate", of.mark.number},
                                   {"Issue", of.issue},
                                   {"Issued on", of.issued_on},
                                   {"Verification code", of.mark.verification_code}});
    if (!of.replaces.empty()) {
        append(strips, paragraph({{"Replaces " + of.replaces, style.style(Face::Bold)}},
                                 {0, style.width(), kLeading, kBetween}, typeface));
    }
    append(strips, item(of, style));
    append(strips, how_it_was_tested(of, style));
    append(strips, style.heading("Results"));
    append(strips, results(of, style));
    append(strips, statements(of, style));
    BW_TRY(signed_by, signing(of, style));
    append(strips, std::move(signed_by));
    append(strips, annex(of, style));
    strips.back().with_next = true;
    append(strips, paragraph({{"End of certificate", style.style(Face::Bold)}},
                             {0, style.width(), kLeading, kBeforeEnd}, typeface));
    const std::string about =
        fmt::format("Certificate of analysis  ·  {}  ·  batch {}", of.product, of.batch);
    PaperMark foot = of.mark;
    foot.number += ", issue " + of.issue;
    BW_TRY(done, pages(strips, style.form, style.margins(foot, "Certificate", about)));
    return pdf_bytes(done, style.form.size,
                     {"Certificate of analysis " + of.mark.number,
                      of.maker.name,
                      fmt::format("{}, batch {}", of.product, of.batch),
                      {},
                      of.mark.created},
                     typeface);
}

}  // namespace bw::report
