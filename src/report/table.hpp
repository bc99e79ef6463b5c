// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "report/paper.hpp"
#include "report/strip.hpp"

namespace bw::report {

/// How the cells of a column stand.
enum class Fit : std::uint8_t {
    Words,    ///< from the left, broken into lines
    Figures,  ///< numbers below each other by their decimal mark, U likewise after "±"
    Right,    ///< to the right, whole
    Status,   ///< word, shape, fill
    Box,      ///< an empty box to write in, unless there is a text
};

struct Column {
    std::string head;
    std::string unit{};  ///< second line of the head; may be empty
    Fit fit = Fit::Words;
    double least = 0;  ///< points
    double share = 1;  ///< of the width left over, for columns of words and boxes
};

struct Cell {
    std::string text;        ///< of Figures: the number as plain text
    std::string expanded{};  ///< U of Figures
    std::optional<Status> status{};
    Face face = Face::Regular;
    std::string note{};  ///< a mark raised after the text
};

/// A row may stand over the whole width instead: a heading within the table.
struct Row {
    std::vector<Cell> cells;
    std::string heading{};
};

struct Table {
    std::vector<Column> columns;
    std::vector<Row> rows;
    double size = 8.5;      ///< of the type
    double box_height = 0;  ///< least height of a row with boxes, points
    bool grid = false;      ///< lines between columns, for boxes to fill in
    double before = 0;
    int part = 0;  ///< number of the table in the paper, for the structure
    double x = 0, width = 0;
};

/// A strip for each row; the head stands above the first row and again on each page.
///
/// Where the columns do not fit, the type is made smaller in steps, down to 70 %; then words are
/// broken within.
[[nodiscard]] Strips table(const Table& table, const Typeface& typeface);

}  // namespace bw::report
