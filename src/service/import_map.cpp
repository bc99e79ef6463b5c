// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/import_map.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/column_map.hpp"
#include "io/guessed_head.hpp"
#include "io/map_words.hpp"
#include "io/result_row.hpp"
#include "io/suggested_map.hpp"
#include "io/table_file.hpp"
#include "io/table_guesses.hpp"
#include "service/import_map_words.hpp"
#include "service/kept_maps.hpp"

namespace bw::service {
namespace {

constexpr std::size_t kRowsShown = 5;

/// The word's meaning; the words that there are where it has none.
template <class T, std::size_t N>
Result<T> meaning_of(const io::MapWords<T, N>& words, const std::string& word, const char* field) {
    std::vector<std::string> all;
    for (const auto& [known, meaning] : words) {
        if (known == word) {
            return meaning;
        }
        all.emplace_back(known);
    }
    return fail(
        ProblemCode::BadInput,
        fmt::format("{} is not known here: {}", base::quoted(word), base::join_words(all, "or")),
        {"", 0, field});
}

/// Where no head of an analyte is understood: what the other heads say, and the samples in the
/// first column that says nothing else; the rest is to be said by hand.
io::ColumnMap blank_map(const io::CellTable& cells) {
    io::ColumnMap out;
    out.name = "made by hand";
    out.unit_row = io::guess_unit_row(cells, out.head_row);
    out.first_row = std::max(out.head_row, out.unit_row) + 1;
    io::DecimalMarks marks;
    for (std::size_t c = 0; c < cells.columns(); ++c) {
        marks.add(io::decimal_marks(cells, c, out.first_row));
    }
    out.numbers.decimal_sign = marks.sign().value_or(out.numbers.decimal_sign);
    return out;
}

/// A map while it is made: it need not be whole.
class Making {
public:
    Making(const Desk& desk, const MapOrder& order) : desk_(desk), order_(order) {}

    Result<MapProposal> proposal() {
        BW_CHECK(begin());
        BW_CHECK(change());
        return told();
    }

private:
    Result<void> begin() {
        if (!order_.map.empty()) {
            BW_TRY(given, map_of_text(order_.map));
            map_ = std::move(given);
            out_.from = "the map given";
            return read({map_.encoding, map_.separator}, map_.sheet);
        }
        BW_CHECK(read({}, ""));
        BW_TRY(found, map_for_heads(*desk_.books, source_.cells));
        out_.remarks = std::move(found.remarks);
        if (found.map) {
            map_ = std::move(*found.map);
            out_.from = std::move(found.from);
            return read({map_.encoding, map_.separator}, map_.sheet);
        }
        const auto suggested = io::suggest_map(source_);
        if (!suggested) {
            map_ = blank_map(source_.cells);
            name_known_columns();
            out_.remarks.emplace_back(
                "No head names an analyte, as \"Ca (mg/L)\" does: say of each column what it is, "
                "and in which row the heads stand.");
            return {};
        }
        out_.from = "its heads";
        BW_TRY(map, map_of_text(*suggested));
        map_ = std::move(map);
        for (std::string_view rest = *suggested; rest.starts_with("# ");) {
            const std::size_t end = rest.find('\n');
            out_.remarks.emplace_back(rest.substr(2, end - 2));
            rest.remove_prefix(end + 1);
        }
        return {};
    }

    Result<void> read(const io::TableForm& form, const std::string& sheet) {
        BW_TRY(table, io::read_table(order_.bytes, order_.file_name, form, sheet));
        source_ = std::move(table);
        return {};
    }

    /// What heads other than those of analytes say.
    void name_known_columns() {
        bool samples = false;
        for (std::size_t c = 0; c < source_.cells.columns(); ++c) {
            const auto role = io::known_column_role(head(c));
            if (role != io::ColumnRole::Sample && role != io::ColumnRole::Date) {
                continue;
            }
            if (column_with(*role)) {
                continue;
            }
            map_.columns.push_back(named(c));
            map_.columns.back().role = *role;
            samples = samples || role == io::ColumnRole::Sample;
        }
        if (!samples && source_.cells.columns() > 0 &&
            !io::known_column_role(head(0)).has_value()) {
            map_.columns.push_back(named(0));
            map_.columns.back().role = io::ColumnRole::Sample;
            out_.remarks.push_back(fmt::format("That {} holds the samples is a guess.",
                                               column_in_words(map_, source_.cells, 0)));
        }
        propose_date_form();
    }

