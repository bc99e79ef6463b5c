// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "blend/layering.hpp"
#include "io/document.hpp"
#include "matter/material.hpp"

namespace bw::service {

/// The grains of a recipe's blend, and what they hold.
struct BlendGrains {
    std::string recipe;
    bool invented = false;
    std::vector<matter::Constituent> constituents;  ///< that the blend is weighed for
    std::vector<blend::LayerPart> parts;            ///< content in mol (eq) per kg
    std::vector<matter::Material> materials;        ///< of the parts
    std::vector<matter::MakeUp> make_ups;           ///< of the parts
    base::Notices notices;                          ///< a material whose data are missing, each
    [[nodiscard]] std::vector<blend::GrainPart> grains() const;
};

/// A material below this share of the blend goes through a premix, or could be sprayed onto
/// another.
inline constexpr double kMinorShare = 0.01;

/// Reads a recipe with its materials as grains.
///
/// Definition   a material without grain sizes is reckoned with 0.5 mm and bounded by 0.05 and 3
/// mm,
///              one without density with 2.0 g/cm3, bounded by 1.5 and 2.7 g/cm3; a notice names
///              it.
/// Errors       those of recipe_supplies; OutOfRange for a recipe that weighs nothing.
[[nodiscard]] Result<BlendGrains> blend_grains(const io::Document& recipe,
                                               const std::vector<io::Document>& materials);

}  // namespace bw::service
