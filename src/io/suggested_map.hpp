// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "io/cell_table.hpp"

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
[[nodiscard]] Result<std::string> suggest_map(const SourceTable& table);

}  // namespace bw::io
