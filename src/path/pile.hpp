// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <vector>

#include "path/vat_water.hpp"

namespace bw::path {

/// The brine between the grains of a settled pile while water comes onto it.
struct PilePoint {
    double kg_water_per_kg_salt = 0;
    /// Nothing where the brine is stronger than the model holds.
    std::optional<VatState> brine;
};

/// Brines on the way from a settled pile to finished water, all salt in solution and CO2 kept.
///
/// Definition   the whole blend in W kg of water per kg of salt; a salt that would be saturated
///              before (halite below W = 2.8 or so) is counted as dissolved, so that the brine of a
///              real pile is somewhat weaker in it.
/// Inputs       what the whole blend brings per kg of purified water, kg of blend per kg of it;
///              temperature; values of W, falling or rising.
/// Valid        ionic strength up to 8 mol/kg-water, W of about 4 for sea salts.
/// Complexity   two equilibria a point.
[[nodiscard]] std::vector<PilePoint> pile_path(VatWater& water, const Dissolved& blend,
                                               double blend_kg_per_kg_water, double celsius,
                                               std::span<const double> kg_water_per_kg_salt);

}  // namespace bw::path
