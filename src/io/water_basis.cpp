// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/water_basis.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/dissolved_ions.hpp"
#include "brine/reference_density.hpp"
#include "brine/water_density.hpp"
#include "io/water_doubts.hpp"
#include "unit/factors.hpp"

namespace bw::io {
namespace {

using unit::Dimension;

constexpr double kMostDissolved = 999;  // g/kg, so that steps on the way stay finite
constexpr double kInside = 1 - 1e-12;   // of a limit, whatever the rounding
constexpr double kClose = 1e-13;        // relative, of density and dissolved mass

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
matter::Amounts with_carbon(matter::Amounts amounts) {
    const auto carbon = matter::constituent("carbon");
    if (!(amounts[carbon] > 0)) {
        amounts[carbon] = std::max(0.0, amounts[matter::constituent("alkalinity")]);
    }
    return amounts;
}

double dissolved_g_per_kg(const matter::Amounts& amounts) {
    return with_carbon(amounts).dissolved_mass_g();
}

/// Alkalinity that is not stated is what the charges leave, unless an ion is missing.
matter::Amounts completed(matter::Amounts amounts) {
    const auto alkalinity = matter::constituent("alkalinity");
    if (amounts[alkalinity] == 0 && check_charge(amounts, {})) {
        amounts[alkalinity] = amounts.alkalinity_by_charge();
    }
    return with_carbon(amounts);
}

/// Density on the way to the result: beyond the range that at its end, and the last one where there
/// is none.
unit::KgPerM3 near_density(const matter::Amounts& amounts, unit::Celsius temperature,
                           unit::KgPerM3 last) {
    matter::Amounts all = completed(amounts);
    const double g_per_kg = all.dissolved_mass_g();
    if (g_per_kg > brine::kMostDissolved_g_per_kg) {
        all.scale(kInside * brine::kMostDissolved_g_per_kg / g_per_kg);
    }
    const auto found = brine::density(all, temperature);
    return found ? unit::KgPerM3(found->value) : last;
}

bool close(double a, double b) { return std::abs(a - b) <= kClose * std::abs(b); }

Result<void> check_mass(const Fields& table, const std::vector<NamedAmount>& named,
                        const WaterOnBasis& water) {
    for (const NamedAmount& n : named) {
        const double grams = water.mol_per_kg[n.constituent] *
                             std::abs(matter::dissolved_molar_mass_g(n.constituent));
        if (!(grams < unit::kGramPerKg)) {
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

Result<WaterOnBasis> on_basis(const Fields& table, const std::vector<NamedAmount>& named,
                              const matter::Amounts& start, unit::Celsius temperature) {
    const bool litres = std::any_of(named.begin(), named.end(),
                                    [](const NamedAmount& n) { return by_litre(n.typed.unit); });
    BW_TRY(pure, brine::pure_water_density(temperature));
    WaterOnBasis out;
    out.basis = {pure, unit::GramPerKg(0)};
    bool settled = false;
    constexpr int kMostRounds = 200;
    for (int round = 0; round < kMostRounds && !settled; ++round) {
        BW_TRY(amounts, amounts_at(table, named, start, out.basis));
        out.mol_per_kg = amounts;
        const double before = out.basis.dissolved.value();
        const double now = std::clamp(dissolved_g_per_kg(amounts), 0.0, kMostDissolved);
        const unit::KgPerM3 density =
            litres ? near_density(amounts, temperature, out.basis.density) : out.basis.density;
        settled = close(now, before) && close(density.value(), out.basis.density.value());
        if (!settled) {
            // Half way: what is counted by the mass of water pulls back the more, the more there
            // is.
            out.basis = {density, unit::GramPerKg(before + (now - before) / 2)};
        }
    }
    BW_CHECK(check_mass(table, named, out));
    if (!settled) {
        return table.bad("",
                         "no mass of water fits the amounts, for they are more than it can hold: "
                         "check the unit of the table",
                         ProblemCode::OutOfRange);
    }
    if (litres) {
        const auto density = brine::density(completed(out.mol_per_kg), temperature);
        if (!density) {
            return table.bad(
                "",
                fmt::format("litres cannot be turned into kilograms, for {}: state the "
                            "amounts per kg",
                            density.error().message),
                density.error().code);
        }
        out.litre = *density;
    }
    return out;
}

}  // namespace bw::io
