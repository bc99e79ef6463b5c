// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/notice.hpp"
#include "base/result.hpp"

namespace bw::io {

// What a table from outside may hold: far above any run, and small enough for a small machine.
inline constexpr std::size_t kMostTableBytes = 20U << 20U;
inline constexpr std::size_t kMostTableRows = 200'000;
inline constexpr std::size_t kMostTableColumns = 2'000;
inline constexpr std::size_t kMostFieldBytes = 64U << 10U;
inline constexpr std::size_t kMostTableCells = 5'000'000;  // 40 MB of memory
inline constexpr std::size_t kMostTableText = 64U << 20U;  // bytes of all cells together

/// What a cell is known to be. Delimited text knows only Text; a workbook tells more.
enum class CellKind : std::uint8_t { Text, Number, Date, Formula, Error, Flag };

struct TableCell {
    std::string_view text;  ///< UTF-8, without quotes; a Number has a decimal point
    CellKind kind = CellKind::Text;
};

/// "C12" as spreadsheets name it, of row and column counted from 0.
[[nodiscard]] std::string cell_name(std::size_t row, std::size_t column);
/// "C".
[[nodiscard]] std::string column_letters(std::size_t column);
/// The column of "C", counted from 0.
/// Errors   BadInput for anything but capital letters up to the column kMostTableColumns.
[[nodiscard]] Result<std::size_t> column_of_letters(std::string_view letters);

/// Cells in rows of any width; filled from left to right and top to bottom.
class CellTable {
public:
    /// Errors   TooLarge, with the name of the cell, beyond the limits above.
    [[nodiscard]] Result<void> add(std::string_view text, CellKind kind = CellKind::Text);
    /// Errors   TooLarge.
    [[nodiscard]] Result<void> end_row();

    [[nodiscard]] std::size_t rows() const { return ends_.size(); }
    /// Of the widest row.
    [[nodiscard]] std::size_t columns() const { return widest_; }
    [[nodiscard]] std::size_t width(std::size_t row) const;
    /// Cells of the row that is being filled.
    [[nodiscard]] std::size_t open_width() const;
    /// The cell; an empty one beyond the end of the row or of the table.
    [[nodiscard]] TableCell at(std::size_t row, std::size_t column) const;
    /// Whether the row holds nothing but blanks.
    [[nodiscard]] bool blank(std::size_t row) const;

private:
    struct Span {
        std::uint32_t start;
        std::uint32_t length_and_kind;
    };
    std::string text_;
    std::vector<Span> cells_;
    std::vector<std::size_t> ends_;  ///< of each row, in cells_
    std::size_t widest_ = 0;
};

enum class Encoding {
    Utf8,
    Utf8WithMark,
    Utf16LittleEndian,
    Utf16BigEndian,
    Windows1252,
    Workbook
};
enum class Separator { Comma, Semicolon, Tab, None };

[[nodiscard]] std::string_view name_of(Encoding encoding);
[[nodiscard]] std::string_view name_of(Separator separator);

/// A table as it came, and how it was read.
struct SourceTable {
    CellTable cells;
    Encoding encoding = Encoding::Utf8;
    Separator separator = Separator::None;
    base::Notices notices;
};

/// The text without blanks at its ends: ASCII ones and those of Unicode (U+00A0, U+2007, U+2009,
/// U+202F, U+FEFF).
[[nodiscard]] std::string_view trim_blanks(std::string_view text);
/// The same, and with runs of blanks inside as one space.
[[nodiscard]] std::string single_blanks(std::string_view text);
/// Length of the blank that stands at `at`, or 0.
[[nodiscard]] std::size_t blank_length(std::string_view text, std::size_t at);

}  // namespace bw::io
