// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "blend/humidity.hpp"

namespace bw::blend {

/// Water that a salt of the blend gives or can take, at the blend's own lowest humidity.
struct WaterLine {
    std::string formula;
    double from_waters = 0, to_waters = 0;  ///< mol per mol of salt
    double g_per_kg = 0;                    ///< of blend
    bool slow = false;                      ///< weeks, or only on seed
    Humidity step;
};

/// Water in against water that anhydrous salts can bind [g per kg of blend].
struct BlendWater {
    double loose = 0, released = 0, released_slowly = 0, ingress = 0, capacity = 0;
    std::vector<WaterLine> givers, takers;
    /// What is left for brine: within weeks, and in the end.
    [[nodiscard]] double left() const { return loose + released + ingress - capacity; }
    [[nodiscard]] double left_in_the_end() const { return left() + released_slowly; }
};

/// One salt that wets another through the air of a closed bag.
struct Wetting {
    std::string giver, taker;  ///< the taker is a salt or a pair
    Humidity gives_below, wet_above;
};

/// The budget of water.
///
/// Definition   a hydrate gives the water of every step that lies wholly above the blend's lowest
///              humidity; a salt takes that of every counted step wholly below it.
/// Inputs       ingress in g per kg of blend.
/// Accuracy     of the steps, which differ between sources; a step whose range holds the lowest
///              humidity is neither given nor taken.
/// Errors       none.
[[nodiscard]] BlendWater blend_water(const BagSalts& salts, const BlendHumidities& humidities,
                                     double ingress_g_per_kg, double celsius);

/// Hydrates that give water at a humidity at which another salt or pair of the blend is wet.
[[nodiscard]] std::vector<Wetting> wettings(const BagSalts& salts,
                                            const BlendHumidities& humidities, double celsius);

}  // namespace bw::blend
