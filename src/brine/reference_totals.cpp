// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/reference_totals.hpp"

#include "brine/water_totals.hpp"
#include "matter/constituent.hpp"
#include "ref/tables.hpp"

namespace bw::brine {

ReferenceTotals reference_totals(double practical_salinity) {
    constexpr double kNormal = 35;
    const double reference = ref::reference_salinity_g_per_kg() * practical_salinity / kNormal;
    const matter::Amounts water = matter::reference_seawater(reference);
    return {totals_of(water), water[matter::constituent("alkalinity")],
            water[matter::constituent("carbon")], reference / 1000};
}

}  // namespace bw::brine
