// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "brine/water.hpp"
#include "recipe/target.hpp"

namespace bw::service {

/// How far a solid is from saturation in a made-up water, and what moves it.
struct SaturationSlope {
    double ln_omega = 0;         ///< minus infinity where an ion is absent
    matter::Amounts per_amount;  ///< d ln Omega / d amount [per mol/kg, alkalinity per eq/kg]
};

/// The saturations that limits speak of, for many waters of few temperatures.
///
/// Definition   equilibrium of the water's amounts, closed by alkalinity and the fugacity of the
///              air's CO2, or by alkalinity and carbon as they are; exact derivatives by
///              brine::water_derivatives. What the model does not know has no slope.
/// Valid        as brine::WaterModel.
/// Accuracy     of the model: the solid's factor, see brine::SaturationState.
/// Errors       those of the model.
/// Complexity   a model per temperature, 0.7 ms; a slope about 1 ms, a value 30 us.
class WaterSaturation {
public:
    [[nodiscard]] Result<SaturationSlope> slope(const recipe::SaturationLimit& limit,
                                                const matter::Amounts& mol_per_kg);

    /// The same from the state that `water show` prints: the carbon that the air leaves is worked
    /// out first, and the water is then closed by alkalinity and carbon.
    [[nodiscard]] Result<brine::SaturationState> value(const recipe::SaturationLimit& limit,
                                                       const matter::Amounts& mol_per_kg);

private:
    struct Place {
        brine::WaterModel model;
        brine::WaterInput input;
    };
    [[nodiscard]] Result<Place> place(const recipe::SaturationLimit& limit,
                                      const matter::Amounts& mol_per_kg);

    std::vector<brine::WaterModel> models_;
};

}  // namespace bw::service
