// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "io/cell_table.hpp"
#include "io/column_map.hpp"
#include "store/books.hpp"

namespace bw::service {

/// A map that was used or kept for tables with the same heads.
struct FoundMap {
    std::optional<io::ColumnMap> map;
    std::string from;                  ///< "the kept map NAME", "the map of run NUMBER, ..."
    std::vector<std::string> remarks;  ///< kept maps that were passed over
};

/// The map that is kept for a table's heads, the first one by its name; else the map of the newest
/// of the last runs whose table it fits: it names each of its columns, and no other.
///
/// Errors   those of the store. A kept map that cannot be read is passed over with a remark.
[[nodiscard]] Result<FoundMap> map_for_heads(const store::Books& books, const io::CellTable& cells);

/// The heads of a table as one text; what is the same for two tables of one instrument. SHA-256.
[[nodiscard]] std::string head_digest(const io::CellTable& table, std::size_t head_row);

/// Errors   those of the reader of column maps.
[[nodiscard]] Result<io::ColumnMap> map_of_text(const std::string& text);

}  // namespace bw::service
