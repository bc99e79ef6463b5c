// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "io/column_map.hpp"
#include "io/map_words.hpp"
#include "io/toml_string.hpp"

namespace bw::io {
namespace {

class Lines {
public:
    void text(std::string_view key, std::string_view value) {
        out_ += fmt::format("{} = {}\n", key, toml_string(value));
    }
    void text_unless(std::string_view key, std::string_view value, std::string_view usual) {
        if (value != usual) {
            text(key, value);
        }
    }
    void number(std::string_view key, std::size_t value) {
        out_ += fmt::format("{} = {}\n", key, value);
    }
    void flag(std::string_view key, bool value) { out_ += fmt::format("{} = {}\n", key, value); }
    void texts(std::string_view key, const std::vector<std::string>& values,
               bool even_if_empty = false) {
        if (values.empty() && !even_if_empty) {
            return;
        }
        std::string list;
        for (const std::string& value : values) {
            list += (list.empty() ? "" : ", ") + toml_string(value);
        }
        out_ += fmt::format("{} = [{}]\n", key, list);
    }
    void line(std::string_view line) { out_ += std::string(line) + "\n"; }
    [[nodiscard]] std::string take() { return std::move(out_); }

private:
    std::string out_;
};

void put_head(const ColumnMap& map, Lines& out) {
    out.text("layout", word_for(kLayoutWords, map.layout));
    out.number("head_row", map.head_row);
    if (map.unit_row != 0) {
        out.number("unit_row", map.unit_row);
    }
    out.number("first_row", map.first_row);
    if (map.separator) {
        out.text("separator", word_for(kSeparatorWords, *map.separator));
    }
    if (map.encoding) {
        out.text("encoding", word_for(kEncodingWords, *map.encoding));
    }
    out.text_unless("sheet", map.sheet, "");
    out.text_unless("decimal_sign", word_for(kDecimalWords, map.numbers.decimal_sign), "");
    out.text_unless("group_mark", word_for(kGroupWords, map.numbers.group_mark), "none");
    out.texts("below_limit", map.numbers.below_limit);
    out.texts("over_range", map.numbers.over_range);
    out.texts("not_tested", map.numbers.not_tested);
    out.text_unless("exponents", word_for(kExponentWords, map.numbers.spreadsheet_exponents),
                    "refuse");
    const ColumnMap usual;
    out.text_unless("date_form", map.date_form, usual.date_form);
    out.text_unless("time_form", map.time_form, usual.time_form);
    out.text_unless("ppm", word_for(kPpmWords, map.ppm), "");
    out.text_unless("lines", word_for(kLineWords, map.lines), "both");
    out.text_unless("blanks", word_for(kBlankWords, map.blanks), "keep");
    out.texts("blank_samples", map.blank_samples);
    out.texts("check_samples", map.check_samples);
    out.texts("blank_flags", map.blank_flags, true);
    out.texts("footer", map.footer);
    if (map.dilution_applied) {
        out.flag("dilution_applied", *map.dilution_applied);
    }
    out.text_unless("other_columns", word_for(kOtherColumnWords, map.ignore_other_columns),
                    "refuse");
    out.text_unless("repeated_head", word_for(kRepeatedHeadWords, map.skip_repeated_head),
                    "refuse");
    out.text_unless("repeats", word_for(kRepeatWords, map.keep_repeats), "refuse");
    out.text_unless("short_rows", word_for(kShortRowWords, map.allow_short_rows), "refuse");
    out.texts("other_analytes", map.other_analytes);
}

void put_column(const MapColumn& column, const ColumnMap& map, Lines& out) {
    out.line("\n[[column]]");
    if (column.index) {
        out.text("column", column_letters(*column.index));
    } else {
        out.text("head", column.head);
    }
    out.text("role", name_of(column.role));
    if (column.role == ColumnRole::Analyte) {
        out.text("analyte", column.analyte);
        out.text_unless("wavelength", column.wavelength, "");
    }
    if (column.unit) {
        out.text("unit", column.unit->text());
    }
    if (column.ppm != map.ppm) {
        out.text("ppm", word_for(kPpmWords, column.ppm));
    }
    out.text_unless("limit", column.limit, "");
}

}  // namespace

std::string column_map_toml(const ColumnMap& map) {
    Lines out;
    out.text("format", "brinewright/1");
    out.text("kind", "column-map");
    out.text("name", map.name);
    if (map.invented) {
        out.flag("invented", true);
    }
    put_head(map, out);
    if (!map.names.empty()) {
        out.line("\n[names]");
        for (const auto& [word, symbol] : map.names) {
            out.text(toml_string(word), symbol);
        }
    }
    for (const MapColumn& column : map.columns) {
        put_column(column, map, out);
    }
    return out.take();
}

}  // namespace bw::io
