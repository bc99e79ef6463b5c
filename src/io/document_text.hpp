// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "io/document.hpp"

namespace bw::io {

/// JSON that parse_document reads back to the same values, in the order they stand in; numbers by
/// their shortest decimal text.
[[nodiscard]] std::string json_text(const Node& node);

/// A table without some of its keys.
[[nodiscard]] Node without(const Node& table, const std::vector<std::string_view>& keys);

/// Adds a text to a table.
void add_text(Node& table, std::string_view key, std::string text);

/// A document of a kind whose list `list` has these tables.
[[nodiscard]] Document document_of(std::string_view kind, std::string_view list,
                                   std::vector<Node> tables, std::string name);

}  // namespace bw::io
