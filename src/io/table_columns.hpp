// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "io/result_table.hpp"

namespace bw::io {

/// Keeps the first refusals and counts all.
class Refusals {
public:
    explicit Refusals(ResultImport& into) : into_(&into) {}
    void add(Refusal refusal);

private:
    ResultImport* into_;
};

/// A column of the map at its place in the table.
struct PlacedColumn {
    const MapColumn* map = nullptr;
    std::size_t index = 0;
    std::string head;  ///< as the table has it, or the column's letters
    std::optional<ReadingUnit> unit;
};

/// Where the columns of a map stand in a table, and their units by map, unit row or head.
///
/// Refuses columns that are not there or stand twice, that the map does not name, and units that
/// are missing, not known, or differ between map and file.
[[nodiscard]] std::vector<PlacedColumn> place_columns(const CellTable& table, const ColumnMap& map,
                                                      Refusals& refusals, base::Notices& notices);

/// The placed column of a role, or nothing.
[[nodiscard]] const PlacedColumn* column_of(const std::vector<PlacedColumn>& columns,
                                            ColumnRole role);

}  // namespace bw::io
