// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/suggested_map.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/column_map.hpp"
#include "io/guessed_head.hpp"
#include "io/table_guesses.hpp"

namespace bw::io {
namespace {

struct KnownHead {
    std::string_view word;
    ColumnRole role;
};

// Heads that laboratories write, in small letters, in English and German.
constexpr auto kKnownHeads = std::to_array<KnownHead>({
    {"sample", ColumnRole::Sample},
    {"sample id", ColumnRole::Sample},
    {"sample name", ColumnRole::Sample},
    {"sample no.", ColumnRole::Sample},
    {"sample number", ColumnRole::Sample},
    {"id", ColumnRole::Sample},
    {"name", ColumnRole::Sample},
    {"label", ColumnRole::Sample},
    {"probe", ColumnRole::Sample},
    {"probenname", ColumnRole::Sample},
    {"proben-nr.", ColumnRole::Sample},
    {"analyte", ColumnRole::AnalyteName},
    {"element", ColumnRole::AnalyteName},
    {"parameter", ColumnRole::AnalyteName},
    {"analyt", ColumnRole::AnalyteName},
    {"value", ColumnRole::Value},
    {"result", ColumnRole::Value},
    {"reading", ColumnRole::Value},
    {"concentration", ColumnRole::Value},
    {"conc.", ColumnRole::Value},
    {"messwert", ColumnRole::Value},
    {"wert", ColumnRole::Value},
    {"ergebnis", ColumnRole::Value},
    {"unit", ColumnRole::Unit},
    {"units", ColumnRole::Unit},
    {"einheit", ColumnRole::Unit},
    {"wavelength", ColumnRole::Wavelength},
    {"line", ColumnRole::Wavelength},
    {"wellenl\u00E4nge", ColumnRole::Wavelength},
    {"dilution", ColumnRole::Dilution},
    {"dilution factor", ColumnRole::Dilution},
    {"dil.", ColumnRole::Dilution},
    {"verd\u00FCnnung", ColumnRole::Dilution},
    {"operator", ColumnRole::Operator},
    {"analyst", ColumnRole::Operator},
    {"bearbeiter", ColumnRole::Operator},
    {"date", ColumnRole::Date},
    {"datum", ColumnRole::Date},
    {"time", ColumnRole::Time},
    {"uhrzeit", ColumnRole::Time},
    {"blank", ColumnRole::BlankFlag},
    {"linie", ColumnRole::Wavelength},
    {"factor", ColumnRole::Dilution},
    {"faktor", ColumnRole::Dilution},
});

/// Each remark once, in the order in which they arose.
class Remarks {
public:
    void insert(std::string remark) {
        if (std::find(list_.begin(), list_.end(), remark) == list_.end()) {
            list_.push_back(std::move(remark));
        }
    }
    [[nodiscard]] const std::vector<std::string>& list() const { return list_; }

private:
    std::vector<std::string> list_;
};

class Suggesting {
public:
    explicit Suggesting(const SourceTable& source) : table_(&source.cells), source_(&source) {}

    Result<std::string> toml() {
        if (!find_head()) {
            return fail(
                ProblemCode::BadInput,
                "no row has heads such as \"Ca 317.933\", nor those of a table with one reading "
                "per row (sample, analyte, value): write the map by hand");
        }
        map_.name = "suggested: look through each line";
        if (source_->separator != Separator::None) {
            map_.separator = source_->separator;
        }
        for (std::size_t c = 0; c < table_->columns(); ++c) {
            heads_.push_back(single_blanks(table_->at(map_.head_row - 1, c).text));
        }
        find_unit_row();
        map_.first_row = std::max(map_.head_row, map_.unit_row) + 1;
        for (std::size_t c = 0; c < table_->columns(); ++c) {
            add_column(c);
        }
        choose_sample_column();
        name_analytes();
        find_decimal_sign();
        find_date_form();
        map_.numbers.below_limit = {"<", "n.d."};
        map_.blank_samples = {"Blank*"};
        map_.blank_flags = {"yes", "true", "1", "x", "blank"};
        std::string out;
        for (const std::string& remark : remarks_.list()) {
            out += "# " + base::one_line(remark) + "\n";
        }
        return out + column_map_toml(map_);
    }

private:
    [[nodiscard]] const std::string& head(std::size_t column) const { return heads_[column]; }

