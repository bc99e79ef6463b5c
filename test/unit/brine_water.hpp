// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "brine/reference_totals.hpp"
#include "brine/water.hpp"

namespace bw::test {

/// Seawater of salinity 35 with `raised` times its alkalinity and carbon and some more calcium in
/// the place of sodium, `times` as strong per kg of water.
inline brine::WaterInput raised_seawater(double times, double raised = 1,
                                         unit::Celsius temperature = unit::Celsius(25)) {
    constexpr double kGramPerKg = 35.16504;
    constexpr double kCalcium = 3e-3;
    const brine::ReferenceTotals natural = brine::reference_totals(35);
    const double share = times / (1 + (times - 1) * kGramPerKg / 1000);
    brine::WaterInput out;
    out.temperature = temperature;
    out.mol_per_kg = matter::reference_seawater(kGramPerKg);
    out.mol_per_kg[matter::constituent("Ca")] += kCalcium * (raised - 1);
    out.mol_per_kg[matter::constituent("Na")] -= 2 * kCalcium * (raised - 1);
    out.mol_per_kg.scale(share);
    out.closing = {{{brine::Closure::Alkalinity, raised * natural.alkalinity_eq_per_kg * share},
                    {brine::Closure::Carbon, raised * natural.carbon_mol_per_kg * share}}};
    return out;
}

}  // namespace bw::test