    [[nodiscard]] std::string head(std::size_t column) const {
        return head_of(map_, source_.cells, column);
    }
    /// How a column is named: by its head, or by its letters where no other way is unmistakable.
    [[nodiscard]] io::MapColumn named(std::size_t column) const {
        io::MapColumn out;
        out.head = head(column);
        std::size_t same = 0;
        for (std::size_t c = 0; c < source_.cells.columns(); ++c) {
            same += head(c) == out.head ? 1U : 0U;
        }
        if (out.head.empty() || same > 1) {
            out.head.clear();
            out.index = column;
        }
        return out;
    }
    [[nodiscard]] bool is_of(const io::MapColumn& of, std::size_t column) const {
        return service::is_of(map_, source_.cells, of, column);
    }

    Result<void> change() {
        if (!order_.name.empty()) {
            map_.name = order_.name;
        }
        if (order_.head_row > 0) {
            move_heads(static_cast<std::size_t>(order_.head_row));
        }
        if (order_.unit_row) {
            map_.unit_row = static_cast<std::size_t>(std::max<std::int64_t>(*order_.unit_row, 0));
            map_.first_row = std::max(map_.first_row, map_.unit_row + 1);
        }
        if (order_.first_row > 0) {
            map_.first_row = static_cast<std::size_t>(order_.first_row);
        }
        if (!order_.decimal_sign.empty()) {
            BW_TRY(sign, meaning_of(io::kDecimalWords, order_.decimal_sign, "decimal_sign"));
            map_.numbers.decimal_sign = sign;
        }
        if (!order_.dilution_applied.empty()) {
            map_.dilution_applied = order_.dilution_applied == "yes";
        }
        if (!order_.date_form.empty()) {
            map_.date_form = order_.date_form;
        }
        if (!order_.columns.empty()) {
            BW_CHECK(change_columns());
        }
        return change_check_samples();
    }

    Result<void> change_columns() {
        std::vector<io::MapColumn> before = std::move(map_.columns);
        map_.columns.clear();
        for (const ColumnChoice& choice : order_.columns) {
            BW_TRY(column, chosen(choice, before));
            map_.columns.push_back(std::move(column));
        }
        const bool tall = std::any_of(map_.columns.begin(), map_.columns.end(), [](const auto& c) {
            return c.role == io::ColumnRole::Value || c.role == io::ColumnRole::AnalyteName;
        });
        map_.layout = tall ? io::TableLayout::Long : io::TableLayout::Wide;
        if (tall) {
            map_.unit_row = 0;
        }
        if (order_.date_form.empty()) {
            propose_date_form();
        }
        return {};
    }

    [[nodiscard]] std::optional<std::size_t> column_with(io::ColumnRole role) const {
        for (std::size_t c = 0; c < source_.cells.columns(); ++c) {
            for (const io::MapColumn& of : map_.columns) {
                if (of.role == role && is_of(of, c)) {
                    return c;
                }
            }
        }
        return std::nullopt;
    }

    void propose_date_form() {
        const auto days = column_with(io::ColumnRole::Date);
        if (!days || io::date_form_reads(source_.cells, *days, map_.first_row, map_.date_form)) {
            return;
        }
        if (const auto form = io::guess_date_form(source_.cells, *days, map_.first_row)) {
            map_.date_form = *form;
        } else {
            out_.remarks.emplace_back(
                "The days can be read in several ways or in none: say how they are written.");
        }
    }

    /// Takes those that are said; else adds those of the method that the table names.
    Result<void> change_check_samples() {
        if (order_.check_samples) {
            map_.check_samples = *order_.check_samples;
            return {};
        }
        const auto samples = column_with(io::ColumnRole::Sample);
        if (order_.method.empty() || !samples) {
            return {};
        }
        BW_TRY(method, if_kept<works::Method>(*desk_.books, order_.method));
        for (std::size_t r = map_.first_row - 1; method && r < source_.cells.rows(); ++r) {
            const std::string name = io::single_blanks(source_.cells.at(r, *samples).text);
            const bool own =
                std::any_of(method->is.checks.begin(), method->is.checks.end(),
                            [&](const works::CheckSample& check) { return check.name == name; });
            if (own && !io::matches_any(name, map_.check_samples)) {
                map_.check_samples.push_back(name);
                out_.remarks.push_back(fmt::format("{} is a check sample of the method {}.",
                                                   base::quoted(name), order_.method));
            }
        }
        return {};
    }

