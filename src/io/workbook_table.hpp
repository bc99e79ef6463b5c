// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "io/cell_table.hpp"

namespace bw::io {

inline constexpr std::size_t kMostUnpackedBytes = 100U << 20U;
inline constexpr std::size_t kMostUnpackedRatio = 100;  // unpacked to packed
inline constexpr std::size_t kMostPackedEntries = 1'000;

/// Reads one sheet of an Office Open XML workbook from memory: shared and inline text, numbers,
/// flags, errors, dates by the cell's number form (1900 and 1904 calendars) as ISO 8601, formulas
/// as Formula cells. Hidden rows and columns are read as well.
///
/// Inputs   the bytes, and the sheet's name; its first, when empty.
/// Errors   BadInput for what is no such workbook, is damaged, encrypted, has a DTD, or lacks the
///          sheet; TooLarge beyond the limits above and those of CellTable.
/// Source   ECMA-376-1 18.2, 18.3, 18.4, 18.8 (from memory).
[[nodiscard]] Result<SourceTable> read_workbook(std::string_view bytes,
                                                const std::string& sheet = {});

}  // namespace bw::io
