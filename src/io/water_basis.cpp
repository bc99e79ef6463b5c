// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/water_basis.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/seawater_density.hpp"
#include "io/salinity_field.hpp"

namespace bw::io {
namespace {

using unit::Dimension;

constexpr double kGramPerKg = 1000;
constexpr double kHighestOfDensity = 42;  // practical salinity, of seawater_density
constexpr double kSlopeOver = 10;         // practical salinity over which it is carried on
constexpr double kMostDissolved = 999;    // g/kg, so that steps on the way stay finite

bool by_litre(const unit::Unit& unit) {
    return unit.dimension == Dimension::MassPerVolume ||
           unit.dimension == Dimension::AmountPerVolume ||
           unit.dimension == Dimension::EquivalentPerVolume;
}

Result<matter::Amounts> amounts_at(const Fields& table, const std::vector<NamedAmount>& named,
                                   const matter::Amounts& start, const matter::WaterBasis& basis) {
    matter::Amounts out = start;
    for (const NamedAmount& n : named) {
        const auto amount = matter::mol_per_kg(n.typed, n.constituent, basis);
        if (!amount) {
            return table.placed(n.key, amount.error());
        }
        out[n.constituent] = *amount;
    }
    return out;
}

/// Carbon that is not stated weighs about what the alkalinity would bring as hydrogencarbonate.
double dissolved_g_per_kg(const matter::Amounts& amounts) {
    matter::Amounts all = amounts;
    const auto carbon = matter::constituent("carbon");
    if (!(all[carbon] > 0)) {
        all[carbon] = std::max(0.0, all[matter::constituent("alkalinity")]);
    }
    return all.dissolved_mass_g();
}

Result<void> check_mass(const Fields& table, const std::vector<NamedAmount>& named,
                        const WaterOnBasis& water) {
    for (const NamedAmount& n : named) {
        const double grams = water.mol_per_kg[n.constituent] *
                             std::abs(matter::dissolved_molar_mass_g(n.constituent));
        if (!(grams < kGramPerKg)) {
            return table.bad(n.key,
                             fmt::format("{} of {} is more than a kilogram per kilogram of water: "
                                         "check its unit",
                                         base::quoted(n.typed.text), n.constituent.symbol()),
                             ProblemCode::OutOfRange);
        }
    }
    const double all = dissolved_g_per_kg(water.mol_per_kg);
    if (!(all < kMostDissolved)) {
        return table.bad(
            "",
            fmt::format("the constituents add up to {} g per kg of water, more than it "
                        "can hold: check the unit of the table",
                        base::format_significant(all, 4)),
            ProblemCode::OutOfRange);
    }
    return {};
}

}  // namespace

Result<unit::KgPerM3> litre_density(unit::GramPerKg dissolved, unit::Celsius temperature) {
    const double practical = std::max(0.0, dissolved.value() / g_per_kg_per_practical());
    if (practical <= kHighestOfDensity) {
        return brine::seawater_density(unit::PracticalSalinity(practical), temperature);
    }
    BW_TRY(last, brine::seawater_density(unit::PracticalSalinity(kHighestOfDensity), temperature));
    BW_TRY(before, brine::seawater_density(unit::PracticalSalinity(kHighestOfDensity - kSlopeOver),
                                           temperature));
    return last + (practical - kHighestOfDensity) / kSlopeOver * (last - before);
}

Result<WaterOnBasis> on_basis(const Fields& table, const std::vector<NamedAmount>& named,
                              const matter::Amounts& start, unit::Celsius temperature) {
    WaterOnBasis out;
    out.by_litre = std::any_of(named.begin(), named.end(),
                               [](const NamedAmount& n) { return by_litre(n.typed.unit); });
    double dissolved = 0;
    constexpr int kMostRounds = 200;
    constexpr double kClose = 1e-13;  // relative, of the dissolved mass
    for (int round = 0; round < kMostRounds; ++round) {
        const auto density = litre_density(unit::GramPerKg(dissolved), temperature);
        if (!density) {
            return table.placed("", density.error());
        }
        out.basis = {*density, unit::GramPerKg(dissolved)};
        BW_TRY(amounts, amounts_at(table, named, start, out.basis));
        out.mol_per_kg = amounts;
        const double now = std::clamp(dissolved_g_per_kg(amounts), 0.0, kMostDissolved);
        if (std::abs(now - dissolved) <= kClose * now) {
            break;
        }
        // Half way: what is counted by the mass of water pulls back the more, the more there is.
        dissolved += (now - dissolved) / 2;
    }
    out.beyond_density =
        out.by_litre && out.basis.dissolved.value() > kHighestOfDensity * g_per_kg_per_practical();
    BW_CHECK(check_mass(table, named, out));
    return out;
}

}  // namespace bw::io
