// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "base/result.hpp"
#include "brine/seawater_constants.hpp"

namespace bw::assay {

/// A titration in a closed cell: carbon stays in, and every total is known.
struct ClosedCell {
    double sample_kg = 0;
    double acid_mol_per_kg = 0;
    double carbon_mol_per_kg = 0;
    brine::SeawaterTotals totals;  ///< of the sample, mol/kg
    /// All on the free scale here, unlike elsewhere: k1, k2, kb, kw, ks, kf, kp1, kp2, kp3.
    brine::SeawaterConstants constants;
};
struct ClosedCellPoint {
    double acid_kg = 0;
    double ph_free = 0;
};

/// The alkalinity that each point alone gives; equal numbers where constants, totals and points
/// belong together.
///
/// Definition   A = (m/m0) C + ((m0 + m)/m0) of the mixture's [HCO3] + 2 [CO3] + [B(OH)4] + [OH] +
///              [HPO4] + 2 [PO4] - [H3PO4] - [H] - [HSO4] - [HF], totals diluted by m0/(m0 + m).
/// Inputs       masses above 0 (acid 0 or more), totals not negative, constants above 0 of what is
///              there.
/// Accuracy     as the points: 0.001 umol/kg on simulated data of six decimals.
/// Errors       BadInput. Source [dickson-1981].
[[nodiscard]] Result<std::vector<double>> closed_cell_alkalinity(
    const ClosedCell& cell, std::span<const ClosedCellPoint> points);

}  // namespace bw::assay
