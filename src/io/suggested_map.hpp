// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "io/cell_table.hpp"
#include "io/column_map.hpp"

namespace bw::io {

/// A map that may fit a table, as TOML with remarks, for somebody to look through; it is never
/// applied by itself.
///
/// Definition   The head is the first row with heads that name analytes, or the words of a long
///              table. Units come from heads or from a row of units below. The decimal sign is
///              declared where the numbers show one and only one. What is not understood is
///              "ignored", with a remark. The text always reads as a map when a head with readings
///              was found.
/// Errors       BadInput where no row has heads of analytes nor those of a long table.
/// Analytes     those of analyte_head; where no row has such heads, those of guess_analyte_head,
///              and words of a long table by guess_analyte. Both are written into the map.
[[nodiscard]] Result<std::string> suggest_map(const SourceTable& table);

/// What a column of this head is in the words that laboratories write, in English and German.
[[nodiscard]] std::optional<ColumnRole> known_column_role(std::string_view head);

}  // namespace bw::io
