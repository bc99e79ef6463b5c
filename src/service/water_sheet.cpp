// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/water_sheet.hpp"

#include <algorithm>

#include "brine/conductivity.hpp"
#include "brine/water_density.hpp"
#include "brine/water_properties.hpp"

namespace bw::service {
namespace {

constexpr unit::Celsius kTwenty{20};
constexpr unit::Celsius kTwentyFive{25};

/// Takes a property over; its notices once, its flag as a notice.
Property taken(const brine::Estimate& from, base::Notices& notices) {
    for (const base::Notice& notice : from.notices) {
        const bool known = std::any_of(notices.begin(), notices.end(),
                                       [&](const auto& n) { return n.code == notice.code; });
        if (!known) {
            notices.push_back(notice);
        }
    }
    return {from.value, from.standard_uncertainty};
}

Result<Property> specific_gravity(const matter::Amounts& mol_per_kg, unit::Celsius t,
                                  double density_uncertainty) {
    BW_TRY(value, brine::specific_gravity(mol_per_kg, t, t));
    constexpr double kWater = 1000;  // kg/m3, near enough for an uncertainty
    return Property{value, density_uncertainty / kWater};
}

}  // namespace

Result<WaterSheet> water_sheet(const matter::Amounts& mol_per_kg, unit::Celsius temperature) {
    WaterSheet out;
    const auto found = brine::water_properties(mol_per_kg, temperature);
    if (!found) {
        out.notices.push_back(
            {"no_properties",
             "Density, conductivity and refractive index are not given: " + found.error().message});
        return out;
    }
    out.density_kg_per_m3 = taken(found->density_kg_per_m3, out.notices);
    out.conductivity_mS_per_cm = taken(found->conductivity_mS_per_cm, out.notices);
    out.refractive_index = taken(found->refractive_index, out.notices);
    if (found->salinity_by_conductivity) {
        out.practical_salinity = found->salinity_by_conductivity->value();
    }
    BW_TRY(at_25, brine::conductivity_mS_per_cm(mol_per_kg, kTwentyFive));
    out.conductivity_25C_mS_per_cm = taken(at_25, out.notices);
    const double u = found->density_kg_per_m3.standard_uncertainty;
    BW_TRY(sg_20, specific_gravity(mol_per_kg, kTwenty, u));
    BW_TRY(sg_25, specific_gravity(mol_per_kg, kTwentyFive, u));
    out.specific_gravity_20_20 = sg_20;
    out.specific_gravity_25_25 = sg_25;
    return out;
}

}  // namespace bw::service
