// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/number_columns.hpp"

namespace bw::io {

/// Values in the order they came, as a chart takes them.
struct ReadingsFile {
    std::string name, unit, file;
    bool invented = false;
    std::vector<double> values;
    std::vector<std::string> labels;  ///< dates or batches; empty where there are none
    std::vector<std::string> groups;  ///< of each value; empty where there are none
};

/// Which columns hold what; empty names are found: the values in the only numeric column or one
/// named "value", labels in the first column of text, groups in one named "group".
struct ReadingsColumns {
    std::string values, labels, groups;
};

/// Reads comma-separated readings, or TOML or JSON of kind "readings" with values, labels, groups.
///
/// Errors   those of the readers; BadInput where more than one column could hold the values;
///          UnknownName.
[[nodiscard]] Result<ReadingsFile> read_readings(const std::string& path,
                                                 const ReadingsColumns& columns);
[[nodiscard]] Result<ReadingsFile> readings_of(const Document& document);
[[nodiscard]] Result<ReadingsFile> readings_of(const NumberColumns& table,
                                               const ReadingsColumns& columns);

/// Units of a batch and the results of each.
struct UnitsFile {
    std::string name, unit, file;
    bool invented = false;
    std::vector<std::string> names;
    std::vector<std::vector<double>> results;
};
/// Reads comma-separated results: a row for each unit, its name in the first column where that is
/// not a number or is named "unit".
///
/// Errors   those of the readers; BadInput for fewer than two columns of results.
[[nodiscard]] Result<UnitsFile> read_units(const std::string& path);
[[nodiscard]] Result<UnitsFile> units_of(const NumberColumns& table);

}  // namespace bw::io
