// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// results preview: text and JSON.
#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/results_command.hpp"
#include "cli/table.hpp"

namespace bw::cli {
namespace {

using io::PreviewLine;
using io::ResultPreview;

std::string count_or_nothing(std::size_t n) { return n > 0 ? fmt::format("{}", n) : std::string(); }

std::string line_table(const ResultPreview& preview) {
    TextTable table({{{"analyte"}, Align::Left},
                     {{"nm"}, Align::Decimal},
                     {{"unit"}, Align::Left},
                     {{"counted"}, Align::Left},
                     {{"readings"}, Align::Right},
                     {{"below", "limit"}, Align::Right},
                     {{"over", "range"}, Align::Right},
                     {{"lowest"}, Align::Decimal},
                     {{"highest"}, Align::Decimal}});
    for (const PreviewLine& line : preview.lines) {
        table.add({line.analyte, line.wavelength, line.unit, std::string(io::name_of(line.basis)),
                   fmt::format("{}", line.readings), count_or_nothing(line.below_limit),
                   count_or_nothing(line.over_range), line.lowest, line.highest});
    }
    return table.text();
}

/// The first rows; as many lines as fit a page.
std::string row_table(const ResultPreview& preview) {
    constexpr std::size_t kMostLines = 7;
    std::vector<Column> columns{
        {{"row"}, Align::Right}, {{"sample"}, Align::Left}, {{"kind"}, Align::Left}};
    const std::size_t shown = std::min(preview.lines.size(), kMostLines);
    for (std::size_t i = 0; i < shown; ++i) {
        const PreviewLine& line = preview.lines[i];
        columns.push_back(
            {{line.analyte + (line.wavelength.empty() ? "" : " " + line.wavelength), line.unit},
             Align::Right});
    }
    TextTable table(std::move(columns));
    for (const io::PreviewRow& row : preview.first_rows) {
        std::vector<std::string> cells{fmt::format("{}", row.row), row.sample,
                                       row.kind == io::SampleKind::Sample
                                           ? std::string()
                                           : std::string(io::name_of(row.kind))};
        for (std::size_t i = 0; i < shown; ++i) {
            cells.push_back(row.values[i].empty() ? "-" : row.values[i]);
        }
        table.add(std::move(cells));
    }
    std::string out = "\nFirst rows (- is not tested or refused)\n" + table.text();
    if (shown < preview.lines.size()) {
        out += fmt::format("  and {} more lines, as in the table above\n",
                           preview.lines.size() - shown);
    }
    return out;
}

std::string refusals(const ResultPreview& preview) {
    if (preview.refused_count == 0) {
        return {};
    }
    std::vector<std::string> sentences;
    for (const io::Refusal& refusal : preview.refused) {
        sentences.push_back(refusal.sentence());
    }
    std::string out = fmt::format("\nRefused: {}\n", preview.refused_count) + dashes(sentences);
    if (preview.refused_count > sentences.size()) {
        out += fmt::format("  and {} more\n", preview.refused_count - sentences.size());
    }
    return out;
}

}  // namespace

std::string preview_text(const ResultPreview& preview, const std::string& file) {
    std::string out = fmt::format(
        "{}: {}\n", base::one_line(file),
        preview.committable
            ? fmt::format("{} readings of {} samples could be imported", preview.readings,
                          preview.samples)
            : std::string("nothing can be imported until all that is refused is mended"));
    out += fmt::format("  read as {}, separator {}, decimal sign {}\n", preview.encoding,
                       preview.separator, preview.decimal_sign);
    out += fmt::format("  readings of blanks {}, of check samples {}, cells not tested {}\n\n",
                       preview.blanks, preview.checks, preview.not_tested);
    if (!preview.lines.empty()) {
        out += line_table(preview) + row_table(preview);
    }
    out += refusals(preview);
    if (!preview.notices.empty()) {
        out += "\nNotes\n" + dashes(preview.notices);
    }
    return out;
}

std::string preview_json(const ResultPreview& preview, const std::string& file) {
    Json out;
    out["format"] = "brinewright/1";
    out["kind"] = "results-preview";
    out["file"] = file;
    out["could_be_imported"] = preview.committable;
    out["encoding"] = preview.encoding;
    out["separator"] = preview.separator;
    out["decimal_sign"] = preview.decimal_sign;
    out["samples"] = preview.samples;
    out["readings"] = preview.readings;
    out["blanks"] = preview.blanks;
    out["checks"] = preview.checks;
    out["not_tested"] = preview.not_tested;
    out["lines"] = Json::array();
    for (const PreviewLine& line : preview.lines) {
        out["lines"].push_back({{"analyte", line.analyte},
                                {"wavelength_nm", line.wavelength},
                                {"unit", line.unit},
                                {"counted", io::name_of(line.basis)},
                                {"readings", line.readings},
                                {"below_limit", line.below_limit},
                                {"over_range", line.over_range},
                                {"lowest", line.lowest},
                                {"highest", line.highest}});
    }
    out["first_rows"] = Json::array();
    for (const io::PreviewRow& row : preview.first_rows) {
        out["first_rows"].push_back({{"row", row.row},
                                     {"sample", row.sample},
                                     {"kind", io::name_of(row.kind)},
                                     {"values", row.values}});
    }
    out["refused_count"] = preview.refused_count;
    out["refused"] = Json::array();
    for (const io::Refusal& r : preview.refused) {
        out["refused"].push_back({{"cell", r.cell},
                                  {"column", r.column},
                                  {"text", r.text},
                                  {"why", r.why},
                                  {"mend", r.mend}});
    }
    out["notices"] = json_notices(preview.notices);
    return json_text(out);
}

}  // namespace bw::cli
