// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "recipe/target.hpp"

namespace bw::recipe {

/// The largest standard uncertainty at which a normal value lies between two limits with a chance.
///
/// Definition   u with normal_inside(mean, u, low, high) = chance; 0 where the mean is at a limit
///              and below 0 beyond, as that limit alone goes on. As a function of the mean it is
///              concave, which is why the set of means and uncertainties that hold a chance is
///              convex and tangents cut nothing of it off.
/// Inputs       low < high, one of them may be infinite, in one unit; chance above 0.5 and below 1.
/// Accuracy     1e-12 relative.
struct WidestSpread {
    double u = 0;
    double slope = 0;  ///< du / d mean
};
[[nodiscard]] WidestSpread widest_spread(double mean, double low, double high, double chance);

/// A band that the doses hold with less than the chance asked, or would without its cut.
struct ChanceRow {
    std::string symbol;   ///< "Ca", "Mg/Ca", "salinity"
    double u = 0;         ///< standard uncertainty, first order, in units of the goal's reference
    double widest_u = 0;  ///< that its place in the band allows
    Cut cut;              ///< tangent at these doses
};

/// Every band, ratio and the salinity against the chance asked, at given doses.
///
/// Definition   first-order propagation (JCGM 100) with independent inputs, as SpreadModel: u^2 is
///              a sum of squares of doses, so u is convex in them and its tangent lies below. Each
///              row asks for u <= widest_spread(mean). A ratio is judged side by side: numerator
///              less bound times denominator, each side with half of what may be missed when it has
///              two.
/// Inputs       supplies and doses [kg per kg of finished water] of the same number; a target with
///              limits.chance_inside.
/// Accuracy     exact for normal inputs, but for the product of assay and loss; draws judge the
/// rest.
[[nodiscard]] std::vector<ChanceRow> chance_rows(const Target& target,
                                                 const std::vector<Supply>& supplies,
                                                 const std::vector<double>& dose_kg_per_kg);

/// Whether the spread is as small as asked: within a millionth, or what programs hold rows to.
[[nodiscard]] bool holds(const ChanceRow& row);

}  // namespace bw::recipe
