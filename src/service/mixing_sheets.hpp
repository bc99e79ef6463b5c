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
    std::string use_by;  ///< of the salt, ISO 8601 date
    std::vector<double> litres = {10, 25, 100, 1000};
    double keep_h = 24;  ///< how long the finished water is to keep
    std::string shown;   ///< of signing: the mark of the draft that was shown, 16 digits or more
};

/// A sheet before somebody has signed what it says on safety.
struct MixingDraft {
    report::MixingSheet sheet;  ///< without who decided on its safety
    std::string mark;           ///< SHA-256 of its data
};

/// The end user's sheet of a released batch, from its predicted water, its dose and a dissolving
/// run of its recipe.
///
/// Definition   amounts: litres times the water's density, split by the dose. Temperatures: the
///              longest row at which the run stays clear, else at which it is to be watched.
///              Readings: faultless instruments at 20 and 25 degC.
/// Errors       Refused: a batch that is not released, a release that no longer holds, a water that
///              clouds at every temperature; those of path_run and of the salt's law.
[[nodiscard]] Result<MixingDraft> draft_mixing_sheet(const store::Books& books,
                                                     const MixingOrder& order);

/// Signs a sheet and keeps its papers, A5 and A6, and its data: what is printed later are these
/// bytes.
///
/// Errors   those of the draft; Refused: a draft other than the one shown, a wrong password, no
///          duty. Answer: the sheet's identifier.
[[nodiscard]] Result<store::Receipt> sign_mixing_sheet(const Desk& desk, const MixingOrder& order,
                                                       const Signing& signing,
                                                       const Intent& intent);

/// The kept papers of the newest issue for a batch.
struct MixingPapers {
    works::MixingSheet is;
    std::string pdf, narrow_pdf, json;
};
/// Errors   NotFound where none was signed; Refused when the release that it was signed for no
///          longer stands.
[[nodiscard]] Result<MixingPapers> mixing_papers(const store::Books& books,
                                                 const std::string& batch);

/// The same data as JSON and as sheets of a workbook.
[[nodiscard]] std::string mixing_sheet_json(const report::MixingSheet& sheet);
/// Errors BadInput: a text that mixing_sheet_json has not written.
[[nodiscard]] Result<report::MixingSheet> mixing_sheet_of_json(const std::string& json);
[[nodiscard]] std::vector<io::Sheet> mixing_sheet_sheets(const report::MixingSheet& sheet);

}  // namespace bw::service
