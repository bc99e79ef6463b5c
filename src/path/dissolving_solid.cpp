// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/dissolving_solid.hpp"

#include <algorithm>
#include <cmath>

#include "brine/ion_volumes.hpp"
#include "matter/formula.hpp"
#include "ref/tables.hpp"

namespace bw::path {
namespace {

constexpr double kPerCent = 1e-2;
constexpr double kKilo = 1e3;
constexpr double kWater_g_per_mol = 18.015;  // [ciaaw-2021]

// A salt like many, [estimate-dissolving]: 25 % of a solution of 1200 kg/m3, a crystal of 2000.
constexpr double kEstimatedDensity_kg_per_m3 = 2000;
constexpr double kEstimatedSaturation_kg_per_m3 = 300;
constexpr double kEstimatedDiffusion_m2_per_s = 1.2e-9;

bool same_solid(const matter::Formula& a, const matter::Formula& b) {
    const auto has = [](const matter::Formula& in, const matter::AtomCount& atom) {
        return in.count(atom.element) == atom.count;
    };
    return a.waters == b.waters && a.atoms.size() == b.atoms.size() &&
           std::all_of(a.atoms.begin(), a.atoms.end(),
                       [&](const matter::AtomCount& atom) { return has(b, atom); });
}

const brine::IonRow& ion(std::string_view symbol) {
    const auto& ions = brine::ion_table();
    const auto found = std::find_if(ions.begin(), ions.end(),
                                    [&](const auto& row) { return row.symbol == symbol; });
    base::expect(found != ions.end(), "data/dissolving.toml names an ion without mobility");
    return *found;
}

double diffusion(const ref::DissolvingRow& row) {
    if (row.diffusion_m2_per_s > 0) {
        return row.diffusion_m2_per_s;
    }
    const brine::IonRow& plus = ion(row.cation);
    const brine::IonRow& minus = ion(row.anion);
    const double z_plus = std::abs(plus.charge);
    const double z_minus = std::abs(minus.charge);
    const double D_plus = plus.mobility[0];
    const double D_minus = minus.mobility[0];
    return (z_plus + z_minus) * D_plus * D_minus / (z_plus * D_plus + z_minus * D_minus);
}

}  // namespace

Result<DissolvingSolid> dissolving_solid(std::string_view formula) {
    BW_TRY(asked, matter::parse_formula(formula));
    BW_TRY(molar_mass, matter::molar_mass_g_per_mol(asked));
    for (const ref::DissolvingRow& row : ref::dissolving()) {
        BW_TRY(known, matter::parse_formula(row.formula));
        if (!same_solid(asked, known)) {
            continue;
        }
        const double dry = molar_mass - known.waters * kWater_g_per_mol;
        return DissolvingSolid{
            std::string(row.formula),
            molar_mass,
            row.density_kg_per_m3,
            row.mass_percent * kPerCent * row.saturated_density_kg_per_m3 * molar_mass / dry,
            diffusion(row),
            row.heat_kJ_per_mol * kKilo,
            std::max(1.0, row.crust_slowing),
            false};
    }
    return DissolvingSolid{std::string(formula),
                           molar_mass,
                           kEstimatedDensity_kg_per_m3,
                           kEstimatedSaturation_kg_per_m3,
                           kEstimatedDiffusion_m2_per_s,
                           0,
                           1,
                           true};
}

}  // namespace bw::path
