// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "io/document.hpp"

namespace bw::io {

/// A small table of readings as text: one line of names, then rows; lines that begin with # stand
/// above it.
struct NumberColumns {
    std::string file;
    std::vector<std::string> names;
    std::vector<std::vector<std::string>> rows;  ///< cells, trimmed, as many as names
    std::vector<int> lines;                      ///< of each row
    /// The lines that begin with #, without it, all others empty: what stands there may be read as
    /// TOML and keeps its line numbers.
    std::string head;
};

/// Reads comma-, semicolon- or tab-separated text: the mark that the line of names holds most of.
///
/// Inputs   UTF-8, a decimal point, cells in quotes where they hold the mark; no line breaks in
///          cells.
/// Errors   BadInput with file and line: no rows, a row of another length, an open quote, names
/// that
///          are empty or stand twice, bytes that are not UTF-8; TooLarge.
[[nodiscard]] Result<NumberColumns> parse_columns(std::string_view text, std::string name);
/// Errors   BadInput where there is no such file; Disk; and those above.
[[nodiscard]] Result<NumberColumns> read_columns(const std::string& path);

/// The place of a column by its name. Errors UnknownName, with the names there are.
[[nodiscard]] Result<std::size_t> column(const NumberColumns& table, std::string_view name);
/// Whether every cell of a column is a number.
[[nodiscard]] bool is_numeric(const NumberColumns& table, std::size_t column);
/// The numbers of a column. Errors BadNumber with file and line.
[[nodiscard]] Result<std::vector<double>> numbers(const NumberColumns& table, std::size_t column);

/// Whether a file is to be read as TOML or JSON: by its name.
[[nodiscard]] bool is_document_name(std::string_view path);

}  // namespace bw::io