    /// Takes another row for the heads: each column stays what it is and gets its new name.
    void move_heads(std::size_t row) {
        std::vector<std::pair<std::size_t, io::MapColumn>> placed;
        for (std::size_t c = 0; c < source_.cells.columns(); ++c) {
            for (const io::MapColumn& of : map_.columns) {
                if (is_of(of, c)) {
                    placed.emplace_back(c, of);
                }
            }
        }
        map_.head_row = row;
        map_.unit_row = map_.layout == io::TableLayout::Wide
                            ? io::guess_unit_row(source_.cells, row)
                            : std::size_t{0};
        map_.first_row = std::max({map_.first_row, row + 1, map_.unit_row + 1});
        map_.columns.clear();
        for (auto& [column, of] : placed) {
            const io::MapColumn name = named(column);
            of.head = name.head;
            of.index = name.index;
            map_.columns.push_back(std::move(of));
        }
    }

    Result<io::MapColumn> chosen(const ColumnChoice& choice,
                                 const std::vector<io::MapColumn>& before) {
        BW_TRY(index, io::column_of_letters(choice.column));
        if (index >= source_.cells.columns()) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the table has no column {}", base::quoted(choice.column)),
                        {"", 0, "columns"});
        }
        io::MapColumn out = named(index);
        for (const io::MapColumn& old : before) {
            if (is_of(old, index)) {  // what cannot be said column by column stays
                out.ppm = old.ppm;
                out.limit = old.limit;
            }
        }
        BW_TRY(role, meaning_of(io::kRoleWords, choice.role, "columns"));
        out.role = role;
        if (role == io::ColumnRole::Analyte) {
            out.analyte = io::guess_analyte(choice.analyte).value_or(choice.analyte);
            out.wavelength = choice.wavelength;
        }
        if (!choice.unit.empty() && role != io::ColumnRole::Ignored) {
            choose_unit(choice, index, out);
        }
        return out;
    }

    /// The unit that is typed; one that is none stays as it was typed, and is said.
    void choose_unit(const ColumnChoice& choice, std::size_t index, io::MapColumn& out) {
        auto unit = io::reading_unit(choice.unit, out.ppm);
        if (!unit &&
            (out.role == io::ColumnRole::SampleMass || out.role == io::ColumnRole::FinalMass ||
             out.role == io::ColumnRole::FinalVolume)) {
            if (const auto plain = unit::find_unit(choice.unit)) {
                unit = io::ReadingUnit{std::string(plain->symbol), "", plain->dimension};
            }
        }
        if (!unit) {
            bad_units_.push_back({index, choice.unit, unit.error().message});
            return;
        }
        // A table's ppm is what the unit beside it says.
        if (unit->dimension == unit::Dimension::MassPerMass) {
            out.ppm = io::PpmMeaning::ByMass;
        } else if (unit->dimension == unit::Dimension::MassPerVolume) {
            out.ppm = io::PpmMeaning::ByVolume;
        }
        out.unit = std::move(*unit);
    }

    /// What keeps the map from reading the table; empty: nothing.
    [[nodiscard]] std::string problem() const {
        if (!bad_units_.empty()) {
            const BadUnit& first = bad_units_.front();
            return fmt::format("{}: {}", column_in_words(map_, source_.cells, first.column),
                               first.why);
        }
        if (std::string lack = lacking_of(map_, source_.cells); !lack.empty()) {
            return lack;
        }
        const auto whole = map_of_text(out_.map);
        return whole ? std::string() : whole.error().message;
    }

