// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "io/cell_table.hpp"
#include "io/column_map.hpp"

namespace bw::service {

/// What a map that is being made still lacks, in the words of the table it is made for: which
/// column, and what is to be said of it. Empty where only the reader of maps can say more.
///
/// Definition   Column by column, then what the columns together lack. Heads are those of the
///              map's head row.
[[nodiscard]] std::string lacking_of(const io::ColumnMap& map, const io::CellTable& cells);

/// What the table itself says of the unit of a column, in its head or in the row of units, as it
/// stands there; empty where it says none.
[[nodiscard]] std::string stated_unit(const io::ColumnMap& map, const io::CellTable& cells,
                                      std::size_t column);

/// "column B (Ca line)".
[[nodiscard]] std::string column_in_words(const io::ColumnMap& map, const io::CellTable& cells,
                                          std::size_t column);

/// The head of a column, blanks counting once; empty where the table has no heads.
[[nodiscard]] std::string head_of(const io::ColumnMap& map, const io::CellTable& cells,
                                  std::size_t column);

/// Whether the map's column is this one of the table.
[[nodiscard]] bool is_of(const io::ColumnMap& map, const io::CellTable& cells,
                         const io::MapColumn& of, std::size_t column);

}  // namespace bw::service
