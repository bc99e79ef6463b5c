// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "recipe/solve.hpp"

namespace bw::recipe {

/// What a mass balance accepts but a vat may not, and other things the reader must know of a solved
/// recipe.
[[nodiscard]] base::Notices cautions_on_water(const Target& target, const MadeUpWater& water);

/// Hazard statements of one material.
struct MaterialHazards {
    int supply = 0;
    std::vector<std::string> statements;  ///< "H319 Causes serious eye irritation."
    std::vector<std::string> cautions;    ///< the file's own
};
[[nodiscard]] std::vector<MaterialHazards> hazards(const std::vector<Supply>& supplies,
                                                   const Solution& solution);

/// Order in which to put the parts together, as groups that must be kept apart while damp can reach
/// them.
struct BlendStep {
    std::string what;  ///< what to do with them
    std::vector<int> supplies;
};
/// Source   common practice; science of the reasons: hygroscopic chlorides react with carbonates,
/// sulfates and fluorides
///          as soon as they are damp.
[[nodiscard]] std::vector<BlendStep> blend_order(const std::vector<Supply>& supplies,
                                                 const Solution& solution);

/// Sentences for the foot of a recipe: dissolving, safety, whom to ask.
[[nodiscard]] std::vector<std::string> standing_cautions(const std::vector<Supply>& supplies,
                                                         const Solution& solution);

}  // namespace bw::recipe
