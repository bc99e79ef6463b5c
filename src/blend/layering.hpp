// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "blend/scatter.hpp"

namespace bw::blend {

/// Ratio of sizes from which a large grain rises in a shaken bed of smaller ones. [jullien-1992]
inline constexpr double kShakenRatio = 2.8;
/// Ratio from which a small grain falls through a bed at rest: the gap among three spheres that
/// touch, 1/(2/sqrt 3 - 1). Geometry.
inline constexpr double kSiftingRatio = 6.464;
/// Ratio of medians from which handling sorts free-flowing grains. Common practice.
inline constexpr double kHandlingRatio = 1.3;
/// Grains below it cling to others, in dry salt as well, and sort less. Common practice.
inline constexpr double kClinging_m = 1e-4;

enum class SortingRisk {
    Even,     ///< median within kHandlingRatio of the bed's
    Handled,  ///< filling and pouring may sort it
    Shaken,   ///< a tenth of it or more goes up or down when shaken
    Sifting,  ///< a tenth of it or more falls through a bed at rest
};
[[nodiscard]] std::string_view name(SortingRisk risk);

/// A material of the blend with its sizes.
struct LayerPart {
    GrainPart grains;
    std::optional<GrainSizes> sizes;  ///< without: taken to stay where it is
    double density_kg_per_m3 = 0;
};

/// One material against the bed.
struct SortingLine {
    std::size_t part = 0;
    double median_ratio = 0;      ///< of its median to the bed's
    double rises = 0, falls = 0;  ///< shares of it that a shaken bed sorts
    double sifts = 0;             ///< share of it that falls through a bed at rest
    double clings = 0;            ///< share of it that is finer than kClinging_m
    SortingRisk risk = SortingRisk::Even;
};

/// Contents of a third of the container, relative to the blend's: 0.03 is 3 % more.
struct Thirds {
    double top = 0, middle = 0, bottom = 0;
    /// Largest of the three, without sign.
    [[nodiscard]] double widest() const;
};

/// What a container may look like after transport.
struct Layering {
    double bed_median_m = 0;
    std::vector<SortingLine> lines;  ///< of the parts with sizes
    std::vector<Thirds> shaken;      ///< by constituent: all that rises or falls has done so
    std::vector<Thirds> sorted;      ///< all grains lie by size: nothing can be worse
    std::vector<Thirds> part_shaken, part_sorted;  ///< the same, of each part's own mass
};

/// Layers of a container in which coarse lies above fine.
///
/// Definition   each part is cut into classes of equal mass. Shaken: classes above 2.8 times the
///              bed's median lie on top, those below 1/2.8 of it at the bottom, all others stay
///              mixed between. Sorted: all classes lie by size. Thirds are by volume. Between no
///              layering and these bounds anything is possible: how far it goes depends on the way,
///              which nobody states.
/// Inputs       parts as of scatter_of(); densities above 0 where there are sizes.
/// Accuracy     a bound, not a forecast. Tumbling the container brings it back to 0, but for the
///              scatter of grains.
/// Errors       BadInput, those of scatter_of().
/// Source       [jullien-1992]; geometry of spheres.
[[nodiscard]] Result<Layering> layering_of(std::span<const LayerPart> parts);

}  // namespace bw::blend
