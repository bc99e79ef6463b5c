// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "service/desk.hpp"

namespace bw::service {

/// What somebody says of one column of a table.
struct ColumnChoice {
    std::string column;  ///< its letters, "C"
    std::string role;    ///< a word of the column map: "sample", "analyte", "ignored"
    std::string analyte, wavelength, unit;  ///< as typed; empty: none
};

/// A table whose column map is being made.
struct MapOrder {
    std::string file_name;
    std::string bytes;
    std::string map = {};                       ///< as it stands; empty: to be proposed
    std::vector<ColumnChoice> columns = {};     ///< what it is to say of each; empty: as it is
    std::string name = {};                      ///< of the map; empty: as it is
    std::string decimal_sign = {};              ///< "point", "comma"; empty: as it is
    std::string dilution_applied = {};          ///< "yes", "no"; empty: as it is
    std::int64_t head_row = 0, first_row = 0;   ///< as spreadsheets count; 0: as it is
    std::optional<std::int64_t> unit_row = {};  ///< likewise; 0: there is none
    std::string date_form = {};                 ///< "DD.MM.YYYY"; empty: as it is
    std::string method = {};  ///< whose check samples are known as such; empty: of none
    /// Names of check samples; nothing: as it is, with those of the method that are in the table.
    std::optional<std::vector<std::string>> check_samples = {};
};

struct MappedColumn {
    std::string column, head, role, analyte, wavelength, unit;
    std::string stated_unit;  ///< what the table itself says, as it stands there; empty: none
};

/// A row of a table, as spreadsheets count.
struct TableRow {
    std::int64_t row = 0;
    std::vector<std::string> cells;
};

/// A map for a table, beside the beginning of the table.
struct MapProposal {
    std::string map;      ///< text of a file of kind "column-map"
    std::string problem;  ///< why no table is read by it yet; empty: it is whole
    std::string from;     ///< "its heads", "the kept map NAME", "the map given", "the map of run
                          ///< NUMBER, whose table had these heads"; empty: no head is understood
    std::string name, decimal_sign;
    std::optional<bool> dilution_applied;
    std::int64_t head_row = 1, unit_row = 0, first_row = 2;
    std::string date_form;
    std::vector<std::string> check_samples;
    std::vector<MappedColumn> columns;           ///< of the table, in order
    std::vector<TableRow> between;               ///< below the heads, above the first readings
    std::vector<std::vector<std::string>> rows;  ///< the first ones, as the file has them
    std::vector<std::string> remarks;            ///< what is a guess, and what contradicts
    std::string head;                            ///< SHA-256 of the heads
};

/// The map that is given, else one that is kept for tables with these heads, else that of the
/// newest run whose table had them, else what the heads suggest; with what the order changes in it.
/// Nothing is written. It is judged by the reader of column maps, and by nothing else.
///
/// Remarks  A row between the heads and the first readings that states units and is not read as the
///          row of units; a unit of the table that is another than that of the map.
/// Errors   those of the table's reader and of a map that is given; BadInput for a column that the
///          table has not, a role or a sign that is none; BadUnit.
[[nodiscard]] Result<MapProposal> propose_map(const Desk& desk, const MapOrder& order);

/// Keeps a map under a name for tables with the same heads; a name that is known gets the new map.
/// Blanks at the ends of the name fall away, and several together become one.
///
/// Errors   those of the reader of column maps; BadInput for a name without a letter, and for a
///          head that is no SHA-256 of a proposal.
[[nodiscard]] Result<store::Receipt> keep_map(const Desk& desk, const std::string& name,
                                              const std::string& map, const std::string& head,
                                              const Intent& intent);

}  // namespace bw::service
