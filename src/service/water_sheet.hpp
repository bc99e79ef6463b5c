// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "matter/constituent.hpp"
#include "unit/quantity.hpp"

namespace bw::service {

/// A physical property, with one standard deviation where it is known.
struct Property {
    double value = 0;
    std::optional<double> standard_uncertainty;
};

/// What instruments would read of a water; nothing where no model gives it.
struct WaterSheet {
    std::optional<double> practical_salinity;
    std::optional<Property> density_kg_per_m3;
    std::optional<Property> specific_gravity_20_20, specific_gravity_25_25;
    std::optional<Property> conductivity_mS_per_cm;  ///< at the water's temperature
    std::optional<Property> conductivity_25C_mS_per_cm;
    std::optional<Property> refractive_index;
    base::Notices notices;
};

/// Properties from composition and temperature; a property without a model is left out with a
/// notice.
///
/// Inputs   mol (eq) per kg of solution, alkalinity and carbon as solved.
/// Errors   OutOfRange.
[[nodiscard]] Result<WaterSheet> water_sheet(const matter::Amounts& mol_per_kg,
                                             unit::Celsius temperature);

}  // namespace bw::service
