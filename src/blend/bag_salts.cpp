// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/bag_salts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "matter/constituent.hpp"
#include "unit/factors.hpp"

namespace bw::blend {
namespace {

constexpr double kWaterKgPerMol = 0.0180153;

/// Salts that hold on to water even without a hydrate in their formula.
constexpr auto kBinders = std::to_array<std::string_view>({"MgSO4", "MgCl2", "CaCl2", "Na2CO3"});

std::string without_water(const std::string& formula) {
    return formula.substr(0, formula.find_first_of(".*\u00B7"));
}

/// Mol of salt in a kg of material, by the first element that is a constituent.
double main_mol_per_kg(const matter::MakeUp& made, const matter::Formula& formula) {
    for (const matter::AtomCount& atom : formula.atoms) {
        const auto c = matter::find_constituent(atom.element);
        if (c && made.main_mol_per_kg[*c] > 0) {
            return made.main_mol_per_kg[*c] / atom.count;
        }
    }
    return 0;
}

struct Held {
    double waters = 0;  ///< per mol of salt
    double loose_kg_per_kg = 0;
};
Held water_of(const BagPart& part, const matter::Formula& formula, double mol_per_kg) {
    const double all = part.make_up.water_share;
    const double per_mol = all / (kWaterKgPerMol * mol_per_kg);
    if (formula.waters > 0) {
        const double crystal = std::min(all, formula.waters * mol_per_kg * kWaterKgPerMol);
        // Half a per cent is what assays of hydrates leave open.
        constexpr double kOpen = 0.005;
        const double loose = part.material.moisture
                                 ? std::min(all - crystal, part.material.moisture->value)
                                 : std::max(0.0, all - crystal - kOpen);
        return {std::min(per_mol, formula.waters), std::max(0.0, loose)};
    }
    const std::string dry = without_water(formula.text);
    const bool binder = std::find(kBinders.begin(), kBinders.end(), dry) != kBinders.end();
    if (part.material.moisture && !part.material.loss_on_ignition) {
        return {0, part.material.moisture->value};
    }
    return binder ? Held{per_mol, 0} : Held{};
}

void add(BagSalts& to, const std::string& formula, double waters, double mol, double kg,
         const std::string& material) {
    constexpr double kSame = 0.05;
    const auto same = std::find_if(to.salts.begin(), to.salts.end(), [&](const BagSalt& s) {
        return s.formula == formula && std::abs(s.waters - waters) < kSame;
    });
    if (same == to.salts.end()) {
        to.salts.push_back({without_water(formula), formula, waters, mol, kg, {material}});
        return;
    }
    same->mol_per_kg += mol;
    same->kg_per_kg += kg;
    same->materials.push_back(material);
}

bool is_salt(const matter::Formula& formula) {
    return formula.atoms.size() > 1 && formula.charge == 0;
}

/// Whether a salt was told.
bool add_composition(BagSalts& to, const BagPart& part) {
    bool any = false;
    for (const matter::Component& component : part.material.composition) {
        if (matter::find_constituent(component.of)) {
            continue;
        }
        const auto formula = matter::parse_formula(component.of);
        const auto molar = formula ? matter::molar_mass_g_per_mol(*formula) : fail({}, "");
        if (!molar || !is_salt(*formula)) {
            continue;
        }
        const double molar_kg = *molar / unit::kGramPerKg;
        const double mol =
            component.by_mass ? component.amount.value / molar_kg : component.amount.value;
        add(to, formula->text, formula->waters, mol * part.kg_per_kg,
            mol * molar_kg * part.kg_per_kg, part.material.name);
        any = true;
    }
    return any;
}

/// Whether a salt was told.
bool add_formula(BagSalts& to, const BagPart& part) {
    const auto formula = matter::parse_formula(part.material.formula);
    if (!formula || !is_salt(*formula)) {
        return false;
    }
    const auto molar = matter::molar_mass_g_per_mol(*formula);
    const double mol = main_mol_per_kg(part.make_up, *formula);
    if (!molar || !(mol > 0)) {
        return false;
    }
    const Held water = water_of(part, *formula, mol);
    const double dry_kg = *molar / unit::kGramPerKg - formula->waters * kWaterKgPerMol;
    add(to, formula->text, water.waters, mol * part.kg_per_kg,
        mol * (dry_kg + water.waters * kWaterKgPerMol) * part.kg_per_kg, part.material.name);
    to.loose_water_g_per_kg += water.loose_kg_per_kg * part.kg_per_kg * unit::kGramPerKg;
    return true;
}

}  // namespace

BagSalts bag_salts(std::span<const BagPart> parts) {
    BagSalts out;
    for (const BagPart& part : parts) {
        const bool told =
            part.material.formula.empty() ? add_composition(out, part) : add_formula(out, part);
        if (!told) {
            out.no_salt.push_back(part.material.name);
        }
    }
    std::stable_sort(out.salts.begin(), out.salts.end(),
                     [](const BagSalt& a, const BagSalt& b) { return a.kg_per_kg > b.kg_per_kg; });
    return out;
}

const BagSalt* find_salt(const BagSalts& salts, std::string_view dry) {
    const auto at = std::find_if(salts.salts.begin(), salts.salts.end(),
                                 [&](const BagSalt& s) { return s.dry == dry; });
    return at == salts.salts.end() ? nullptr : &*at;
}

}  // namespace bw::blend
