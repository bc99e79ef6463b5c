// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <optional>
#include <string>

#include "io/cell_table.hpp"
#include "io/number_cell.hpp"

namespace bw::io {

/// The row below the head that states units, as spreadsheets count; 0 where it states none.
///
/// Definition   One of its cells is the unit of a reading, or ppm or ppb, and none is a number: a
///              row of readings may hold a unit, too.
[[nodiscard]] std::size_t guess_unit_row(const CellTable& table, std::size_t head_row);

/// Which signs stand in the numbers of a column.
struct DecimalMarks {
    std::size_t points = 0, commas = 0;
    void add(const DecimalMarks& other);
    /// Nothing where there are both or none of them.
    [[nodiscard]] std::optional<DecimalSign> sign() const;
};
[[nodiscard]] DecimalMarks decimal_marks(const CellTable& table, std::size_t column,
                                         std::size_t first_row);

/// Whether a form of dates reads all filled cells of a column, of which there is one or more.
[[nodiscard]] bool date_form_reads(const CellTable& table, std::size_t column,
                                   std::size_t first_row, const std::string& form);

/// The one usual form that reads all filled cells of a column; nothing where several do, as for
/// 03/04/2026, or none does.
[[nodiscard]] std::optional<std::string> guess_date_form(const CellTable& table, std::size_t column,
                                                         std::size_t first_row);

}  // namespace bw::io