    /// By heads that are understood as they are, else by those that can be guessed.
    bool find_head() { return find_head_by(analyte_head) || find_head_by(guess_analyte_head); }

    bool find_head_by(std::optional<AnalyteHead> (*read)(std::string_view)) {
        constexpr std::size_t kLookedAt = 50;  // notes above a head are fewer
        for (std::size_t r = 0; r < std::min(table_->rows(), kLookedAt); ++r) {
            std::size_t analytes = 0;
            bool value = false;
            bool name = false;
            for (std::size_t c = 0; c < table_->width(r); ++c) {
                const std::string_view text = table_->at(r, c).text;
                analytes += read(text) ? 1U : 0U;
                const auto role = known_column_role(text);
                value = value || role == ColumnRole::Value;
                name = name || role == ColumnRole::AnalyteName;
            }
            const bool tall = value && name;
            if (tall || (analytes > 0 && table_->width(r) > 1)) {
                map_.layout = tall ? TableLayout::Long : TableLayout::Wide;
                map_.head_row = r + 1;
                return true;
            }
        }
        return false;
    }

    void find_unit_row() {
        if (map_.layout == TableLayout::Long) {
            return;
        }
        map_.unit_row = guess_unit_row(*table_, map_.head_row);
        const std::size_t row = map_.head_row;
        for (std::size_t c = 0; map_.unit_row > 0 && c < table_->width(row); ++c) {
            const std::string text = single_blanks(without_brackets(table_->at(row, c).text));
            if (base::lower_ascii(text) == "ppm" || base::lower_ascii(text) == "ppb") {
                remarks_.insert(
                    "ppm stands in the unit row: add ppm = \"by mass\" or \"by volume\".");
            }
        }
    }

    [[nodiscard]] bool role_taken(ColumnRole role) const {
        return std::any_of(map_.columns.begin(), map_.columns.end(),
                           [&](const MapColumn& c) { return c.role == role; });
    }

    void add_column(std::size_t c) {
        MapColumn column;
        column.head = head(c);
        if (column.head.empty() || std::count(heads_.begin(), heads_.end(), column.head) > 1) {
            column.head.clear();
            column.index = c;
        }
        const auto told = guess_analyte_head(head(c));
        if (told && map_.layout == TableLayout::Wide && !line_taken(*told)) {
            column.role = ColumnRole::Analyte;
            column.analyte = told->analyte;
            column.wavelength = told->wavelength;
            const auto strict = analyte_head(head(c));
            const bool unread = !strict || strict->unit != told->unit;
            if (const auto unit = reading_unit(told->unit); unread && unit) {
                column.unit = *unit;  // a reader of maps does not find it in this head
            }
            if (map_.unit_row == 0 && told->unit.empty()) {
                column.unit = ReadingUnit{"mg/L", "", unit::Dimension::MassPerVolume};
                remarks_.insert("Some columns state no unit: \"mg/L\" is a guess.");
            }
        } else if (const auto role = known_column_role(head(c));
                   role && !role_taken(*role) && fits(*role)) {
            column.role = *role;
            if (*role == ColumnRole::Dilution) {
                map_.dilution_applied = false;
                remarks_.insert(
                    "dilution_applied = false is a guess: say whether the readings are those "
                    "of the undiluted sample.");
            }
        }
        map_.columns.push_back(std::move(column));
    }

