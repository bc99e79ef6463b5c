// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "io/cell_table.hpp"
#include "io/column_map.hpp"

namespace bw::io {

inline constexpr std::size_t kMostReadings = 200'000;  // of one file: beyond years of runs
inline constexpr std::size_t kMostRefusalsListed = 200;

/// By what an amount is counted.
enum class ReadingBasis { PureNumber, ByMass, ByVolume, ByMassOfWater, Other };
[[nodiscard]] ReadingBasis basis_of(const ReadingUnit& unit);
[[nodiscard]] std::string_view name_of(ReadingBasis basis);

enum class SampleKind { Sample, Blank, Check };
[[nodiscard]] std::string_view name_of(SampleKind kind);

/// A number as the file has it.
struct TypedNumber {
    std::string digits;  ///< with a decimal point; no digit is added or dropped
    double value = 0;
    std::string unit;  ///< of masses and volumes
};

/// One reading as the instrument gave it; nothing is multiplied or taken off.
struct Reading {
    std::string sample;
    SampleKind kind = SampleKind::Sample;
    std::string analyte;          ///< symbol
    std::string wavelength;       ///< digits of nm, or empty; "317.933 and 393.366" of a mean
    std::string typed;            ///< the cell as the file has it
    std::string digits;           ///< with a decimal point; empty when there is no number
    std::optional<double> value;  ///< nothing when below the limit or over the range
    bool below_limit = false;
    bool over_range = false;
    std::optional<TypedNumber> limit;  ///< that it is below or above, where the file or map says it
    ReadingUnit unit;
    std::optional<TypedNumber> dilution;
    bool dilution_applied = false;  ///< whether the value is multiplied by it already
    std::optional<TypedNumber> sample_mass, final_mass, final_volume;
    std::optional<double> blank;       ///< to be taken off the value, where the map says so
    std::vector<std::string> mean_of;  ///< digits behind a mean, which has one place more
    std::string measured_at;           ///< ISO 8601 as the file says it, without zone; or empty
    std::string operator_name;
    int repeat = 1;       ///< counts readings of one sample, analyte and wavelength
    std::string cell;     ///< "C12"
    std::size_t row = 0;  ///< as spreadsheets count
};

/// A cell that cannot be taken.
struct Refusal {
    std::string cell;    ///< "C12", or the column's letters when it is the whole column
    std::string column;  ///< its head
    std::string text;    ///< what the cell holds
    std::string why;
    std::string mend;

    /// "C12 (Ca 317.933): '12,5' ...: ...".
    [[nodiscard]] std::string sentence() const;
};

/// What a table says, all of it or nothing.
struct ResultImport {
    Encoding encoding = Encoding::Utf8;
    Separator separator = Separator::None;
    TableLayout layout = TableLayout::Wide;
    DecimalSign decimal_sign = DecimalSign::NotDeclared;  ///< declared, or that all numbers have
    std::vector<Reading> readings;                        ///< of samples
    std::vector<Reading> blanks, checks;
    std::vector<Refusal> refused;  ///< the first kMostRefusalsListed
    std::size_t refused_count = 0;
    base::Notices notices;
    std::size_t not_tested = 0;  ///< empty cells of readings

    /// Nothing is to be kept of an import that is not committable.
    [[nodiscard]] bool committable() const { return refused_count == 0 && !readings.empty(); }
};

struct ImportRules {
    /// Samples that a reading may be of; any, when empty. Another batch's file is refused by it.
    std::vector<std::string> awaited_samples;
};

/// Reads a table through its map.
///
/// Definition   A cell is a reading, "not tested" (empty: never 0) or refused with its reason; all
///              refusals are found, the first kMostRefusalsListed listed. One decimal sign in the
///              file; a column that mixes both is refused whole. A sample, analyte and wavelength
///              stands once, unless the map keeps repeats.
/// Errors       none: what is wrong is in `refused`.
/// Complexity   linear in the cells, but for a sort of the readings.
[[nodiscard]] ResultImport import_results(const SourceTable& table, const ColumnMap& map,
                                          const ImportRules& rules = {});

}  // namespace bw::io
