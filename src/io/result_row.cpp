// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/result_row.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/calendar_cell.hpp"

namespace bw::io {
namespace {

constexpr std::size_t kLongestName = 200;  // bytes of a sample or a person

// What rows below a table are called, in English and German.
constexpr auto kFooterWords = std::to_array<std::string_view>({"total",
                                                               "totals",
                                                               "sum",
                                                               "mean",
                                                               "average",
                                                               "avg",
                                                               "median",
                                                               "std dev",
                                                               "std. dev.",
                                                               "stdev",
                                                               "sd",
                                                               "rsd",
                                                               "%rsd",
                                                               "min",
                                                               "max",
                                                               "minimum",
                                                               "maximum",
                                                               "count",
                                                               "summe",
                                                               "gesamt",
                                                               "mittel",
                                                               "mittelwert",
                                                               "standardabweichung",
                                                               "anzahl"});

bool looks_like_footer(std::string_view name) {
    std::string lower = base::lower_ascii(name);
    while (!lower.empty() && (lower.back() == ':' || lower.back() == ' ')) {
        lower.pop_back();
    }
    return std::find(kFooterWords.begin(), kFooterWords.end(), lower) != kFooterWords.end();
}

bool begins_with_any(std::string_view text, const std::vector<std::string>& beginnings) {
    const std::string lower = base::lower_ascii(text);
    return std::any_of(beginnings.begin(), beginnings.end(), [&](const std::string& beginning) {
        return lower.starts_with(base::lower_ascii(single_blanks(beginning)));
    });
}

bool has_control(std::string_view text) {
    return std::any_of(text.begin(), text.end(),
                       [](char c) { return static_cast<unsigned char>(c) < ' ' || c == '\x7f'; });
}

}  // namespace

bool matches_any(std::string_view name, const std::vector<std::string>& patterns) {
    const std::string lower = base::lower_ascii(name);
    return std::any_of(patterns.begin(), patterns.end(), [&](const std::string& pattern) {
        std::string wanted = base::lower_ascii(single_blanks(pattern));
        if (wanted.ends_with('*')) {
            wanted.pop_back();
            return lower.starts_with(wanted);
        }
        return lower == wanted;
    });
}

RowReading::RowReading(const CellTable& table, const ColumnMap& map, const ImportRules& rules,
                       const std::vector<PlacedColumn>& columns, Refusals& refusals,
                       ResultImport& into)
    : table_(&table),
      map_(&map),
      rules_(&rules),
      columns_(&columns),
      refusals_(&refusals),
      into_(&into) {}

std::string RowReading::text(std::size_t row, const PlacedColumn& column) const {
    return single_blanks(table_->at(row, column.index).text);
}

void RowReading::refuse(std::size_t row, const PlacedColumn& column, std::string why,
                        std::string mend) {
    refusals_->add({cell_name(row, column.index), column.head,
                    std::string(trim_blanks(table_->at(row, column.index).text)), std::move(why),
                    std::move(mend)});
}

bool RowReading::repeats_head(std::size_t row) const {
    if (map_->head_row == 0) {
        return false;
    }
    return std::all_of(columns_->begin(), columns_->end(), [&](const PlacedColumn& column) {
        return text(row, column) ==
               single_blanks(table_->at(map_->head_row - 1, column.index).text);
    });
}

bool RowReading::row_is_left_out(std::size_t row) {
    if (table_->blank(row)) {
        return true;
    }
    std::string first;
    for (std::size_t c = 0; c < table_->width(row) && first.empty(); ++c) {
        first = single_blanks(table_->at(row, c).text);
    }
    if (begins_with_any(first, map_->footer)) {
        ++footers_;
        return true;
    }
    if (repeats_head(row)) {
        ++repeated_heads_;
        if (!map_->skip_repeated_head) {
            refuse(row, columns_->front(), "the row repeats the head",
                   "take the row away, or write repeated_head = \"skip\" in the map");
        }
        return true;
    }
    return false;
}

bool RowReading::read_width(std::size_t row) {
    if (map_->head_row == 0) {
        return true;
    }
    const std::size_t head_width = table_->width(map_->head_row - 1);
    bool sound = true;
    for (std::size_t c = head_width; c < table_->width(row); ++c) {
        const std::string_view beyond = trim_blanks(table_->at(row, c).text);
        if (!beyond.empty() && c >= head_width) {
            refusals_->add({cell_name(row, c), "", std::string(beyond),
                            "the cell stands beyond the last column of the head",
                            "look for a separator too many in the row"});
            sound = false;
        }
    }
    // Cells that are empty in the head do not count: programs leave them out or write them alike.
    std::size_t last = head_width;
    while (last > 0 && trim_blanks(table_->at(map_->head_row - 1, last - 1).text).empty()) {
        --last;
    }
    if (table_->width(row) < last && !map_->allow_short_rows) {
        refusals_->add({cell_name(row, table_->width(row)), "", "",
                        fmt::format("the row ends here, and the head has {} columns", last),
                        "look for a separator too few, or write short_rows = \"not tested\" in the "
                        "map"});
        sound = false;
    }
    return sound;
}

bool RowReading::read_sample(std::size_t row, Reading& common) {
    const PlacedColumn& column = *column_of(*columns_, ColumnRole::Sample);
    const TableCell cell = table_->at(row, column.index);
    common.sample = std::string(trim_blanks(cell.text));
    common.row = row + 1;
    if (common.sample.empty()) {
        refuse(row, column, "the row has no name of a sample",
               "name the sample; list rows that are no samples under footer in the map");
        return false;
    }
    if (looks_like_footer(common.sample)) {
        refuse(row, column, "this looks like a row below the table, not like a sample",
               "list it under footer in the map, or take the row away");
        return false;
    }
    if (common.sample.size() > kLongestName || has_control(common.sample)) {
        refuse(row, column, fmt::format("a name is one line of at most {} bytes", kLongestName),
               "mend the name; a quote may be missing in a row above");
        return false;
    }
    if (const auto spoilt = spoilt_by_spreadsheet(cell)) {
        refuse(row, column, spoilt->why, spoilt->mend);
        return false;
    }
    return true;
}

bool RowReading::read_kind(std::size_t row, Reading& common) {
    common.kind = matches_any(common.sample, map_->blank_samples)   ? SampleKind::Blank
                  : matches_any(common.sample, map_->check_samples) ? SampleKind::Check
                                                                    : SampleKind::Sample;
    if (const PlacedColumn* column = column_of(*columns_, ColumnRole::BlankFlag)) {
        const std::string flag = text(row, *column);
        const std::vector<std::string> none{"no", "false", "0", "-"};
        if (matches_any(flag, map_->blank_flags)) {
            common.kind = SampleKind::Blank;
        } else if (!flag.empty() && !matches_any(flag, none)) {
            refuse(row, *column, "it does not say whether this is a blank",
                   fmt::format("write {}, no, or nothing; blank_flags in the map lists the words",
                               base::join_words(map_->blank_flags, "or")));
            return false;
        }
    }
    const auto& awaited = rules_->awaited_samples;
    if (common.kind == SampleKind::Sample && !awaited.empty() &&
        std::find(awaited.begin(), awaited.end(), common.sample) == awaited.end()) {
        refuse(row, *column_of(*columns_, ColumnRole::Sample),
               "no sample of this name is awaited here",
               "this may be another batch's file; else list the name as blank, check sample or "
               "footer in the map");
        return false;
    }
    return true;
}

void RowReading::read_measured_at(std::size_t row, Reading& common) {
    const auto read = [&](ColumnRole role, const std::string& form, std::string_view key) {
        const PlacedColumn* column = column_of(*columns_, role);
        if (column == nullptr || text(row, *column).empty()) {
            return std::string();
        }
        const TableCell cell = table_->at(row, column->index);
        if (cell.kind == CellKind::Date) {
            return std::string(cell.text);
        }
        auto found = read_calendar_cell(text(row, *column), form);
        if (!found) {
            refuse(row, *column, found.error().message,
                   fmt::format("mend the cell, or write the file's form as {} in the map", key));
            return std::string();
        }
        return std::move(*found);
    };
    const std::string date = read(ColumnRole::Date, map_->date_form, "date_form");
    const std::string time = read(ColumnRole::Time, map_->time_form, "time_form");
    const bool apart = !date.empty() && !time.empty() && date.find('T') == std::string::npos;
    common.measured_at = apart ? date + "T" + time : date.empty() ? time : date;
    if (const PlacedColumn* column = column_of(*columns_, ColumnRole::Operator)) {
        common.operator_name = text(row, *column);
        if (common.operator_name.size() > kLongestName || has_control(common.operator_name)) {
            refuse(row, *column,
                   fmt::format("a name is one line of at most {} bytes", kLongestName),
                   "mend the name");
        }
    }
}

std::optional<TypedNumber> RowReading::amount(std::size_t row, ColumnRole role) {
    const PlacedColumn* column = column_of(*columns_, role);
    if (column == nullptr) {
        return std::nullopt;
    }
    const NumberCell cell = read_number_cell(table_->at(row, column->index), map_->numbers);
    note_sign(row, *column, cell.mark);
    if (cell.meaning == CellMeaning::Value && *cell.value > 0) {
        return TypedNumber{cell.digits, *cell.value,
                           column->map->unit ? column->map->unit->symbol : std::string()};
    }
    if (cell.meaning == CellMeaning::NotTested) {
        refuse(row, *column, fmt::format("the row has no {}", name_of(role)),
               "fill the cell in; a sample that was not diluted has 1");
    } else if (cell.other_sign) {
        return std::nullopt;  // told of the whole column
    } else {
        refuse(row, *column,
               cell.meaning == CellMeaning::Refused ? cell.why : std::string("it is not above 0"),
               cell.meaning == CellMeaning::Refused ? cell.mend : std::string("mend the number"));
    }
    return std::nullopt;
}

void RowReading::read_amounts(std::size_t row, Reading& common) {
    common.dilution = amount(row, ColumnRole::Dilution);
    common.dilution_applied = map_->dilution_applied.value_or(false);
    common.sample_mass = amount(row, ColumnRole::SampleMass);
    common.final_mass = amount(row, ColumnRole::FinalMass);
    common.final_volume = amount(row, ColumnRole::FinalVolume);
}

void RowReading::note_sign(std::size_t row, const PlacedColumn& column, char mark) {
    if (mark == 0) {
        return;
    }
    auto found = std::find_if(signs_.begin(), signs_.end(),
                              [&](const DecimalSigns& s) { return s.column == column.index; });
    if (found == signs_.end()) {
        signs_.push_back({column.index, column.head, {}, {}});
        found = signs_.end() - 1;
    }
    (mark == '.' ? found->points : found->commas).push_back(row + 1);
}

void RowReading::read_value(std::size_t row, const PlacedColumn& column, const std::string& limit,
                            Reading reading) {
    NumberForm form = map_->numbers;
    form.percent_signs = reading.unit.dimension == unit::Dimension::Fraction;
    const NumberCell cell = read_number_cell(table_->at(row, column.index), form);
    note_sign(row, column, cell.mark);
    if (cell.meaning == CellMeaning::NotTested) {
        ++into_->not_tested;
        return;
    }
    if (cell.meaning == CellMeaning::Refused) {
        if (!cell.other_sign) {
            refuse(row, column, cell.why, cell.mend);
        }
        return;
    }
    reading.cell = cell_name(row, column.index);
    reading.typed = cell.typed;
    reading.digits = cell.digits;
    reading.below_limit = cell.meaning == CellMeaning::BelowLimit;
    reading.over_range = cell.meaning == CellMeaning::OverRange;
    if (cell.meaning == CellMeaning::Value) {
        reading.value = cell.value;
    } else if (cell.value) {
        reading.limit = TypedNumber{cell.digits, *cell.value, ""};
    } else if (reading.below_limit && !limit.empty()) {
        reading.limit = TypedNumber{limit, base::parse_number(limit).value_or(0), ""};
    }
    auto& list = reading.kind == SampleKind::Blank   ? into_->blanks
                 : reading.kind == SampleKind::Check ? into_->checks
                                                     : into_->readings;
    if (into_->readings.size() + into_->blanks.size() + into_->checks.size() >= kMostReadings) {
        if (!too_many_told_) {
            refuse(row, column, fmt::format("the file has more than {} readings", kMostReadings),
                   "import it in parts");
        }
        too_many_told_ = true;
        return;
    }
    list.push_back(std::move(reading));
}

void RowReading::read_wide(std::size_t row, const Reading& common) {
    for (const PlacedColumn& column : *columns_) {
        if (column.map->role != ColumnRole::Analyte || !column.unit) {
            continue;
        }
        if (trim_blanks(table_->at(row, column.index).text).empty()) {
            ++into_->not_tested;
            continue;
        }
        Reading reading = common;
        reading.analyte = column.map->analyte;
        reading.wavelength = column.map->wavelength;
        reading.unit = *column.unit;
        read_value(row, column, column.map->limit, std::move(reading));
    }
}

void RowReading::read_long(std::size_t row, const Reading& common) {
    const PlacedColumn* name = column_of(*columns_, ColumnRole::AnalyteName);
    const PlacedColumn* value = column_of(*columns_, ColumnRole::Value);
    if (name == nullptr || value == nullptr) {
        return;
    }
    Reading reading = common;
    const std::string word = text(row, *name);
    const auto head = analyte_head(word);
    const auto known = map_->analyte(word);
    const auto symbol = known ? known : head ? map_->analyte(head->analyte) : std::nullopt;
    if (!symbol) {
        refuse(row, *name,
               word.empty() ? "the row has no analyte" : "it is no element or constituent",
               "mend it, or list it under names or other_analytes in the map");
        return;
    }
    reading.analyte = *symbol;
    reading.wavelength = !known && head ? head->wavelength : "";
    if (const PlacedColumn* line = column_of(*columns_, ColumnRole::Wavelength)) {
        const NumberCell cell = read_number_cell(table_->at(row, line->index), map_->numbers);
        const bool number = cell.meaning == CellMeaning::Value && *cell.value > 0;
        if (!number && cell.meaning != CellMeaning::NotTested && !cell.other_sign) {
            refuse(row, *line, cell.why.empty() ? "it is no wavelength" : cell.why,
                   cell.mend.empty() ? "write nm as a number" : cell.mend);
            return;
        }
        note_sign(row, *line, cell.mark);
        reading.wavelength = number ? cell.digits : reading.wavelength;
    }
    if (value->unit) {
        reading.unit = *value->unit;
    }
    if (const PlacedColumn* unit = column_of(*columns_, ColumnRole::Unit)) {
        const auto stated = reading_unit(text(row, *unit), value->map->ppm);
        if (!stated) {
            refuse(row, *unit, stated.error().message, "mend the unit in the file");
            return;
        }
        if (value->unit && !(*value->unit == *stated)) {
            refuse(
                row, *unit,
                fmt::format("the file says {} and the map {}", stated->text(), value->unit->text()),
                "find out which it is, and mend the other");
            return;
        }
        reading.unit = *stated;
    }
    if (!reading.unit.dimension && !map_->is_other_analyte(reading.analyte)) {
        if (!reading.unit.symbol.empty()) {  // a column without any unit is told once
            refuse(row, *value, fmt::format("{} is no pure number", reading.analyte),
                   "give its unit");
        }
        return;
    }
    read_value(row, *value, value->map->limit, std::move(reading));
}

void RowReading::read(std::size_t row) {
    if (row_is_left_out(row) || !read_width(row)) {
        return;
    }
    Reading common;
    if (!read_sample(row, common) || !read_kind(row, common)) {
        return;
    }
    read_measured_at(row, common);
    read_amounts(row, common);
    if (map_->layout == TableLayout::Wide) {
        read_wide(row, common);
    } else {
        read_long(row, common);
    }
}

}  // namespace bw::io
