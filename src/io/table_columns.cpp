// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/table_columns.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::io {
namespace {

/// The head that may be meant, or nothing.
std::string nearest_head(const std::vector<std::string>& heads, std::string_view head) {
    constexpr std::size_t kMostCompared = 200;  // each costs the product of both lengths
    constexpr std::size_t kLongestCompared = 100;
    std::vector<std::string_view> near_ones;
    for (const std::string& candidate : heads) {
        if (!candidate.empty() && candidate.size() < kLongestCompared &&
            near_ones.size() < kMostCompared) {
            near_ones.push_back(candidate);
        }
    }
    const auto near =
        head.size() < kLongestCompared ? base::closest(head, near_ones) : std::nullopt;
    return near ? fmt::format("the nearest head is {}; ", base::quoted(*near)) : std::string();
}

class Placing {
public:
    Placing(const CellTable& table, const ColumnMap& map, Refusals& refusals,
            base::Notices& notices)
        : table_(&table), map_(&map), refusals_(&refusals), notices_(&notices) {
        for (std::size_t c = 0; c < table.columns(); ++c) {
            heads_.push_back(has_head() ? single_blanks(table.at(head_row(), c).text) : "");
        }
    }

    std::vector<PlacedColumn> place() {
        for (const MapColumn& column : map_->columns) {
            place_one(column);
        }
        look_for_others();
        for (PlacedColumn& column : out_) {
            if (column.map->role == ColumnRole::Analyte || column.map->role == ColumnRole::Value) {
                settle_unit(column);
            }
        }
        return std::move(out_);
    }

private:
    [[nodiscard]] bool has_head() const { return map_->head_row > 0; }
    [[nodiscard]] std::size_t head_row() const { return map_->head_row - 1; }

    void place_one(const MapColumn& column) {
        if (column.index) {
            if (*column.index >= table_->columns()) {
                refusals_->add({column_letters(*column.index), "", "",
                                fmt::format("the table has only {} columns", table_->columns()),
                                "look whether the separator and the map fit the file"});
                return;
            }
            put(column, *column.index);
            return;
        }
        std::vector<std::size_t> found;
        for (std::size_t c = 0; c < heads_.size(); ++c) {
            if (heads_[c] == column.head) {
                found.push_back(c);
            }
        }
        if (found.size() == 1) {
            put(column, found.front());
        } else if (found.empty()) {
            constexpr int kMostNearest = 10;  // one wrong file needs no more
            const bool look = ++missing_ <= kMostNearest;
            refusals_->add({fmt::format("row {}", map_->head_row), column.head, "",
                            "no column has this head",
                            (look ? nearest_head(heads_, column.head) : std::string()) +
                                "mend the head or the map, or look whether the separator fits"});
        } else {
            refusals_->add(
                {cell_name(head_row(), found[1]), column.head, column.head,
                 fmt::format("the head stands in {} already", cell_name(head_row(), found.front())),
                 "name the columns by their letters in the map"});
        }
    }

    void put(const MapColumn& column, std::size_t index) {
        for (const PlacedColumn& earlier : out_) {
            if (earlier.index == index) {
                refusals_->add({column_letters(index), earlier.head, "",
                                fmt::format("{} and {} of the map are the same column",
                                            earlier.map->name(), column.name()),
                                "name it once"});
                return;
            }
        }
        const std::string& head = heads_[index];
        out_.push_back({&column, index, head.empty() ? column_letters(index) : head, std::nullopt});
    }

