// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/result.hpp"

namespace bw::io {

/// A value of a TOML or JSON document, with the line it stands on (0 in JSON, where fields are
/// named by path).
struct Node {
    struct Entry;
    using Table = std::vector<Entry>;
    using Array = std::vector<Node>;
    std::variant<std::string, double, bool, Table, Array> value;
    int line = 0;

    [[nodiscard]] const Table* table() const { return std::get_if<Table>(&value); }
    [[nodiscard]] const Array* array() const { return std::get_if<Array>(&value); }
    [[nodiscard]] const std::string* text() const { return std::get_if<std::string>(&value); }
    [[nodiscard]] const double* number() const { return std::get_if<double>(&value); }
    [[nodiscard]] const bool* flag() const { return std::get_if<bool>(&value); }
    [[nodiscard]] const Node* find(std::string_view key) const;
    [[nodiscard]] std::string_view kind() const;  ///< "a table", "a number" ...
};

struct Node::Entry {
    std::string key;
    Node value;
};

struct Document {
    std::string name;  ///< of the file, as the user gave it
    Node root;
};

/// Largest file that is read.
inline constexpr std::size_t kLargestFile = 4U << 20U;

/// Reads TOML 1.0, or JSON when the first character that is not blank is '{'.
///
/// Errors   TooLarge; BadInput for an empty file, bytes that are not UTF-8 (with line), a syntax
///          error (with line), a duplicate key, numbers that are not finite, dates (there are none
///          in these files), nesting beyond 32.
[[nodiscard]] Result<Document> parse_document(std::string_view text, std::string name);

/// Reads a file of at most kLargestFile.
///
/// Errors   BadInput when it does not exist or is no file; Disk when reading fails; and those of
/// parse_document.
[[nodiscard]] Result<Document> read_document(const std::string& path);
[[nodiscard]] Result<std::vector<Document>> read_documents(const std::vector<std::string>& paths);

/// Whether the document says that it is of a kind; open_kind() checks the rest.
[[nodiscard]] bool is_kind(const Document& document, std::string_view kind);

}  // namespace bw::io
