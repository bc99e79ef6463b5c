// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/cell_table.hpp"

namespace bw::io {

enum class DecimalSign { NotDeclared, Point, Comma };
enum class GroupMark { None, Space, Comma, Point, Apostrophe };

/// How the numbers of a file are written.
struct NumberForm {
    DecimalSign decimal_sign = DecimalSign::NotDeclared;
    GroupMark group_mark = GroupMark::None;
    std::vector<std::string> below_limit;  ///< "n.d.", "< LOD"; a plain "<" is always known
    std::vector<std::string> over_range;   ///< "OVER"; a plain ">" is always known
    std::vector<std::string> not_tested;   ///< "-", "n/a"; an empty cell is always known
    bool spreadsheet_exponents = false;    ///< whether 1.23E+03 is read
    bool percent_signs = false;            ///< the unit of the column is %
};

enum class CellMeaning { NotTested, Value, BelowLimit, OverRange, Refused };

/// What a cell of numbers says.
struct NumberCell {
    CellMeaning meaning = CellMeaning::NotTested;
    std::string typed;            ///< the cell, without blanks at its ends
    std::string digits;           ///< the digits of the number, with a decimal point
    std::optional<double> value;  ///< the number; below a limit or over a range, that one
    char mark = 0;                ///< the decimal sign that stands in it, if any
    bool other_sign = false;      ///< refused because the map declares the other decimal sign
    std::string why;              ///< it is refused, or empty
    std::string mend;
};

/// Reads a cell of numbers. Digits are never guessed: what could be two numbers is refused.
///
/// Definition   Digits with the declared decimal sign, marks between groups of three where the form
///              has them, an exponent; a minus may be U+2212. A number below a limit or over a
///              range is a known spelling, alone or with the limit behind it. Without a declared
///              sign one point or comma is the decimal sign, unless exactly three digits follow up
///              to three that do not begin with 0: such a number could be a thousand times another.
[[nodiscard]] NumberCell read_number_cell(const TableCell& cell, const NumberForm& form);

/// Why the text is something that a spreadsheet made of a number or a name: a date, an error, a
/// formula, a cell too narrow for its number. Empty when it is none of these.
struct Spoilt {
    std::string why;
    std::string mend;
};
[[nodiscard]] std::optional<Spoilt> spoilt_by_spreadsheet(const TableCell& cell);

/// Whether the text looks like a date or a time: "12-Mar", "03. Dez", "2025-03-09", "10:30".
[[nodiscard]] bool looks_like_date(std::string_view text);

}  // namespace bw::io
