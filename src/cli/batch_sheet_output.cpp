// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include <fmt/format.h>

#include "cli/batch_output.hpp"
#include "cli/books_options.hpp"
#include "cli/table.hpp"
#include "report/pictogram.hpp"
#include "report/svg.hpp"

namespace bw::cli {
namespace {

constexpr double kSign = 40;  ///< side of a pictogram [points]

Json weighing_json(const report::SheetWeighing& w) {
    return {{"net", w.net},         {"tare", w.tare},   {"by", w.by},
            {"at", w.at},           {"scale", w.scale}, {"by_hand", w.by_hand},
            {"outside", w.outside}, {"whole", w.whole}, {"correction", w.correction}};
}

Json line_json(const report::SheetAddition& a) {
    Json weighings = Json::array();
    for (const report::SheetWeighing& w : a.weighings) {
        weighings.push_back(weighing_json(w));
    }
    return {{"step", a.step},     {"material", a.material},     {"lot", a.lot},
            {"target", a.target}, {"tolerance", a.tolerance},   {"unit", a.unit},
            {"scale", a.scale},   {"resolution", a.resolution}, {"parts", a.parts},
            {"part", a.part},     {"weighings", weighings}};
}

Json statements_json(const std::vector<report::HazardStatement>& statements) {
    Json out = Json::array();
    for (const report::HazardStatement& s : statements) {
        out.push_back({{"code", s.code}, {"text", s.text}, {"of", s.of}});
    }
    return out;
}

Json safety_json(const report::SafetyBox& box) {
    Json signs = Json::array();
    for (const std::string& code : box.pictograms) {
        const std::string name(report::pictogram_name(code));
        signs.push_back({{"code", code},
                         {"name", name},
                         {"svg", report::svg_text(report::pictogram(code, 0, 0, kSign),
                                                  {kSign, kSign}, code, name)}});
    }
    return {{"signal_word", box.signal_word},
            {"pictograms", signs},
            {"hazards", statements_json(box.hazards)},
            {"precautions", statements_json(box.precautions)},
            {"cautions", box.cautions},
            {"decided_by", box.decided_by},
            {"signed_for", box.signed_for}};
}

void add_lines(const std::vector<report::SheetAddition>& lines, TextTable& table) {
    for (const report::SheetAddition& a : lines) {
        table.add({a.step, a.material, a.lot, a.target, a.tolerance, a.unit, a.scale, "", "", ""});
        for (const report::SheetWeighing& w : a.weighings) {
            table.add({"", "", "", "", "", "", "", w.net + (w.by_hand ? " *" : ""), w.by,
                       !w.whole    ? "part"
                       : w.outside ? "outside"
                                   : "within"});
        }
    }
}

std::string safety_text(const report::SafetyBox& box) {
    if (box.decided_by.empty()) {
        return "  Safety not yet decided: nobody may start before that is done and signed.\n";
    }
    std::string out = fmt::format("  {}", box.signal_word.empty() ? "Safety" : box.signal_word);
    for (const std::string& code : box.pictograms) {
        out += fmt::format(", {} {}", code, report::pictogram_name(code));
    }
    out += "\n";
    for (const auto* statements : {&box.hazards, &box.precautions}) {
        for (const report::HazardStatement& s : *statements) {
            out += wrapped("  ", fmt::format("{} ({}): {}.", s.text, s.code, s.of));
        }
    }
    for (const std::string& caution : box.cautions) {
        out += wrapped("  ", caution);
    }
    return out;
}

}  // namespace

std::string sheet_text(const report::BatchSheet& sheet) {
    std::string out = fmt::format("Batch sheet {} of {}, {}: {}\n\n", sheet.batch, sheet.product,
                                  sheet.size, sheet.state);
    out += safety_text(sheet.safety);
    out += "\n  Before the start\n";
    for (const std::string& check : sheet.before_start) {
        out += wrapped("  [ ] ", check);
    }
    TextTable table({{{"step"}, Align::Right},
                     {{"material"}},
                     {{"lot"}},
                     {{"target"}, Align::Decimal},
                     {{"either way"}, Align::Decimal},
                     {{"unit"}},
                     {{"scale"}},
                     {{"net"}, Align::Right},
                     {{"by"}},
                     {{""}}});
    std::size_t done = 0;
    for (const report::SheetPremix& premix : sheet.premixes) {
        const std::size_t until = std::min(premix.after, sheet.additions.size());
        add_lines({sheet.additions.begin() + static_cast<std::ptrdiff_t>(done),
                   sheet.additions.begin() + static_cast<std::ptrdiff_t>(until)},
                  table);
        add_lines(premix.additions, table);
        done = until;
    }
    add_lines({sheet.additions.begin() + static_cast<std::ptrdiff_t>(done), sheet.additions.end()},
              table);
    out += "\n" + table.text() + "  *  typed by hand, not read from the scale\n";
    for (const report::SheetPremix& premix : sheet.premixes) {
        out += "\n  " + premix.name + "\n";
        for (const std::string& step : premix.steps) {
            out += wrapped("  ", step);
        }
    }
    out += "\n  Samples\n";
    for (const std::string& sentence : sheet.sampling) {
        out += wrapped("  ", sentence);
    }
    return out;
}

Json sheet_json(const report::BatchSheet& sheet) {
    Json lines = Json::array();
    for (const report::SheetAddition& a : sheet.additions) {
        lines.push_back(line_json(a));
    }
    Json premixes = Json::array();
    for (const report::SheetPremix& premix : sheet.premixes) {
        Json of_premix = Json::array();
        for (const report::SheetAddition& a : premix.additions) {
            of_premix.push_back(line_json(a));
        }
        premixes.push_back({{"name", premix.name},
                            {"vessel", premix.vessel},
                            {"after", premix.after},
                            {"additions", of_premix},
                            {"steps", premix.steps}});
    }
    Json steps = Json::array();
    for (const report::SheetStep& step : sheet.steps) {
        steps.push_back({{"what", step.what}, {"wanted", step.wanted}, {"found", step.found}});
    }
    Json signatures = Json::array();
    for (const report::SignatureBlock& s : sheet.signatures) {
        signatures.push_back(
            {{"name", s.name}, {"duty", s.duty}, {"meaning", s.meaning}, {"at", s.at}});
    }
    return {{"trail_mark", sheet.mark.trail_mark},
            {"size", sheet.size},
            {"safety", safety_json(sheet.safety)},
            {"before_start", sheet.before_start},
            {"additions", lines},
            {"premixes", premixes},
            {"steps", steps},
            {"sampling", sheet.sampling},
            {"yield",
             {{"in", sheet.yield.in},
              {"out", sheet.yield.out},
              {"samples", sheet.yield.samples},
              {"sweepings", sheet.yield.sweepings},
              {"unexplained", sheet.yield.unexplained},
              {"share", sheet.yield.share}}},
            {"signatures", signatures}};
}

}  // namespace bw::cli
