// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/sheet.hpp"
#include "report/mixing_sheet.hpp"
#include "service/releases.hpp"

namespace bw::service {

/// What is asked of a mixing sheet.
struct MixingOrder {
    std::string batch;
    std::string use_by;             ///< of the salt, ISO 8601 date
    std::string safety_decided_by;  ///< "A. Person, 2026-01-04": who decided what it says on safety
    std::vector<double> litres = {10, 25, 100, 1000};
    double keep_h = 24;  ///< how long the finished water is to keep
};

/// The end user's sheet of a released batch, from its predicted water, its dose and a dissolving
/// run of its recipe.
///
/// Definition   amounts: litres times the water's density, split by the dose. Temperatures: the
///              longest row at which the run stays clear, else at which it is to be watched.
///              Readings: faultless instruments at 20 and 25 degC.
/// Errors       Refused: a batch that is not released, a release that no longer holds, a water that
///              clouds at every temperature; those of path_run and of the salt's law.
[[nodiscard]] Result<report::MixingSheet> mixing_sheet(const store::Books& books,
                                                       const MixingOrder& order);

/// The same data as JSON and as sheets of a workbook.
[[nodiscard]] std::string mixing_sheet_json(const report::MixingSheet& sheet);
[[nodiscard]] std::vector<io::Sheet> mixing_sheet_sheets(const report::MixingSheet& sheet);

}  // namespace bw::service
