// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "assay/alkalinity_budget.hpp"
#include "io/document.hpp"
#include "io/titration_file.hpp"

namespace bw::service {

struct CurveRequest {
    io::TitrationFile file;
    /// The recipe that the sample was made by, for its sulfate and fluoride where the file states
    /// none; with its materials.
    std::optional<io::Document> recipe;
    std::vector<io::Document> materials;
};

/// An alkalinity and how well the curve gives it.
struct CurveAlkalinity {
    assay::AlkalinityTitration titration;
    assay::AlkalinityFit fit;
    assay::AlkalinityBudget budget;
    double kg_per_m3 = 0;     ///< of seawater of the sample's salinity, for units per litre
    std::string totals_from;  ///< where sulfate and fluoride come from, in words
    std::vector<std::size_t> far_points;  ///< of the residuals beyond three times their rms
};

/// End points, and what the last of them says of the sample.
struct CurveEndPoints {
    assay::EndPoints found;
    std::optional<assay::TitratedAmount> amount;
    std::size_t counted = 0;  ///< the end point that the amount is of
};

struct CurveReport {
    io::TitrationFile file;
    std::optional<CurveAlkalinity> alkalinity;
    std::optional<CurveEndPoints> end_points;
    std::vector<std::string> failed;  ///< why the curve does not pass; none: it passes
    base::Notices notices;
};

inline constexpr double kGranApart_umol_per_kg = 6;  ///< beyond, fit and line contradict
inline constexpr double kFarResidual = 3;            ///< times rms
/// Largest rms of an end point's residuals, of the step.
inline constexpr double kLargestStepRms = 0.05;

/// Reads a titration curve: alkalinity by least squares beside Gran's lines, or end points.
///
/// Definition   fails: residuals of an alkalinity above the file's most_rms; of an end point above
///              5 % of the step. Warned: Gran's modified line more than 6 umol/kg off the fit, a
///              residual beyond three times their rms, a blank of more than a tenth.
/// Errors       those of the readers and of the assay room; a curve that cannot be read at all is
///              one.
[[nodiscard]] Result<CurveReport> read_curve(const CurveRequest& request);

}  // namespace bw::service
