// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/table_guesses.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "io/analyte_head.hpp"
#include "io/calendar_cell.hpp"

namespace bw::io {
namespace {

// Forms in which instruments and laboratories write a day, alone or with its time.
constexpr std::array<std::string_view, 14> kDateForms{"YYYY-MM-DD",
                                                      "DD.MM.YYYY",
                                                      "DD/MM/YYYY",
                                                      "MM/DD/YYYY",
                                                      "YYYY/MM/DD",
                                                      "DD-MM-YYYY",
                                                      "YYYYMMDD",
                                                      "YYYY-MM-DD hh:mm:ss",
                                                      "YYYY-MM-DD hh:mm",
                                                      "YYYY-MM-DDThh:mm:ss",
                                                      "DD.MM.YYYY hh:mm:ss",
                                                      "DD.MM.YYYY hh:mm",
                                                      "DD/MM/YYYY hh:mm",
                                                      "MM/DD/YYYY hh:mm"};

bool is_number(const TableCell& cell) {
    return read_number_cell(cell, NumberForm{}).meaning == CellMeaning::Value;
}

}  // namespace

std::size_t guess_unit_row(const CellTable& table, std::size_t head_row) {
    if (head_row == 0 || head_row >= table.rows()) {
        return 0;
    }
    bool unit = false;
    for (std::size_t c = 0; c < table.width(head_row); ++c) {
        const TableCell cell = table.at(head_row, c);
        const std::string text = single_blanks(without_brackets(cell.text));
        const std::string lower = base::lower_ascii(text);
        if (is_number(cell)) {
            return 0;
        }
        unit = unit || lower == "ppm" || lower == "ppb" || (!text.empty() && reading_unit(text));
    }
    return unit ? head_row + 1 : 0;
}

void DecimalMarks::add(const DecimalMarks& other) {
    points += other.points;
    commas += other.commas;
}

std::optional<DecimalSign> DecimalMarks::sign() const {
    if ((points > 0) == (commas > 0)) {
        return std::nullopt;
    }
    return points > 0 ? DecimalSign::Point : DecimalSign::Comma;
}

DecimalMarks decimal_marks(const CellTable& table, std::size_t column, std::size_t first_row) {
    DecimalMarks out;
    for (std::size_t r = first_row - 1; r < table.rows(); ++r) {
        const NumberCell cell = read_number_cell(table.at(r, column), NumberForm{});
        out.points += cell.mark == '.' ? 1U : 0U;
        out.commas += cell.mark == ',' ? 1U : 0U;
    }
    return out;
}

bool date_form_reads(const CellTable& table, std::size_t column, std::size_t first_row,
                     const std::string& form) {
    std::size_t read = 0;
    for (std::size_t r = first_row - 1; r < table.rows(); ++r) {
        const TableCell cell = table.at(r, column);
        const std::string_view text = trim_blanks(cell.text);
        // The date of a workbook's cell is known without a form.
        if (!text.empty() && cell.kind != CellKind::Date && !read_calendar_cell(text, form)) {
            return false;
        }
        read += text.empty() ? 0U : 1U;
    }
    return read > 0;
}

std::optional<std::string> guess_date_form(const CellTable& table, std::size_t column,
                                           std::size_t first_row) {
    std::optional<std::string> out;
    for (const std::string_view form : kDateForms) {
        if (date_form_reads(table, column, first_row, std::string(form))) {
            if (out) {
                return std::nullopt;
            }
            out = std::string(form);
        }
    }
    return out;
}

}  // namespace bw::io
