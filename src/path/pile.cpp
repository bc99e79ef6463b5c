// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/pile.hpp"

namespace bw::path {

std::vector<PilePoint> pile_path(VatWater& water, const Dissolved& blend,
                                 double blend_kg_per_kg_water, double celsius,
                                 std::span<const double> kg_water_per_kg_salt) {
    std::vector<PilePoint> out;
    for (const double w : kg_water_per_kg_salt) {
        PilePoint point;
        point.kg_water_per_kg_salt = w;
        Dissolved brine;
        brine.add(blend, 1 / (w * blend_kg_per_kg_water));
        if (const VatState* state = water.at(brine, celsius)) {
            point.brine = *state;
        }
        out.push_back(std::move(point));
    }
    return out;
}

}  // namespace bw::path