    [[nodiscard]] bool line_taken(const AnalyteHead& told) const {
        return std::any_of(map_.columns.begin(), map_.columns.end(), [&](const MapColumn& c) {
            return c.role == ColumnRole::Analyte && c.analyte == told.analyte &&
                   c.wavelength == told.wavelength;
        });
    }
    [[nodiscard]] bool fits(ColumnRole role) const {
        const bool of_long = role == ColumnRole::AnalyteName || role == ColumnRole::Value ||
                             role == ColumnRole::Unit || role == ColumnRole::Wavelength;
        return !of_long || map_.layout == TableLayout::Long;
    }

    /// Without a head that says so, the first column that is not understood holds the samples.
    void choose_sample_column() {
        if (!role_taken(ColumnRole::Sample)) {
            auto found =
                std::find_if(map_.columns.begin(), map_.columns.end(),
                             [](const MapColumn& c) { return c.role == ColumnRole::Ignored; });
            found = found == map_.columns.end() ? map_.columns.begin() : found;
            const std::string name = found->name();
            *found =
                MapColumn{found->head, found->index, ColumnRole::Sample, "", "", {}, {}, "", {}};
            remarks_.insert(fmt::format("That {} holds the samples is a guess.", name));
        }
        if (map_.layout == TableLayout::Long && !role_taken(ColumnRole::Unit)) {
            for (MapColumn& column : map_.columns) {
                if (column.role == ColumnRole::Value) {
                    column.unit = ReadingUnit{"mg/L", "", unit::Dimension::MassPerVolume};
                    remarks_.insert("The readings state no unit: \"mg/L\" is a guess.");
                }
            }
        }
    }

    /// What the words of a long table stand for, where they are no symbols.
    void name_analytes() {
        for (std::size_t c = 0; c < table_->columns(); ++c) {
            if (map_.columns[c].role != ColumnRole::AnalyteName) {
                continue;
            }
            for (std::size_t r = map_.first_row - 1; r < table_->rows(); ++r) {
                const std::string word = single_blanks(table_->at(r, c).text);
                if (word.empty() || map_.analyte(word) || analyte_head(word)) {
                    continue;
                }
                if (auto symbol = guess_analyte(word)) {
                    map_.names.emplace_back(word, std::move(*symbol));
                }
            }
        }
    }

    void find_decimal_sign() {
        DecimalMarks marks;
        for (std::size_t c = 0; c < table_->columns(); ++c) {
            const ColumnRole role = map_.columns[c].role;
            if (role != ColumnRole::Analyte && role != ColumnRole::Value) {
                continue;
            }
            marks.add(decimal_marks(*table_, c, map_.first_row));
        }
        if (marks.points > 0 && marks.commas > 0) {
            remarks_.insert(
                "Points and commas stand in the numbers: declare decimal_sign and group_mark.");
        } else if (const auto sign = marks.sign()) {
            map_.numbers.decimal_sign = *sign;
        }
    }

    void find_date_form() {
        for (std::size_t c = 0; c < table_->columns(); ++c) {
            if (map_.columns[c].role != ColumnRole::Date ||
                date_form_reads(*table_, c, map_.first_row, map_.date_form)) {
                continue;
            }
            if (const auto form = guess_date_form(*table_, c, map_.first_row)) {
                map_.date_form = *form;
            } else {
                remarks_.insert("The days can be read in several ways or in none: say date_form.");
            }
        }
    }

    const CellTable* table_;
    const SourceTable* source_;
    ColumnMap map_;
    std::vector<std::string> heads_;
    Remarks remarks_;
};

}  // namespace

std::optional<ColumnRole> known_column_role(std::string_view head) {
    const std::string lower = base::lower_ascii(single_blanks(head));
    for (const KnownHead& known : kKnownHeads) {
        if (known.word == lower) {
            return known.role;
        }
    }
    return std::nullopt;
}

Result<std::string> suggest_map(const SourceTable& table) { return Suggesting(table).toml(); }

}  // namespace bw::io
