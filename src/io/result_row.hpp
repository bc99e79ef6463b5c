// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "io/table_columns.hpp"

namespace bw::io {

/// The decimal signs that stand in one column, with the rows (as spreadsheets count).
struct DecimalSigns {
    std::size_t column = 0;
    std::string head;
    std::vector<std::size_t> points, commas;
};

/// Reads the rows of a table one by one.
class RowReading {
public:
    RowReading(const CellTable& table, const ColumnMap& map, const ImportRules& rules,
               const std::vector<PlacedColumn>& columns, Refusals& refusals, ResultImport& into);

    /// Puts the row's readings into `into`, or refuses cells of it; rows without anything, footers
    /// and repeated heads are left out as the map says.
    void read(std::size_t row);

    [[nodiscard]] const std::vector<DecimalSigns>& signs() const { return signs_; }
    [[nodiscard]] std::size_t footers() const { return footers_; }
    [[nodiscard]] std::size_t repeated_heads() const { return repeated_heads_; }

private:
    /// What all readings of a row share.
    [[nodiscard]] bool row_is_left_out(std::size_t row);
    [[nodiscard]] bool read_width(std::size_t row);
    [[nodiscard]] bool read_sample(std::size_t row, Reading& common);
    [[nodiscard]] bool read_kind(std::size_t row, Reading& common);
    void read_measured_at(std::size_t row, Reading& common);
    void read_amounts(std::size_t row, Reading& common);
    void read_wide(std::size_t row, const Reading& common);
    void read_long(std::size_t row, const Reading& common);
    void read_value(std::size_t row, const PlacedColumn& column, const std::string& limit,
                    Reading reading);
    [[nodiscard]] std::optional<TypedNumber> amount(std::size_t row, ColumnRole role);
    [[nodiscard]] bool repeats_head(std::size_t row) const;
    void note_sign(std::size_t row, const PlacedColumn& column, char mark);
    void refuse(std::size_t row, const PlacedColumn& column, std::string why, std::string mend);
    [[nodiscard]] std::string text(std::size_t row, const PlacedColumn& column) const;

    const CellTable* table_;
    const ColumnMap* map_;
    const ImportRules* rules_;
    const std::vector<PlacedColumn>* columns_;
    Refusals* refusals_;
    ResultImport* into_;
    std::vector<DecimalSigns> signs_;
    std::size_t footers_ = 0;
    std::size_t repeated_heads_ = 0;
    bool too_many_told_ = false;
};

/// Whether a name is one of the patterns, without regard to case; '*' at the end of a pattern
/// stands for any ending.
[[nodiscard]] bool matches_any(std::string_view name, const std::vector<std::string>& patterns);

}  // namespace bw::io
