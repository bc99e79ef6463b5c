// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "assay/alkalinity_budget.hpp"
#include "assay/end_point.hpp"
#include "assay/titrated_amount.hpp"
#include "base/notice.hpp"
#include "io/fields.hpp"
#include "io/number_columns.hpp"

namespace bw::io {

enum class TitrationMethod : std::uint8_t { Alkalinity, EndPoint };
enum class TitrationSignal : std::uint8_t { Millivolt, Ph, Absorbance };
/// What the volume at an end point says.
enum class TitratedKind : std::uint8_t { Amount, Calcium, Magnesium, Chloride };

/// A titration as its file states it, every quantity in one unit.
struct TitrationFile {
    std::string name, note, file;
    bool invented = false;
    TitrationMethod method = TitrationMethod::Alkalinity;
    TitrationSignal signal = TitrationSignal::Millivolt;
    bool by_mass = false;                   ///< points in g of titrant, not mL
    std::vector<assay::CurvePoint> points;  ///< g or mL; mV, pH or absorbance
    std::vector<int> lines;                 ///< of the points, for messages
    assay::Known sample_g;
    assay::Known titrant;  ///< mol/L or mol/kg, see titrant_per_kg
    bool titrant_per_kg = false;
    assay::Known factor{1, 0};
    std::optional<double> titrant_kg_per_L;
    std::optional<double> celsius;
    std::optional<double> salinity;  ///< practical
    std::optional<double> sulfate_mol_per_kg, fluoride_mol_per_kg;
    // alkalinity
    double low_ph = 3.0, high_ph = 3.5;
    double most_rms_umol_per_kg = 2;  ///< of the residuals; more and the fit has failed
    assay::AlkalinityDoubts doubts;
    // end point
    TitratedKind titrated = TitratedKind::Amount;
    assay::EndPointOptions options;
    assay::Known blank_mL, volume_u_mL;  ///< volume_u_mL.u: of the burette
    assay::Known strontium, strontium_share, calcium, bromide, iodide;  ///< mmol/kg
};

/// Reads a titration: TOML or JSON of kind "titration" with the table of points in it, or
/// comma-separated points with the same keys on lines that begin with #.
///
/// Definition   docs/reference/files.md.
/// Errors       BadInput, BadUnit, BadNumber, UnknownName, WrongKind, OutOfRange with the place.
[[nodiscard]] Result<TitrationFile> read_titration(const std::string& path);
[[nodiscard]] Result<TitrationFile> titration_of(const Document& document);
[[nodiscard]] Result<TitrationFile> titration_of(const NumberColumns& table);

}  // namespace bw::io
