// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/water_sheet.hpp"

namespace bw::service {

Result<WaterSheet> water_sheet(const matter::Amounts& mol_per_kg, unit::Celsius temperature) {
    static_cast<void>(mol_per_kg);
    static_cast<void>(temperature);
    WaterSheet out;
    out.notices.push_back({"no_properties",
                           "Practical salinity, density, specific gravity, conductivity and "
                           "refractive index are not given: this version has no model of them for "
                           "waters of any composition."});
    return out;
}

}  // namespace bw::service
