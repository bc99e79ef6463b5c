// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/shown_amount.hpp"

#include "matter/concentration.hpp"

namespace bw::service {
namespace {

/// Number in a unit per mol/kg, or 0 where the unit cannot state the constituent.
double per_mol(std::string_view unit, matter::Constituent c) {
    const auto phrase = unit::parse_unit_phrase(unit);
    if (!phrase) {
        return 0;
    }
    const auto factor = matter::mol_per_kg_per_unit(*phrase, c, matter::WaterBasis{});
    return factor && *factor != 0 ? 1 / *factor : 0;
}

}  // namespace

ShownUnit shown_unit(std::string_view symbol, double mol_per_kg) {
    constexpr double kSmall_mg_per_kg = 0.1;  // below, zeros would stand for most of the digits
    const auto c = matter::find_constituent(symbol);
    if (!c) {
        return {"mol/kg", 1};
    }
    if (c->is_alkalinity()) {
        return {"meq/kg", per_mol("meq/kg", *c)};
    }
    const double mg = per_mol("mg/kg", *c);
    if (mg == 0) {
        return {"mmol/kg", per_mol("mmol/kg", *c)};
    }
    return mol_per_kg * mg < kSmall_mg_per_kg ? ShownUnit{"ug/kg", per_mol("ug/kg", *c)}
                                              : ShownUnit{"mg/kg", mg};
}

}  // namespace bw::service
