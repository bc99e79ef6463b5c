// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What is left dissolved once chosen solids have fallen out.
#include <fmt/format.h>

#include "brine/solid_equilibrium.hpp"
#include "check/operations.hpp"

namespace bw::check {

/// A kilogram of water with neutral salts, given as molal totals.
Result<Findings> settling(const Case& c) {
    using namespace brine;
    BW_CHECK(c.given->allow({"celsius", "molal", "solids"}));
    BW_TRY(celsius, c.given->number("celsius"));
    BW_TRY(names, c.given->texts("solids"));
    BW_TRY(molal, c.given->table("molal"));
    if (!celsius || !molal) {
        return c.given->bad("", "celsius and molal are needed");
    }
    WaterInput water;
    water.temperature = unit::Celsius(*celsius);
    water.closing = {{{Closure::Alkalinity, 0}, {Closure::Carbon, 0}}};
    for (const auto& [name, value] : *molal->self().table()) {
        BW_TRY(constituent, matter::require_constituent(name));
        BW_TRY(amount, molal->number(name));
        water.mol_per_kg[constituent] = amount.value_or(0);
    }
    water.mol_per_kg.scale(1 / (1 + water.mol_per_kg.dissolved_mass_g() / 1000));
    BW_TRY(model, WaterModel::at(water.temperature));
    const std::vector<std::string_view> solids(names.begin(), names.end());
    BW_TRY(found, equilibrate(model, water, solids));
    Findings out;
    const double water_share = 1 - found.state.dissolved_g_per_kg / 1000;
    for (const auto& present : found.state.constituents) {
        out.numbers[fmt::format("molal.{}", present.constituent.symbol())] =
            present.total_mol_per_kg / water_share;
    }
    for (const Precipitate& p : found.precipitates) {
        out.numbers[fmt::format("mol_per_kg.{}", p.solid->key)] = p.mol_per_kg;
    }
    return out;
}

}  // namespace bw::check
