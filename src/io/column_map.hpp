// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "io/analyte_head.hpp"
#include "io/cell_table.hpp"
#include "io/document.hpp"
#include "io/number_cell.hpp"

namespace bw::io {

/// Wide: a row per sample, a column per analyte. Long: a row per reading.
enum class TableLayout { Wide, Long };

enum class ColumnRole {
    Sample,
    Analyte,      ///< wide: readings of one analyte
    AnalyteName,  ///< long: which analyte the row reads
    Value,        ///< long: the reading
    Unit,         ///< long: its unit
    Wavelength,   ///< long: its wavelength in nm
    Dilution,     ///< how many times the sample was diluted
    SampleMass,
    FinalMass,
    FinalVolume,
    BlankFlag,  ///< says that the row is a blank
    Date,
    Time,
    Operator,
    Ignored,
};
[[nodiscard]] std::string_view name_of(ColumnRole role);

/// What becomes of several wavelengths of one element.
enum class LinePolicy { Both, First, Mean };
/// What becomes of blanks.
enum class BlankPolicy {
    Keep,               ///< they are listed; nothing is taken off
    AlreadySubtracted,  ///< the instrument took them off
    SubtractMean,       ///< the mean of the analyte's blanks is to be taken off each reading
};

struct MapColumn {
    std::string head;                  ///< as the head row has it; empty when named by letters
    std::optional<std::size_t> index;  ///< of the letters; nothing when named by its head
    ColumnRole role = ColumnRole::Ignored;
    std::string analyte;     ///< of Analyte
    std::string wavelength;  ///< of Analyte, digits of nm, or empty
    std::optional<ReadingUnit> unit;
    PpmMeaning ppm = PpmMeaning::NotSaid;
    std::string limit;  ///< digits of the reporting limit behind "n.d.", or empty
    Place place;

    /// "column 'Ca 317.933'" or "column C".
    [[nodiscard]] std::string name() const;
};

/// How the tables of one instrument or laboratory are to be read; docs/reference/import.md.
struct ColumnMap {
    std::string name;
    bool invented = false;
    TableLayout layout = TableLayout::Wide;
    std::size_t head_row = 1;  ///< as spreadsheets count; 0 for none
    std::size_t unit_row = 0;  ///< likewise
    std::size_t first_row = 2;
    std::optional<Separator> separator;
    std::optional<Encoding> encoding;
    std::string sheet;  ///< of a workbook; empty for its first
    NumberForm numbers;
    std::string date_form = "YYYY-MM-DD";
    std::string time_form = "hh:mm:ss";
    PpmMeaning ppm = PpmMeaning::NotSaid;
    LinePolicy lines = LinePolicy::Both;
    BlankPolicy blanks = BlankPolicy::Keep;
    std::vector<std::string> blank_samples;  ///< names; '*' at the end stands for any ending
    std::vector<std::string> check_samples;  ///< likewise
    std::vector<std::string> blank_flags;    ///< what a blank flag says of a blank
    std::vector<std::string> footer;         ///< beginnings of rows that are left out
    std::optional<bool> dilution_applied;    ///< whether the readings are those of the undiluted
    bool ignore_other_columns = false;
    bool skip_repeated_head = false;
    bool keep_repeats = false;                ///< of a sample's reading in one file
    bool allow_short_rows = false;            ///< cells missing at the end of a row are not tested
    std::vector<std::string> other_analytes;  ///< "pH", beside the known ones
    std::vector<std::pair<std::string, std::string>> names;  ///< "Calcium" is "Ca"
    std::vector<MapColumn> columns;

    /// The analyte that a word of the file stands for: through `names`, a known symbol, or one of
    /// `other_analytes`.
    [[nodiscard]] std::optional<std::string> analyte(std::string_view word) const;
    /// Whether the analyte may have a pure number: one of `other_analytes`.
    [[nodiscard]] bool is_other_analyte(std::string_view analyte) const;
};

/// Reads a file of kind "column-map".
///
/// Errors   BadInput, BadUnit, UnknownName, DuplicateName, OutOfRange, WrongKind, each with its
///          place: no sample column, no readings, two columns of one role, a group mark that is the
///          decimal sign, a dilution column without dilution_applied, ppm without its meaning.
[[nodiscard]] Result<ColumnMap> read_column_map(const Document& document);

/// TOML text that reads back to the same map.
[[nodiscard]] std::string column_map_toml(const ColumnMap& map);

}  // namespace bw::io
