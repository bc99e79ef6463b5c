// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/decimal.hpp"
#include "fuzz/one_line.hpp"
#include "io/result_preview.hpp"
#include "io/suggested_map.hpp"
#include "io/table_file.hpp"

namespace bw::fuzz {

/// Delimited text of a table, each field in quotes.
inline std::string written(const io::CellTable& table, char separator) {
    std::string out;
    for (std::size_t r = 0; r < table.rows(); ++r) {
        for (std::size_t c = 0; c < table.width(r); ++c) {
            out += c > 0 ? std::string(1, separator) : std::string();
            out += '"';
            for (const char letter : table.at(r, c).text) {
                out += letter == '"' ? "\"\"" : std::string(1, letter);
            }
            out += '"';
        }
        out += "\r\n";
    }
    return out;
}

inline bool same_cells(const io::CellTable& a, const io::CellTable& b) {
    if (a.rows() != b.rows()) {
        return false;
    }
    for (std::size_t r = 0; r < a.rows(); ++r) {
        for (std::size_t c = 0; c < std::max(a.width(r), b.width(r)); ++c) {
            if (a.at(r, c).text != b.at(r, c).text) {
                return false;
            }
        }
    }
    return true;
}

inline Fault fault_of_sentence(const std::string& text) {
    return fault_of_complaint(Problem{ProblemCode::BadInput, text, {}});
}

/// Whether the digits are those of the cell: its own, with a point and without group marks.
inline Fault fault_of_digits(const io::Reading& reading, const io::CellTable& table) {
    const auto letters = reading.cell.find_first_of("0123456789");
    const auto column = io::column_of_letters(reading.cell.substr(0, letters));
    const std::size_t row = reading.row - 1;
    if (!column || row >= table.rows() || io::cell_name(row, *column) != reading.cell) {
        return "a reading without its cell: " + reading.cell;
    }
    if (io::trim_blanks(table.at(row, *column).text) != reading.typed) {
        return "a reading that its cell does not hold: " + reading.cell;
    }
    const std::string& digits = reading.value   ? reading.digits
                                : reading.limit ? reading.limit->digits
                                                : reading.digits;
    const double value = reading.value ? *reading.value : reading.limit ? reading.limit->value : 0;
    if (!digits.empty() &&
        (!std::isfinite(value) || std::strtod(digits.c_str(), nullptr) != value)) {
        return "digits that are another number: " + digits;
    }
    if (reading.mean_of.empty() && reading.value) {
        std::string of_cell;
        std::string of_reading;
        for (const char c : reading.typed) {
            of_cell += base::is_digit(c) ? std::string(1, c) : std::string();
        }
        for (const char c : reading.digits) {
            of_reading += base::is_digit(c) ? std::string(1, c) : std::string();
        }
        if (of_cell != of_reading && "0" + of_cell != of_reading) {
            return "digits that the cell does not have: " + reading.digits;
        }
    }
    return {};
}

inline Fault fault_of_import(const io::SourceTable& table, const io::ColumnMap& map) {
    const io::ResultImport import = io::import_results(table, map);
    for (const io::Refusal& refusal : import.refused) {
        if (const Fault fault = fault_of_sentence(refusal.sentence())) {
            return fault;
        }
    }
    if (import.committable() != (import.refused_count == 0 && !import.readings.empty()) ||
        import.refused.size() != std::min(import.refused_count, io::kMostRefusalsListed)) {
        return "refusals are not counted";
    }
    if (import.readings.empty() && import.refused_count == 0) {
        return "nothing is read and nothing refused";
    }
    for (const auto* list : {&import.readings, &import.blanks, &import.checks}) {
        for (const io::Reading& reading : *list) {
            if (reading.sample.empty() || reading.analyte.empty() || reading.unit.symbol.empty() ||
                (reading.below_limit && reading.value) || (reading.over_range && reading.value)) {
                return "a reading lacks something: " + reading.cell;
            }
            if (const Fault fault = fault_of_digits(reading, table.cells)) {
                return fault;
            }
        }
    }
    const io::ResultPreview preview = io::preview_of(import);
    for (const io::PreviewRow& row : preview.first_rows) {
        if (row.values.size() != preview.lines.size()) {
            return "a row of the preview is not as wide as its head";
        }
    }
    return {};
}

inline Fault fault_of_suggestion(const io::SourceTable& table) {
    const auto text = io::suggest_map(table);
    if (!text) {
        return fault_of_complaint(text.error());
    }
    if (text->size() > io::kLargestFile) {
        return {};
    }
    const auto document = io::parse_document(*text, "suggested");
    const auto map = document ? io::read_column_map(*document)
                              : Result<io::ColumnMap>(tl::make_unexpected(document.error()));
    if (!map) {
        return "a suggested map does not read: " + map.error().text();
    }
    const std::string again = io::column_map_toml(*map);
    return text->ends_with(again) ? fault_of_import(table, *map)
                                  : Fault("a map does not read back to itself");
}

/// Maps of the several habits, for tables of Sample, Ca 317.933 and Mg 285.213.
inline const std::vector<io::ColumnMap>& property_maps() {
    static const std::vector<io::ColumnMap> kMaps = [] {
        constexpr std::string_view kHead =
            "format = \"brinewright/1\"\nkind = \"column-map\"\nname = \"m\"\n";
        constexpr std::string_view kColumns =
            "[[column]]\nhead = \"Sample\"\nrole = \"sample\"\n"
            "[[column]]\nhead = \"Ca 317.933\"\nrole = \"analyte\"\nunit = \"mg/L\"\n"
            "[[column]]\nhead = \"Mg 285.213\"\nrole = \"analyte\"\nunit = \"mg/L\"\n";
        constexpr auto kHabits = std::to_array<std::string_view>(
            {"", "decimal_sign = \"point\"\nbelow_limit = [\"n.d.\", \"< LOD\"]\n",
             "decimal_sign = \"comma\"\ngroup_mark = \"point\"\nrepeats = \"keep\"\n",
             "decimal_sign = \"point\"\ngroup_mark = \"space\"\nother_columns = "
             "\"ignore\"\nshort_rows = \"not "
             "tested\"\nfooter = [\"Total\"]\n",
             "decimal_sign = \"point\"\nblanks = \"subtract mean\"\nblank_samples = [\"B*\"]\n"});
        std::vector<io::ColumnMap> out;
        for (const std::string_view habits : kHabits) {
            const auto document = io::parse_document(
                std::string(kHead) + std::string(habits) + std::string(kColumns), "map");
            const auto map = io::read_column_map(*document);
            base::expect(map.has_value(), "a map of the property reads");
            out.push_back(*map);
        }
        return out;
    }();
    return kMaps;
}

/// Any bytes are a table or a complaint; a table reads back from its own text; every map gives
/// readings with the cell's own digits, or refusals in one line each.
inline Fault fault_of_result_table(std::string_view bytes) {
    const bool packed = bytes.starts_with("PK");
    const auto table = io::read_table(bytes, packed ? "input.xlsx" : "input.csv");
    if (!table) {
        return fault_of_complaint(table.error());
    }
    for (const base::Notice& notice : table->notices) {
        if (const Fault fault = fault_of_sentence(notice.text)) {
            return fault;
        }
    }
    const io::Separator separator =
        table->separator == io::Separator::None ? io::Separator::Comma : table->separator;
    const char sign = separator == io::Separator::Tab         ? '\t'
                      : separator == io::Separator::Semicolon ? ';'
                                                              : ',';
    const std::string text = written(table->cells, sign);
    if (!packed && text.size() <= io::kMostTableBytes) {
        const auto again = io::read_delimited(text, {io::Encoding::Utf8, separator});
        if (!again || !same_cells(table->cells, again->cells)) {
            return "a table does not read back to itself";
        }
    }
    for (const io::ColumnMap& map : property_maps()) {
        if (const Fault fault = fault_of_import(*table, map)) {
            return fault;
        }
    }
    return fault_of_suggestion(*table);
}

}  // namespace bw::fuzz
