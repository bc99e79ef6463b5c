// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

namespace bw::cli {

enum class Align { Left, Right, Decimal };

struct Column {
    std::vector<std::string> head;  ///< lines, the unit last
    Align align = Align::Left;
};

/// A table of text: columns as wide as they must be, numbers under one another by their decimal
/// point.
class TextTable {
public:
    explicit TextTable(std::vector<Column> columns);
    /// Control bytes in a cell or a head become '?': a name cannot steer a terminal.
    void add(std::vector<std::string> cells);
    void add_rule() { rows_.push_back({{}, true}); }
    /// With two blanks before each line; columns without a single filled cell are left out.
    [[nodiscard]] std::string text() const;
    /// The same without head and rule below it.
    [[nodiscard]] std::string rows_only() const;

private:
    struct Row {
        std::vector<std::string> cells;
        bool rule;
    };
    std::vector<Column> columns_;
    std::vector<Row> rows_;
};

}  // namespace bw::cli
