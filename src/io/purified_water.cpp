// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/purified_water.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/seawater_density.hpp"
#include "recipe/model.hpp"
#include "unit/factors.hpp"

namespace bw::io {

Result<std::optional<StatedAmount>> stated_amount(const Fields& table, std::string_view key,
                                                  matter::Constituent c,
                                                  const matter::WaterBasis& basis) {
    BW_TRY(typed, table.quantity(key));
    if (!typed) {
        return std::nullopt;
    }
    if (typed->number < 0 && !c.is_alkalinity()) {
        return table.bad(key, fmt::format("{} is negative", base::quoted(typed->text)),
                         ProblemCode::OutOfRange);
    }
    const auto factor = matter::mol_per_kg_per_unit(*typed, c, basis);
    if (!factor) {
        return table.placed(key, factor.error());
    }
    const double amount = *factor * typed->number;
    const double kg_per_kg =
        amount * std::abs(matter::dissolved_molar_mass_g(c)) / unit::kGramPerKg;
    if (!(kg_per_kg < 1)) {
        return table.bad(key,
                         fmt::format("{} of {} is more than a kilogram per kilogram of water",
                                     base::quoted(typed->text), c.symbol()),
                         ProblemCode::OutOfRange);
    }
    // Some hundred million atoms per kilogram: below what any method finds, and so far below the
    // rest that the arithmetic of the search would end.
    constexpr double kLeast = 1e-15;
    if (amount != 0 && std::abs(amount) < kLeast) {
        return table.bad(
            key,
            fmt::format("{} of {} is beyond reason: amounts are 0, or from 1e-15 "
                        "mol/kg ({} {}) up",
                        base::quoted(typed->text), c.symbol(),
                        base::format_significant(kLeast / *factor, 2), recipe::unit_text(*typed)),
            ProblemCode::OutOfRange);
    }
    return StatedAmount{amount, *typed, *factor};
}

Result<matter::Amounts> read_purified_water(const Fields& root, double temperature_degC) {
    matter::Amounts out;
    BW_TRY(table, root.table("purified_water"));
    if (!table) {
        return out;
    }
    const auto density =
        brine::seawater_density(unit::PracticalSalinity(0), unit::Celsius(temperature_degC));
    if (!density) {
        return root.placed("temperature", density.error());
    }
    for (const auto& [key, value] : *table->self().table()) {
        if (key == "unit" || key == "note") {
            continue;
        }
        const auto c = matter::require_constituent(key);
        if (!c) {
            return table->placed(key, c.error());
        }
        BW_TRY(amount, stated_amount(*table, key, *c, {*density, unit::GramPerKg(0)}));
        out[*c] = amount->mol_per_kg;
    }
    return out;
}

std::string purified_water_toml(const matter::Amounts& mol_per_kg) {
    std::string out;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (mol_per_kg[c] != 0) {
            out += fmt::format("{} = {}\n", c.symbol(), base::format_exact(mol_per_kg[c]));
        }
    }
    return out.empty() ? out : "\n[purified_water]\nunit = \"mol/kg\"\n" + out;
}

}  // namespace bw::io
