// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/import_map_words.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/guessed_head.hpp"

namespace bw::service {
namespace {

using io::ColumnRole;

std::size_t count_of(const io::ColumnMap& map, ColumnRole role) {
    return static_cast<std::size_t>(std::count_if(map.columns.begin(), map.columns.end(),
                                                  [&](const auto& c) { return c.role == role; }));
}

bool is_weighed(ColumnRole role) {
    return role == ColumnRole::SampleMass || role == ColumnRole::FinalMass ||
           role == ColumnRole::FinalVolume;
}

/// What one column lacks; empty: nothing.
std::string lacks(const io::ColumnMap& map, const io::CellTable& cells, const io::MapColumn& of,
                  std::size_t column) {
    const std::string which = column_in_words(map, cells, column);
    if (of.role == ColumnRole::Analyte && of.analyte.empty()) {
        return fmt::format("{}: write of which analyte its readings are, such as Ca", which);
    }
    if (of.role == ColumnRole::Analyte && !map.analyte(of.analyte)) {
        return fmt::format(
            "{}: {} is no element or constituent; write its symbol as the analyte, such as Ca or "
            "SO4",
            which, base::quoted(of.analyte));
    }
    if (is_weighed(of.role) && !of.unit) {
        return fmt::format("{}: write its unit, such as {}", which,
                           of.role == ColumnRole::FinalVolume ? "mL" : "g");
    }
    const std::string stated = base::lower_ascii(stated_unit(map, cells, column));
    const bool reading = of.role == ColumnRole::Analyte || of.role == ColumnRole::Value;
    if (reading && (stated == "ppm" || stated == "ppb") && of.ppm == io::PpmMeaning::NotSaid) {
        const char* prefix = stated == "ppm" ? "m" : "u";
        return fmt::format(
            "{}: {} is by mass or by volume, which differ by 2.3 % in seawater; write {}g/kg or "
            "{}g/L as its unit",
            which, stated, prefix, prefix);
    }
    return {};
}

/// What the columns together lack.
std::string lack_together(const io::ColumnMap& map) {
    if (count_of(map, ColumnRole::Sample) == 0) {
        return "no column holds the samples yet: say of one that it is the sample";
    }
    const bool named = count_of(map, ColumnRole::AnalyteName) > 0;
    const bool valued = count_of(map, ColumnRole::Value) > 0;
    const std::size_t analytes = count_of(map, ColumnRole::Analyte);
    if (analytes > 0 && (named || valued)) {
        return "a table has either a column for each analyte, or one reading a row with the name "
               "of its analyte: say of the other columns that they are not read";
    }
    if (named != valued) {
        return named ? "no column holds the readings yet: say of one that it is the reading"
                     : "no column names the analytes yet: say of one that it is the name of the "
                       "analyte";
    }
    if (!named && analytes == 0) {
        return "no column holds readings yet: say of each that does that it is readings of one "
               "analyte";
    }
    if (count_of(map, ColumnRole::Dilution) > 0 && !map.dilution_applied) {
        return "there is a column of dilutions: say whether the dilution is in the readings";
    }
    return {};
}

}  // namespace

std::string head_of(const io::ColumnMap& map, const io::CellTable& cells, std::size_t column) {
    return map.head_row == 0 ? std::string()
                             : io::single_blanks(cells.at(map.head_row - 1, column).text);
}

bool is_of(const io::ColumnMap& map, const io::CellTable& cells, const io::MapColumn& of,
           std::size_t column) {
    return of.index ? *of.index == column
                    : !of.head.empty() && of.head == head_of(map, cells, column);
}

std::string column_in_words(const io::ColumnMap& map, const io::CellTable& cells,
                            std::size_t column) {
    const std::string head = head_of(map, cells, column);
    const std::string letters = "column " + io::column_letters(column);
    return head.empty() ? letters : fmt::format("{} ({})", letters, head);
}

std::string stated_unit(const io::ColumnMap& map, const io::CellTable& cells, std::size_t column) {
    if (map.unit_row > 0) {
        std::string text = io::single_blanks(
            io::without_brackets(io::single_blanks(cells.at(map.unit_row - 1, column).text)));
        if (!text.empty()) {
            return text;
        }
    }
    const auto told = io::analyte_head(head_of(map, cells, column));
    return told ? std::string(io::without_brackets(told->unit)) : std::string();
}

std::string lacking_of(const io::ColumnMap& map, const io::CellTable& cells) {
    for (std::size_t c = 0; c < cells.columns(); ++c) {
        for (const io::MapColumn& of : map.columns) {
            if (!is_of(map, cells, of, c)) {
                continue;
            }
            if (std::string lack = lacks(map, cells, of, c); !lack.empty()) {
                return lack;
            }
        }
    }
    return lack_together(map);
}

}  // namespace bw::service
