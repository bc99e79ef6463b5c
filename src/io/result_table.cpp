// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/result_table.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/result_lines.hpp"
#include "io/result_row.hpp"
#include "io/table_columns.hpp"

namespace bw::io {
namespace {

/// "rows 2, 3 and 7", the first ten of many.
std::string row_words(const std::vector<std::size_t>& rows) {
    constexpr std::size_t kNamed = 10;
    std::vector<std::string> named;
    for (std::size_t i = 0; i < std::min(rows.size(), kNamed); ++i) {
        named.push_back(fmt::format("{}", rows[i]));
    }
    const std::string more =
        rows.size() > kNamed ? fmt::format(" ({} more)", rows.size() - kNamed) : std::string();
    return fmt::format("{} {}{}", rows.size() == 1 ? "row" : "rows", base::join_words(named), more);
}

/// Columns that hold both decimal signs, or not the declared one; files whose columns differ.
void judge_signs(const std::vector<DecimalSigns>& signs, const ColumnMap& map, Refusals& refusals,
                 ResultImport& out) {
    out.decimal_sign = map.numbers.decimal_sign;
    const DecimalSigns* first = nullptr;
    for (const DecimalSigns& column : signs) {
        const bool declared = map.numbers.decimal_sign != DecimalSign::NotDeclared;
        const bool declared_comma = map.numbers.decimal_sign == DecimalSign::Comma;
        const auto refuse = [&](std::string why, std::string mend) {
            refusals.add(
                {column_letters(column.column), column.head, "", std::move(why), std::move(mend)});
        };
        if (!column.points.empty() && !column.commas.empty()) {
            refuse(fmt::format("the column mixes decimal signs: points in {}, commas in {}",
                               row_words(column.points), row_words(column.commas)),
                   "export the file with one decimal sign, or declare group_mark in the map");
            continue;
        }
        const auto& others = declared_comma ? column.points : column.commas;
        if (declared && !others.empty()) {
            refuse(fmt::format("the map declares a {} as decimal sign, and a {} stands in {}",
                               declared_comma ? "comma" : "point",
                               declared_comma ? "point" : "comma", row_words(others)),
                   "declare the decimal sign that the file has");
            continue;
        }
        if (declared) {
            continue;
        }
        if (first == nullptr) {
            first = &column;
            out.decimal_sign = column.points.empty() ? DecimalSign::Comma : DecimalSign::Point;
        } else if (first->points.empty() != column.points.empty()) {
            refuse(fmt::format("the column has {} as decimal sign, and column {} has {}",
                               column.points.empty() ? "a comma" : "a point",
                               column_letters(first->column),
                               first->points.empty() ? "a comma" : "a point"),
                   "declare decimal_sign in the map, or export the file with one sign");
        }
    }
}

void tell_left_out(const RowReading& rows, ResultImport& out) {
    const auto tell = [&](std::string code, std::size_t count, std::string_view what) {
        if (count > 0) {
            out.notices.push_back(
                {std::move(code), fmt::format("{} {} left out, {}.", count,
                                              count == 1 ? "row was" : "rows were", what)});
        }
    };
    tell("footer_rows", rows.footers(), "as the map says under footer");
    tell("repeated_heads", rows.repeated_heads(), "as repeating the head");
}

void tell_doubts(ResultImport& out) {
    std::size_t without_limit = 0;
    std::size_t over = 0;
    for (const auto* list : {&out.readings, &out.checks}) {
        for (const Reading& r : *list) {
            without_limit += r.below_limit && !r.limit ? 1U : 0U;
            over += r.over_range ? 1U : 0U;
        }
    }
    if (without_limit > 0) {
        out.notices.push_back(
            {"no_limit", fmt::format("{} readings are below a limit that neither file nor "
                                     "map states: write limit for their columns.",
                                     without_limit)});
    }
    if (over > 0) {
        out.notices.push_back(
            {"over_range",
             fmt::format("{} readings are over the instrument's range and have no value: "
                         "dilute and read again.",
                         over)});
    }
}

/// Rows of notes above the head would hide a wrong head_row.
bool table_is_there(const SourceTable& table, const ColumnMap& map, Refusals& refusals) {
    if (table.cells.rows() < map.first_row) {
        refusals.add({fmt::format("row {}", map.first_row), "", "",
                      fmt::format("the table ends with row {}, and readings begin with row {}",
                                  table.cells.rows(), map.first_row),
                      "look whether the file is whole and whether head_row and first_row fit it"});
        return false;
    }
    return true;
}

}  // namespace

ReadingBasis basis_of(const ReadingUnit& unit) {
    using unit::Dimension;
    if (!unit.dimension) {
        return ReadingBasis::PureNumber;
    }
    switch (*unit.dimension) {
        case Dimension::AmountPerMass:
        case Dimension::MassPerMass:
        case Dimension::EquivalentPerMass:
        case Dimension::Fraction:
            return ReadingBasis::ByMass;
        case Dimension::AmountPerVolume:
        case Dimension::MassPerVolume:
        case Dimension::EquivalentPerVolume:
            return ReadingBasis::ByVolume;
        case Dimension::AmountPerWaterMass:
        case Dimension::EquivalentPerWaterMass:
            return ReadingBasis::ByMassOfWater;
        default:
            return ReadingBasis::Other;
    }
}

std::string_view name_of(ReadingBasis basis) {
    switch (basis) {
        case ReadingBasis::PureNumber:
            return "pure number";
        case ReadingBasis::ByMass:
            return "by mass";
        case ReadingBasis::ByVolume:
            return "by volume";
        case ReadingBasis::ByMassOfWater:
            return "by mass of water";
        case ReadingBasis::Other:
            return "other";
    }
    return "";
}

std::string_view name_of(SampleKind kind) {
    return kind == SampleKind::Blank   ? "blank"
           : kind == SampleKind::Check ? "check sample"
                                       : "sample";
}

std::string Refusal::sentence() const {
    std::string out = cell;
    if (!column.empty()) {
        out += fmt::format(" ({})", base::one_line(column));
    }
    out += ": ";
    if (!text.empty()) {
        out += base::quoted(text) + ": ";
    }
    return out + why + (mend.empty() ? "" : "; " + mend);
}

ResultImport import_results(const SourceTable& table, const ColumnMap& map,
                            const ImportRules& rules) {
    ResultImport out;
    out.encoding = table.encoding;
    out.separator = table.separator;
    out.layout = map.layout;
    out.notices = table.notices;
    Refusals refusals(out);
    if (!table_is_there(table, map, refusals)) {
        return out;
    }
    const auto columns = place_columns(table.cells, map, refusals, out.notices);
    if (column_of(columns, ColumnRole::Sample) == nullptr) {
        return out;  // nothing can be told of rows without names; the refusal stands already
    }
    RowReading rows(table.cells, map, rules, columns, refusals, out);
    for (std::size_t r = map.first_row - 1; r < table.cells.rows(); ++r) {
        rows.read(r);
    }
    judge_signs(rows.signs(), map, refusals, out);
    tell_left_out(rows, out);
    number_repeats(out, map, refusals);
    settle_lines(out, map, refusals);
    state_blanks(out, map, refusals);
    tell_doubts(out);
    if (out.readings.empty() && out.refused_count == 0) {
        refusals.add({fmt::format("row {}", map.first_row), "", "",
                      "the table holds no reading of a sample",
                      "look whether the file is whole and whether the map fits it"});
    }
    return out;
}

}  // namespace bw::io
