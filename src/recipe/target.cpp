// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/target.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace bw::recipe {

using matter::Amounts;
using matter::Constituent;

std::string RatioGoal::name() const { return fmt::format("{}/{}", numerator.symbol(), denominator.symbol()); }

double RatioGoal::per_mole_ratio() const {
    return by_mass ? matter::counted_molar_mass_g(numerator) / matter::counted_molar_mass_g(denominator) : 1;
}

std::string Supply::label() const {
    return material.lot.empty() ? material.name : fmt::format("{}, lot {}", material.name, material.lot);
}

void add_unnamed_goals(Target& target, const std::vector<Supply>& supplies) {
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent c(i);
        const bool named = std::any_of(target.constituents.begin(), target.constituents.end(),
                                       [&](const ConstituentGoal& g) { return g.constituent == c; });
        const bool brought = std::any_of(supplies.begin(), supplies.end(),
                                         [&](const Supply& s) { return s.make_up.mol_per_kg[c] > 0; });
        // The majors carry the charge and carbon follows the air: both are free unless named.
        const bool may_rise = c.row().group == "major" || c.row().group == "sum" || c.row().group == "organic";
        if (named || !brought || may_rise) {
            continue;
        }
        constexpr double kNothing = 1e-6;  // mol/kg: the scale on which an excess over nothing is counted
        const auto natural = matter::natural_amount_at_35(c);
        ConstituentGoal goal;
        goal.constituent = c;
        goal.target = std::max(natural ? natural->mol_per_kg : 0.0, kNothing);
        goal.priority = kUnnamedPriority;
        goal.origin = Origin::Unnamed;
        goal.shown.unit = *unit::find_unit("ug/kg");
        goal.shown_per_mol_per_kg = matter::counted_molar_mass_g(c) * 1e6;  // g/kg to ug/kg
        target.constituents.push_back(goal);
    }
}

std::optional<double> charge_residual(const Target& target) {
    constexpr auto needed = std::to_array<std::string_view>({"Na", "Mg", "Ca", "K", "Cl", "SO4", "alkalinity"});
    double sum = 0;
    std::size_t found = 0;
    for (const ConstituentGoal& goal : target.constituents) {
        if (!goal.target || goal.origin == Origin::Unnamed) {
            continue;
        }
        sum += goal.constituent.charge() * *goal.target;
        found += static_cast<std::size_t>(
            std::count(needed.begin(), needed.end(), goal.constituent.symbol()));
    }
    if (found < needed.size()) {
        return std::nullopt;
    }
    return sum;
}

}  // namespace bw::recipe
