// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/layering.hpp"

#include <gtest/gtest.h>

#include "figure.hpp"

namespace {

using namespace bw;
using blend::GrainSizes;
using blend::LayerPart;

LayerPart part(const char* name, double share, double d50_m, double spread,
               std::vector<double> content, double density = 2000) {
    LayerPart out;
    out.grains = {name, share, {1e-4, 1e-4, 1e-4}, std::move(content)};
    out.sizes = GrainSizes::of({d50_m / spread, d50_m, d50_m * spread}).value();
    out.density_kg_per_m3 = density;
    return out;
}

TEST(Layering, GrainsOfOneSizeStayMixed) {
    const std::vector<LayerPart> parts{part("a", 0.4, 5e-4, 1.0001, {1}),
                                       part("b", 0.6, 5e-4, 1.0001, {0})};
    const auto layers = blend::layering_of(parts);
    ASSERT_TRUE(layers) << layers.error().text();
    EXPECT_NEAR(layers->bed_median_m, 5e-4, 1e-6);
    EXPECT_NEAR(layers->shaken[0].widest(), 0, 1e-12);
    EXPECT_EQ(layers->lines[0].risk, blend::SortingRisk::Even);
}

// A third of coarse grains, of the same density, fills the top third and nothing else.
TEST(Layering, CoarseLiesAboveFine) {
    const std::vector<LayerPart> parts{part("coarse", 1.0 / 3, 3e-3, 1.01, {3}),
                                       part("fine", 2.0 / 3, 3e-4, 1.01, {0})};
    const auto layers = blend::layering_of(parts);
    ASSERT_TRUE(layers) << layers.error().text();
    for (const auto& bound : {layers->shaken[0], layers->sorted[0]}) {
        EXPECT_NEAR(bound.top, 2, 1e-9);
        EXPECT_NEAR(bound.middle, -1, 1e-9);
        EXPECT_NEAR(bound.bottom, -1, 1e-9);
    }
    EXPECT_NEAR(layers->part_shaken[0].top, 2, 1e-9);
    EXPECT_EQ(layers->lines[0].risk, blend::SortingRisk::Shaken);
    EXPECT_NEAR(layers->lines[0].rises, 1, 1e-9);
    EXPECT_EQ(layers->lines[1].risk, blend::SortingRisk::Even);
    const auto& shaken = layers->part_shaken[0];
    test::record({"Blends",
                  "after transport coarse lies above fine: a third of 3 mm grains in two thirds of "
                  "0.3 mm ones, shaken",
                  "all of the coarse salt in the top third",
                  fmt::format("coarse salt against the blend {:+.0f} % in the top third, {:+.0f} % "
                              "in the middle, {:+.0f} % at the bottom",
                              100 * shaken.top, 100 * shaken.middle, 100 * shaken.bottom),
                  shaken.top > 2 - 1e-9 && shaken.bottom < -1 + 1e-9});
}

TEST(Layering, ThirdsHoldWhatTheBlendHolds) {
    const std::vector<LayerPart> parts{part("coarse", 0.1, 2e-3, 2, {5, 1}, 1600),
                                       part("salt", 0.8, 4e-4, 1.7, {1, 2}, 2160),
                                       part("dust", 0.1, 4e-5, 2.5, {2, 9}, 2500)};
    const auto layers = blend::layering_of(parts);
    ASSERT_TRUE(layers) << layers.error().text();
    for (const auto* bounds : {&layers->part_shaken, &layers->part_sorted}) {
        // Shares of the thirds' masses weigh the deviations of every part to nothing.
        for (const blend::Thirds& t : *bounds) {
            EXPECT_LT(std::min({t.top, t.middle, t.bottom}), 0);
            EXPECT_GT(std::max({t.top, t.middle, t.bottom}), 0);
        }
    }
    EXPECT_GT(layers->part_shaken[0].top, 0);
    EXPECT_GT(layers->part_shaken[2].bottom, 0);
    EXPECT_GE(layers->sorted[0].widest(), layers->shaken[0].widest());
    EXPECT_EQ(layers->lines[2].risk, blend::SortingRisk::Sifting);
    EXPECT_GT(layers->lines[2].clings, 0.8);
}

TEST(Layering, APartWithoutSizesStaysWhereItIs) {
    std::vector<LayerPart> parts{part("coarse", 0.2, 3e-3, 1.01, {1, 0}),
                                 part("fine", 0.5, 3e-4, 1.01, {0, 0}),
                                 part("unknown", 0.3, 1e-3, 1.01, {0, 1})};
    parts[2].sizes.reset();
    const auto layers = blend::layering_of(parts);
    ASSERT_TRUE(layers) << layers.error().text();
    EXPECT_NEAR(layers->shaken[1].widest(), 0, 1e-12);
    EXPECT_GT(layers->shaken[0].top, 1);
    EXPECT_EQ(layers->lines.size(), 2U);
    parts[0].density_kg_per_m3 = 0;
    EXPECT_FALSE(blend::layering_of(parts));
}

}  // namespace