    /// A unit of the table beside the one that the map says of the column.
    void remark_unit(const io::MapColumn& of, const std::string& stated, const std::string& where) {
        const auto unit = io::reading_unit(io::without_brackets(stated), of.ppm);
        if (unit && of.unit && !(*unit == *of.unit)) {
            out_.remarks.push_back(
                fmt::format("{} of {} says {}, and the map {}: find out which it is, and mend the "
                            "other.",
                            where, of.name(), unit->text(), of.unit->text()));
        }
    }

    /// What the rows between the heads and the first readings say of units.
    void remark_units() {
        const io::CellTable& cells = source_.cells;
        const bool wide = map_.layout == io::TableLayout::Wide;
        for (std::size_t r = map_.head_row; wide && r + 1 < map_.first_row && r < cells.rows();
             ++r) {
            if (r + 1 != map_.unit_row && io::guess_unit_row(cells, r) == r + 1) {
                out_.remarks.push_back(fmt::format(
                    "Row {} states units and is not read: say that the units stand in row {}.",
                    r + 1, r + 1));
            }
        }
        for (std::size_t c = 0; c < cells.columns(); ++c) {
            for (const io::MapColumn& of : map_.columns) {
                if (!is_of(of, c) || !of.unit) {
                    continue;
                }
                for (std::size_t r = map_.head_row; r + 1 < map_.first_row && r < cells.rows();
                     ++r) {
                    remark_unit(of, io::single_blanks(cells.at(r, c).text),
                                fmt::format("Row {}", r + 1));
                }
                const auto told = io::analyte_head(head(c));
                remark_unit(of, told ? told->unit : std::string(), "The head");
            }
        }
    }

    /// The rows of the table as it is, most kRowsShown of them.
    void show_rows() {
        const io::CellTable& cells = source_.cells;
        const auto row_of = [&](std::size_t r) {
            std::vector<std::string> row;
            for (std::size_t c = 0; c < cells.columns(); ++c) {
                row.push_back(base::one_line(cells.at(r, c).text));
            }
            return row;
        };
        for (std::size_t r = map_.head_row;
             r + 1 < map_.first_row && r < cells.rows() && out_.between.size() < kRowsShown; ++r) {
            out_.between.push_back({static_cast<std::int64_t>(r + 1), row_of(r)});
        }
        for (std::size_t r = map_.first_row - 1; r < cells.rows() && out_.rows.size() < kRowsShown;
             ++r) {
            out_.rows.push_back(row_of(r));
        }
    }

    Result<MapProposal> told() {
        remark_units();
        out_.map = io::column_map_toml(map_);
        out_.problem = problem();
        out_.name = map_.name;
        out_.decimal_sign = io::word_for(io::kDecimalWords, map_.numbers.decimal_sign);
        out_.dilution_applied = map_.dilution_applied;
        out_.head_row = static_cast<std::int64_t>(map_.head_row);
        out_.unit_row = static_cast<std::int64_t>(map_.unit_row);
        out_.first_row = static_cast<std::int64_t>(map_.first_row);
        out_.date_form = map_.date_form;
        out_.check_samples = map_.check_samples;
        out_.head = head_digest(source_.cells, map_.head_row);
        const io::CellTable& cells = source_.cells;
        for (std::size_t c = 0; c < cells.columns(); ++c) {
            MappedColumn column{io::column_letters(c),      head(c), "ignored", "", "", "",
                                stated_unit(map_, cells, c)};
            for (const io::MapColumn& of : map_.columns) {
                if (is_of(of, c)) {
                    column.role = io::name_of(of.role);
                    column.analyte = of.analyte;
                    column.wavelength = of.wavelength;
                    column.unit = of.unit ? of.unit->text() : "";
                }
            }
            for (const BadUnit& bad : bad_units_) {
                column.unit = bad.column == c ? bad.typed : column.unit;
            }
            out_.columns.push_back(std::move(column));
        }
        show_rows();
        return std::move(out_);
    }

    struct BadUnit {
        std::size_t column;
        std::string typed, why;
    };

    const Desk& desk_;
    const MapOrder& order_;
    std::vector<BadUnit> bad_units_;
    io::SourceTable source_;
    io::ColumnMap map_;
    MapProposal out_;
};

}  // namespace

Result<MapProposal> propose_map(const Desk& desk, const MapOrder& order) {
    return Making(desk, order).proposal();
}

}  // namespace bw::service
