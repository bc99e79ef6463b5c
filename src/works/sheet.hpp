// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "recipe/blend_place.hpp"
#include "works/batch.hpp"
#include "works/scale.hpp"

namespace bw::works {

/// What is to be weighed of one lot.
struct Portion {
    std::string material;
    std::string lot;
    double share = 0;          ///< kg per kg of blend; all together 1
    bool draws_water = false;  ///< deliquesces in the air of a workroom: goes in last
    std::vector<std::string> cautions;
    recipe::Company company = recipe::Company::Any;  ///< in a premix
};

/// The lines of a batch sheet and the premixes.
struct Sheet {
    std::vector<Addition> additions;
    std::string premix_carrier;
    std::vector<PremixStage> premix, late_premix;
    std::vector<std::string> notices;
};

/// Materials below this share of the blend go in by a premix. Common practice.
inline constexpr double kPremixShare = 0.01;
/// A premix is grown to this share of the blend. Common practice.
inline constexpr double kPremixGrownShare = 0.05;

/// Works out the weighing order of a batch.
///
/// Definition   Portions below kPremixShare that may lie with carbonates first, the smallest first,
///              into the premix; then the carrier, the largest portion that may lie with all, in
///              stages that double the premix until it is kPremixGrownShare of the blend (geometric
///              dilution); then the rest into the blender, the largest first, but for what draws
///              water. Then small portions that may lie with neither, straight into the blender;
///              then those that may lie with chlorides only, in a late premix of their own with the
///              same carrier, those that draw water last; then the large portions that draw water.
///              Small portions without enough of a carrier go straight into the blender at their
///              place. Each target lies on the steps of its scale; what rounding leaves is told.
/// Inputs       size above 0; portions above 0, shares sum to 1 within 1e-6; day as scale_for.
/// Errors       BadInput; Refused without a scale.
/// Source       geometric dilution (pharmacy) and order by deliquescence: common practice.
[[nodiscard]] Result<Sheet> sheet_for(std::span<const Portion> portions, double size_kg,
                                      std::span<const Scale> scales, std::string_view day);

}  // namespace bw::works
