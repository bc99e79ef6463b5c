// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <variant>
#include <vector>

#include "base/result.hpp"

namespace bw::io {

/// A cell: text, a number, or nothing.
using Cell = std::variant<std::monostate, std::string, double>;

/// A table for other programs: plain numbers, a head with units.
struct Sheet {
    std::string name;
    std::vector<std::string> head;
    std::vector<std::vector<Cell>> rows;
};

/// Comma-separated text (RFC 4180, UTF-8). Text cells that a spreadsheet would take for a formula
/// get an apostrophe; numbers are never touched.
[[nodiscard]] std::string delimited(const Sheet& sheet);

/// Office Open XML workbook, one sheet each; the same sheets give the same bytes.
///
/// Errors   Disk.
[[nodiscard]] Result<void> write_workbook(const std::string& path,
                                          const std::vector<Sheet>& sheets);

}  // namespace bw::io
