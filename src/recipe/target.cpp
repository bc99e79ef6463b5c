// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/target.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace bw::recipe {

using matter::Amounts;
using matter::Constituent;

std::string RatioGoal::name() const {
    return fmt::format("{}/{}", numerator.symbol(), denominator.symbol());
}

double RatioGoal::per_mole_ratio() const {
    return by_mass
               ? matter::counted_molar_mass_g(numerator) / matter::counted_molar_mass_g(denominator)
               : 1;
}

double RatioGoal::in(const Amounts& mol_per_kg) const {
    return per_mole_ratio() * mol_per_kg[numerator] / mol_per_kg[denominator];
}

std::string Supply::label() const {
    return material.lot.empty() ? material.name
                                : fmt::format("{}, lot {}", material.name, material.lot);
}

const Amounts& Supply::meant_mol_per_kg() const {
    return material.formula.empty() ? make_up.mol_per_kg : make_up.main_mol_per_kg;
}

double cut_slope(const Cut& cut, const Supply& supply, const matter::Amounts& purified_water) {
    double out = 0;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent c(i);
        if (cut.per_mol_per_kg[c] != 0) {
            out += cut.per_mol_per_kg[c] * (supply.make_up.mol_per_kg[c] - purified_water[c]);
        }
    }
    for (const auto& [label, slope] : cut.per_dose) {
        out += label == supply.label() ? slope : 0;
    }
    return out;
}

void add_unnamed_goals(Target& target, const std::vector<Supply>& supplies) {
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent c(i);
        const bool named =
            std::any_of(target.constituents.begin(), target.constituents.end(),
                        [&](const ConstituentGoal& g) { return g.constituent == c; });
        const bool brought = std::any_of(supplies.begin(), supplies.end(), [&](const Supply& s) {
            return s.meant_mol_per_kg()[c] > 0;
        });
        constexpr auto kFree = std::to_array<std::string_view>(
            {"Na", "K", "Mg", "Ca", "Cl", "SO4", "carbon", "alkalinity"});
        if (named || !brought || std::find(kFree.begin(), kFree.end(), c.symbol()) != kFree.end()) {
            continue;
        }
        const auto natural = matter::natural_amount_at_35(c);
        ConstituentGoal goal;
        goal.constituent = c;
        const double scale = target.salinity.target_g_per_kg / ref::reference_salinity_g_per_kg();
        goal.target = std::max(natural ? natural->mol_per_kg * scale : 0.0, kNothing);
        goal.priority = kUnnamedPriority;
        goal.origin = Origin::Unnamed;
        goal.shown.unit = *unit::find_unit("ug/kg");
        goal.shown_per_mol_per_kg = matter::counted_molar_mass_g(c) * 1e6;  // g/kg to ug/kg
        target.constituents.push_back(goal);
    }
}

bool is_left_out(const Target& target, const Supply& supply) {
    return !supply.material.formula.empty() &&
           std::any_of(target.constituents.begin(), target.constituents.end(),
                       [&](const ConstituentGoal& g) {
                           return g.origin == Origin::Unnamed &&
                                  supply.meant_mol_per_kg()[g.constituent] > 0;
                       });
}

double unclosed_charge(const Target& target, const std::vector<Supply>& supplies) {
    double least = 0;
    double most = 0;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent c(i);
        const auto goal =
            std::find_if(target.constituents.begin(), target.constituents.end(),
                         [&](const ConstituentGoal& g) { return g.constituent == c; });
        const bool banded = goal != target.constituents.end() && goal->low && goal->high;
        if (banded) {
            least += std::min(c.charge() * *goal->low, c.charge() * *goal->high);
            most += std::max(c.charge() * *goal->low, c.charge() * *goal->high);
            continue;
        }
        constexpr auto kMayClose =
            std::to_array<std::string_view>({"Na", "Mg", "Ca", "K", "Cl", "SO4", "alkalinity"});
        const bool brought = target.purified_water[c] > 0 ||
                             std::any_of(supplies.begin(), supplies.end(), [&](const Supply& s) {
                                 return s.make_up.mol_per_kg[c] != 0;
                             });
        if (brought &&
            std::find(kMayClose.begin(), kMayClose.end(), c.symbol()) != kMayClose.end()) {
            return 0;
        }
    }
    return least > 0 ? least : most < 0 ? most : 0;
}

}  // namespace bw::recipe
