// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/pile.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "brine/reference_totals.hpp"

namespace bw::path {
namespace {

TEST(Pile, BrinesGrowStrongerTowardsTheGrains) {
    const auto sea = brine::reference_totals(35);
    const double water = 1 - sea.dissolved_kg_per_kg;
    Dissolved blend;
    blend.mol = sea.mol_per_kg;
    for (double& m : blend.mol) {
        m /= water;
    }
    blend.alkalinity_eq = sea.alkalinity_eq_per_kg / water;
    blend.carbon_mol = blend.alkalinity_eq;  // all of it bicarbonate
    const double kg_per_kg = sea.dissolved_kg_per_kg / water;
    VatWater vat;
    const double finished = 1 / kg_per_kg;
    const std::array<double, 6> ratios{finished, 14, 7, 5, 4.5, 2};
    const auto path = pile_path(vat, blend, kg_per_kg, 25, ratios);
    ASSERT_EQ(path.size(), ratios.size());

    // The finished water is the one that VatWater gives by itself.
    ASSERT_TRUE(path[0].brine);
    EXPECT_NEAR(path[0].brine->ph_total, vat.at(blend, 25)->ph_total, 1e-9);
    double last = -1e9;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
        ASSERT_TRUE(path[i].brine) << ratios[i];
        for (std::size_t m = 0; m < ref::minerals().size(); ++m) {
            if (ref::minerals()[m].key == "gypsum") {
                EXPECT_GT(path[i].brine->ln_omega[m], last) << ratios[i];
                last = path[i].brine->ln_omega[m];
            }
        }
        EXPECT_NEAR(path[i].brine->formal_strength * ratios[i],
                    path[0].brine->formal_strength * finished, 1e-9);
    }
    EXPECT_GT(last, 0) << "gypsum is supersaturated long before the pile";
    EXPECT_FALSE(path.back().brine) << "stronger than the model holds";
}

}  // namespace
}  // namespace bw::path
