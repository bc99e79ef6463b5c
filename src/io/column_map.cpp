// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/column_map.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/calendar_cell.hpp"
#include "io/fields.hpp"
#include "io/map_words.hpp"

namespace bw::io {
namespace {

/// One of the words, or nothing where the key is absent.
template <class T, std::size_t N>
Result<std::optional<T>> word_of(const Fields& table, std::string_view key,
                                 const MapWords<T, N>& words) {
    BW_TRY(text, table.text(key));
    if (!text) {
        return std::nullopt;
    }
    std::vector<std::string> allowed;
    for (const auto& [word, meaning] : words) {
        if (word == *text) {
            return meaning;
        }
        allowed.push_back(fmt::format("\"{}\"", word));
    }
    return table.bad(key, fmt::format("{} is not known: write {}", base::quoted(*text),
                                      base::join_words(allowed, "or")));
}

/// The same, written over the value where the key is there.
template <class T, class U, std::size_t N>
Result<void> take_word(const Fields& table, std::string_view key, const MapWords<T, N>& words,
                       U& into) {
    BW_TRY(value, word_of(table, key, words));
    if (value) {
        into = *value;
    }
    return {};
}

Result<void> take_row(const Fields& root, std::string_view key, std::size_t& into, int least) {
    BW_TRY(row, root.whole_number(key, least, static_cast<int>(kMostTableRows)));
    if (row) {
        into = static_cast<std::size_t>(*row);
    }
    return {};
}

/// Names and spellings: not empty, of a sane length.
Result<void> take_texts(const Fields& root, std::string_view key, std::vector<std::string>& into) {
    constexpr std::size_t kMost = 500;
    BW_TRY(texts, root.texts(key));
    if (texts.size() > kMost) {
        return root.bad(
            key, fmt::format("the list has {} texts: at most {} are read", texts.size(), kMost),
            ProblemCode::TooLarge);
    }
    for (const std::string& text : texts) {
        if (trim_blanks(text).empty() || text == "*") {
            return root.bad(key, "a text of the list is empty, so that it would fit everything");
        }
    }
    if (root.has(key)) {
        into = std::move(texts);
    }
    return {};
}

Result<void> read_rows_and_form(const Fields& root, ColumnMap& map) {
    BW_CHECK(take_word(root, "layout", kLayoutWords, map.layout));
    BW_CHECK(take_row(root, "head_row", map.head_row, 0));
    BW_CHECK(take_row(root, "unit_row", map.unit_row, 0));
    map.first_row = std::max(map.head_row, map.unit_row) + 1;
    const std::size_t least = map.first_row;
    BW_CHECK(take_row(root, "first_row", map.first_row, 1));
    if (map.first_row < least) {
        return root.bad("first_row",
                        "the first row of readings must lie below the head and the units",
                        ProblemCode::OutOfRange);
    }
    BW_CHECK(take_word(root, "separator", kSeparatorWords, map.separator));
    BW_CHECK(take_word(root, "encoding", kEncodingWords, map.encoding));
    BW_TRY(sheet, root.text("sheet"));
    map.sheet = sheet.value_or("");
    BW_TRY(date_form, root.text("date_form"));
    map.date_form = date_form.value_or(map.date_form);
    BW_TRY(time_form, root.text("time_form"));
    map.time_form = time_form.value_or(map.time_form);
    for (const auto& [key, form] :
         {std::pair<std::string_view, std::string_view>{"date_form", map.date_form},
          {"time_form", map.time_form}}) {
        if (const auto sound = check_calendar_form(form); !sound) {
            return root.placed(key, sound.error());
        }
    }
    return {};
}

Result<void> read_numbers(const Fields& root, ColumnMap& map) {
    NumberForm& form = map.numbers;
    BW_CHECK(take_word(root, "decimal_sign", kDecimalWords, form.decimal_sign));
    BW_CHECK(take_word(root, "group_mark", kGroupWords, form.group_mark));
    const bool needs_sign =
        form.group_mark == GroupMark::Comma || form.group_mark == GroupMark::Point;
    const bool same =
        (form.group_mark == GroupMark::Comma && form.decimal_sign == DecimalSign::Comma) ||
        (form.group_mark == GroupMark::Point && form.decimal_sign == DecimalSign::Point);
    if (same) {
        return root.bad("group_mark", "the group mark cannot be the decimal sign");
    }
    if (needs_sign && form.decimal_sign == DecimalSign::NotDeclared) {
        return root.bad("group_mark",
                        "a comma or point as group mark needs decimal_sign beside it");
    }
    BW_CHECK(take_texts(root, "below_limit", form.below_limit));
    BW_CHECK(take_texts(root, "over_range", form.over_range));
    BW_CHECK(take_texts(root, "not_tested", form.not_tested));
    return take_word(root, "exponents", kExponentWords, form.spreadsheet_exponents);
}

Result<void> read_policies(const Fields& root, ColumnMap& map) {
    BW_CHECK(take_word(root, "ppm", kPpmWords, map.ppm));
    BW_CHECK(take_word(root, "lines", kLineWords, map.lines));
    BW_CHECK(take_word(root, "blanks", kBlankWords, map.blanks));
    BW_CHECK(take_texts(root, "blank_samples", map.blank_samples));
    BW_CHECK(take_texts(root, "check_samples", map.check_samples));
    map.blank_flags = {"yes", "true", "1", "x", "blank"};
    BW_CHECK(take_texts(root, "blank_flags", map.blank_flags));
    BW_CHECK(take_texts(root, "footer", map.footer));
    BW_TRY(applied, root.flag("dilution_applied"));
    map.dilution_applied = applied;
    BW_CHECK(take_word(root, "other_columns", kOtherColumnWords, map.ignore_other_columns));
    BW_CHECK(take_word(root, "repeated_head", kRepeatedHeadWords, map.skip_repeated_head));
    BW_CHECK(take_word(root, "repeats", kRepeatWords, map.keep_repeats));
    BW_CHECK(take_word(root, "short_rows", kShortRowWords, map.allow_short_rows));
    BW_CHECK(take_texts(root, "other_analytes", map.other_analytes));
    BW_TRY(names, root.table("names"));
    if (!names) {
        return {};
    }
    for (const auto& [word, value] : *names->self().table()) {
        if (value.text() == nullptr || !map.analyte(*value.text())) {
            return names->bad(
                word,
                fmt::format("{} must stand for the symbol of an element or constituent, "
                            "or for one of other_analytes",
                            base::quoted(word)),
                ProblemCode::UnknownName);
        }
        map.names.emplace_back(word, *value.text());
    }
    return {};
}

/// The unit of a column, of the kind that its role needs.
Result<void> read_column_unit(const Fields& table, const ColumnMap& map, MapColumn& column) {
    using unit::Dimension;
    BW_CHECK(take_word(table, "ppm", kPpmWords, column.ppm));
    if (column.ppm == PpmMeaning::NotSaid) {
        column.ppm = map.ppm;
    }
    BW_TRY(text, table.text("unit"));
    const ColumnRole role = column.role;
    const bool weighed = role == ColumnRole::SampleMass || role == ColumnRole::FinalMass ||
                         role == ColumnRole::FinalVolume;
    if (!text) {
        return weighed ? Result<void>(
                             table.bad("", "the column needs its unit, such as \"g\" or \"mL\"",
                                       ProblemCode::BadUnit))
                       : Result<void>();
    }
    if (weighed) {
        const auto wanted = role == ColumnRole::FinalVolume ? Dimension::Volume : Dimension::Mass;
        const auto found = unit::find_unit(*text);
        if (!found) {
            return table.placed("unit", found.error());
        }
        if (found->dimension != wanted) {
            return table.bad(
                "unit", fmt::format("{} is not {}", base::quoted(*text), unit::describe(wanted)),
                ProblemCode::BadUnit);
        }
        column.unit = ReadingUnit{std::string(found->symbol), "", found->dimension};
        return {};
    }
    if (role != ColumnRole::Analyte && role != ColumnRole::Value) {
        return table.bad("unit", "only readings, masses and volumes have a unit");
    }
    const auto unit = reading_unit(*text, column.ppm);
    if (!unit) {
        return table.placed("unit", unit.error());
    }
    column.unit = *unit;
    return {};
}

Result<void> read_column_analyte(const Fields& table, const ColumnMap& map, MapColumn& column) {
    BW_TRY(analyte, table.text("analyte"));
    BW_TRY(wavelength, table.text("wavelength"));
    if (column.role != ColumnRole::Analyte) {
        return analyte || wavelength
                   ? Result<void>(table.bad(analyte ? "analyte" : "wavelength",
                                            "only a column of role \"analyte\" names one"))
                   : Result<void>();
    }
    const auto told = analyte_head(column.head);
    const std::string word = analyte ? *analyte : told ? told->analyte : std::string(column.head);
    const auto known = map.analyte(word);
    if (!known) {
        return table.bad(analyte ? "analyte" : "head",
                         fmt::format("{} is no element or constituent: write analyte = \"Ca\", or "
                                     "list it under other_analytes",
                                     base::quoted(word)),
                         ProblemCode::UnknownName);
    }
    column.analyte = *known;
    column.wavelength = wavelength ? *wavelength : told ? told->wavelength : "";
    const auto number = base::parse_number(column.wavelength);
    if (!column.wavelength.empty() && (!number || !(*number > 0))) {
        return table.bad("wavelength", "a wavelength is a number of nm, such as \"317.933\"",
                         ProblemCode::BadNumber);
    }
    return {};
}

Result<MapColumn> read_column(const Fields& table, const ColumnMap& map) {
    BW_CHECK(table.allow(
        {"head", "column", "role", "analyte", "wavelength", "unit", "ppm", "limit", "note"}));
    MapColumn column;
    column.place = table.place("");
    BW_TRY(head, table.text("head"));
    BW_TRY(letters, table.text("column"));
    if (head.has_value() == letters.has_value()) {
        return table.bad("", "name the column by head = \"...\" or by column = \"C\", not by both");
    }
    if (letters) {
        const auto index = column_of_letters(*letters);
        if (!index) {
            return table.placed("column", index.error());
        }
        column.index = *index;
    } else {
        column.head = single_blanks(*head);
        if (column.head.empty() || map.head_row == 0) {
            return table.bad("head", column.head.empty()
                                         ? "the head is empty: name the column by its letters"
                                         : "the table has no head: name the column by its letters");
        }
    }
    BW_TRY(role, word_of(table, "role", kRoleWords));
    if (!role) {
        return table.bad("", "role is missing: write role = \"analyte\", for example");
    }
    column.role = *role;
    BW_CHECK(read_column_analyte(table, map, column));
    BW_CHECK(read_column_unit(table, map, column));
    BW_TRY(limit, table.text("limit"));
    if (limit) {
        const auto number = base::parse_number(*limit);
        if (!number || !(*number > 0)) {
            return table.bad("limit",
                             "a limit is a number above 0 in the column's unit, with a "
                             "decimal point",
                             ProblemCode::BadNumber);
        }
        column.limit = *limit;
    }
    return column;
}

std::size_t count_of(const ColumnMap& map, ColumnRole role) {
    return static_cast<std::size_t>(
        std::count_if(map.columns.begin(), map.columns.end(),
                      [&](const MapColumn& c) { return c.role == role; }));
}

/// What the columns must be together.
Result<void> check_columns(const Fields& root, const ColumnMap& map) {
    for (const auto& [word, role] : kRoleWords) {
        const bool many = role == ColumnRole::Analyte || role == ColumnRole::Ignored;
        if (!many && count_of(map, role) > 1) {
            return root.bad("column", fmt::format("two columns have the role \"{}\"", word),
                            ProblemCode::DuplicateName);
        }
        const bool of_long = role == ColumnRole::AnalyteName || role == ColumnRole::Value ||
                             role == ColumnRole::Unit || role == ColumnRole::Wavelength;
        const bool of_wide = role == ColumnRole::Analyte;
        if (count_of(map, role) > 0 && ((of_long && map.layout == TableLayout::Wide) ||
                                        (of_wide && map.layout == TableLayout::Long))) {
            return root.bad("layout",
                            fmt::format("a column of role \"{}\" does not go with layout = \"{}\"",
                                        word, word_for(kLayoutWords, map.layout)));
        }
    }
    if (count_of(map, ColumnRole::Sample) == 0) {
        return root.bad("", "no column has the role \"sample\"");
    }
    if (map.layout == TableLayout::Wide && count_of(map, ColumnRole::Analyte) == 0) {
        return root.bad("", "no column has the role \"analyte\"");
    }
    if (map.layout == TableLayout::Long &&
        (count_of(map, ColumnRole::AnalyteName) == 0 || count_of(map, ColumnRole::Value) == 0)) {
        return root.bad(
            "", "layout = \"long\" needs columns of the roles \"analyte-name\" and \"value\"");
    }
    const bool diluted = count_of(map, ColumnRole::Dilution) > 0;
    if (diluted && !map.dilution_applied) {
        return root.bad("",
                        "there is a dilution column: write dilution_applied = true if the readings "
                        "are those of the undiluted sample, else false");
    }
    if (diluted && *map.dilution_applied && map.blanks == BlankPolicy::SubtractMean) {
        return root.bad("blanks",
                        "a blank cannot be taken off readings that are multiplied by their "
                        "dilution already");
    }
    if (map.unit_row != 0 && (map.unit_row == map.head_row || map.layout == TableLayout::Long)) {
        return root.bad("unit_row", "a unit row goes with layout = \"wide\" and is not the head");
    }
    return {};
}

Result<void> check_twice(const Fields& table, const ColumnMap& map, const MapColumn& column) {
    for (const MapColumn& earlier : map.columns) {
        if (earlier.head == column.head && earlier.index == column.index) {
            return table.bad(column.index ? "column" : "head",
                             fmt::format("{} stands twice in the map", column.name()),
                             ProblemCode::DuplicateName);
        }
        const bool same_line = column.role == ColumnRole::Analyte && earlier.role == column.role &&
                               earlier.analyte == column.analyte &&
                               earlier.wavelength == column.wavelength;
        if (same_line) {
            return table.bad("",
                             fmt::format("{} and {} both read {}{}: give each its wavelength",
                                         earlier.name(), column.name(), column.analyte,
                                         column.wavelength.empty() ? "" : " " + column.wavelength),
                             ProblemCode::DuplicateName);
        }
    }
    return {};
}

}  // namespace

std::string_view name_of(ColumnRole role) { return word_for(kRoleWords, role); }

std::string MapColumn::name() const {
    return index ? "column " + column_letters(*index) : "column " + base::quoted(head);
}

bool ColumnMap::is_other_analyte(std::string_view analyte) const {
    return std::find(other_analytes.begin(), other_analytes.end(), analyte) != other_analytes.end();
}

std::optional<std::string> ColumnMap::analyte(std::string_view word) const {
    for (const auto& [typed, symbol] : names) {
        if (typed == word) {
            return symbol;
        }
    }
    return is_analyte(word) || is_other_analyte(word) ? std::optional(std::string(word))
                                                      : std::nullopt;
}

Result<ColumnMap> read_column_map(const Document& document) {
    BW_TRY(root, open_kind(document, "column-map"));
    BW_CHECK(root.allow({"format",
                         "kind",
                         "name",
                         "invented",
                         "note",
                         "layout",
                         "head_row",
                         "unit_row",
                         "first_row",
                         "separator",
                         "encoding",
                         "sheet",
                         "decimal_sign",
                         "group_mark",
                         "below_limit",
                         "over_range",
                         "not_tested",
                         "exponents",
                         "date_form",
                         "time_form",
                         "ppm",
                         "lines",
                         "blanks",
                         "blank_samples",
                         "check_samples",
                         "blank_flags",
                         "footer",
                         "dilution_applied",
                         "other_columns",
                         "repeated_head",
                         "repeats",
                         "short_rows",
                         "other_analytes",
                         "names",
                         "column"}));
    ColumnMap map;
    BW_TRY(name, root.required_text("name"));
    map.name = name;
    BW_TRY(invented, root.flag("invented"));
    map.invented = invented.value_or(false);
    BW_CHECK(read_rows_and_form(root, map));
    BW_CHECK(read_numbers(root, map));
    BW_CHECK(read_policies(root, map));
    BW_TRY(tables, root.tables("column"));
    if (tables.size() > kMostTableColumns) {
        return root.bad("column",
                        fmt::format("the map has more than {} columns", kMostTableColumns),
                        ProblemCode::TooLarge);
    }
    for (const Fields& table : tables) {
        BW_TRY(column, read_column(table, map));
        BW_CHECK(check_twice(table, map, column));
        map.columns.push_back(std::move(column));
    }
    BW_CHECK(check_columns(root, map));
    return map;
}

}  // namespace bw::io
