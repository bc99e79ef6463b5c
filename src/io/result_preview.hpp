// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/result_table.hpp"

namespace bw::io {

/// One column of readings, or one analyte line of a long table, as understood.
struct PreviewLine {
    std::string analyte, wavelength, unit;
    ReadingBasis basis = ReadingBasis::Other;
    std::size_t readings = 0;  ///< of samples, blanks and check samples
    std::size_t below_limit = 0;
    std::size_t over_range = 0;
    std::string lowest, highest;  ///< digits of the samples' values, or empty
};

/// A row of a wide table, or what a long one says of a sample.
struct PreviewRow {
    std::size_t row = 0;  ///< the first, as spreadsheets count
    std::string sample;
    SampleKind kind = SampleKind::Sample;
    std::vector<std::string> values;  ///< one for each line: "412.3", "< 0.5", "" for not tested
};

/// What an import would keep and refuse; data only, for screens and papers to set.
struct ResultPreview {
    std::string_view encoding, separator, decimal_sign;
    std::size_t samples = 0, readings = 0, blanks = 0, checks = 0, not_tested = 0;
    std::vector<PreviewLine> lines;
    std::vector<PreviewRow> first_rows;
    std::vector<Refusal> refused;
    std::size_t refused_count = 0;
    base::Notices notices;
    bool committable = false;
};

/// Inputs   the import and how many rows to show.
[[nodiscard]] ResultPreview preview_of(const ResultImport& import, std::size_t rows = 12);

}  // namespace bw::io