    /// Columns of the table that the map does not name.
    void look_for_others() {
        std::vector<std::string> ignored;
        for (std::size_t c = 0; c < table_->columns(); ++c) {
            const bool placed = std::any_of(out_.begin(), out_.end(),
                                            [&](const PlacedColumn& p) { return p.index == c; });
            const std::string& head = heads_[c];
            // Cells beyond the head are told row by row.
            const bool beyond = has_head() && c >= table_->width(head_row());
            if (placed || beyond || (head.empty() && empty_below(c))) {
                continue;
            }
            if (map_->ignore_other_columns) {
                constexpr std::size_t kMostNamed = 20;
                if (ignored.size() < kMostNamed) {
                    ignored.push_back(head.empty() ? column_letters(c) : base::quoted(head));
                }
                continue;
            }
            refusals_->add({has_head() ? cell_name(head_row(), c) : column_letters(c), head, head,
                            "the map does not name this column",
                            "add it to the map, with role = \"ignored\" if it is not wanted, or "
                            "write other_columns = \"ignore\""});
        }
        if (!ignored.empty()) {
            notices_->push_back(
                {"ignored_columns", fmt::format("Not read, for the map does not name them: {}.",
                                                base::join_words(ignored))});
        }
    }

    [[nodiscard]] bool empty_below(std::size_t column) const {
        for (std::size_t r = map_->first_row - 1; r < table_->rows(); ++r) {
            if (!trim_blanks(table_->at(r, column).text).empty()) {
                return false;
            }
        }
        return true;
    }

    /// The unit as the file states it, in the unit row or in the head, and where.
    struct FileUnit {
        std::string text, cell;
    };
    [[nodiscard]] std::optional<FileUnit> file_unit(const PlacedColumn& column) const {
        if (map_->unit_row > 0) {
            const std::string text =
                single_blanks(table_->at(map_->unit_row - 1, column.index).text);
            if (!text.empty()) {
                return FileUnit{text, cell_name(map_->unit_row - 1, column.index)};
            }
        }
        const auto head = has_head() ? analyte_head(column.head) : std::nullopt;
        if (head && !head->unit.empty()) {
            return FileUnit{head->unit, cell_name(head_row(), column.index)};
        }
        return std::nullopt;
    }

    void settle_unit(PlacedColumn& column) {
        column.unit = column.map->unit;
        const auto stated = file_unit(column);
        if (stated) {
            const auto unit = reading_unit(without_brackets(stated->text), column.map->ppm);
            if (!unit) {
                refusals_->add(
                    {stated->cell, column.head, stated->text, unit.error().message,
                     "mend the unit in the file, or leave the unit row out of the map and "
                     "give the unit there"});
                return;
            }
            if (column.unit && !(*column.unit == *unit)) {
                refusals_->add({stated->cell, column.head, stated->text,
                                fmt::format("the file says {} and the map {}", unit->text(),
                                            column.unit->text()),
                                "find out which it is, and mend the other"});
                return;
            }
            column.unit = *unit;
        }
        const bool by_row = column_of(out_, ColumnRole::Unit) != nullptr;
        if (!column.unit && !by_row) {
            refusals_->add(
                {has_head() ? cell_name(head_row(), column.index) : column_letters(column.index),
                 column.head, "", "the column has no unit",
                 "write unit = \"mg/L\", for example, into the map"});
        }
        const bool pure = column.unit && !column.unit->dimension;
        if (pure && column.map->role == ColumnRole::Analyte &&
            !map_->is_other_analyte(column.map->analyte)) {
            refusals_->add({column_letters(column.index), column.head, "",
                            fmt::format("{} is no pure number", column.map->analyte),
                            "give its unit"});
        }
    }

    const CellTable* table_;
    const ColumnMap* map_;
    Refusals* refusals_;
    base::Notices* notices_;
    std::vector<std::string> heads_;
    std::vector<PlacedColumn> out_;
    int missing_ = 0;
};

}  // namespace

void Refusals::add(Refusal refusal) {
    ++into_->refused_count;
    if (into_->refused.size() < kMostRefusalsListed) {
        into_->refused.push_back(std::move(refusal));
    }
}

const PlacedColumn* column_of(const std::vector<PlacedColumn>& columns, ColumnRole role) {
    const auto found = std::find_if(columns.begin(), columns.end(),
                                    [&](const PlacedColumn& c) { return c.map->role == role; });
    return found == columns.end() ? nullptr : &*found;
}

std::vector<PlacedColumn> place_columns(const CellTable& table, const ColumnMap& map,
                                        Refusals& refusals, base::Notices& notices) {
    return Placing(table, map, refusals, notices).place();
}

}  // namespace bw::io
