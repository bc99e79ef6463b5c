// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/dissolving_solid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "brine/ion_volumes.hpp"
#include "brine/temperature_function.hpp"
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

/// Solids of which a litre takes less than this end by the water's saturation with them.
constexpr double kSparing_kg_per_m3 = 20;

struct Mineral {
    std::size_t place;
    int ions;
    double saturation_kg_per_m3;
};

/// What a litre of pure water takes of a mineral, by its constant, and the ions it leaves.
Mineral mineral_at(std::size_t place, double molar_mass_g_per_mol) {
    constexpr double kKelvin = 298.15;
    const ref::MineralRow& row = ref::minerals()[place];
    double ln_product =
        brine::evaluate(row.log_k, kKelvin) * (row.natural_log ? 1 : std::numbers::ln10);
    double ions = 0;
    for (const ref::ReactionTerm& term : row.dissolves_to) {
        if (term.coefficient > 0 && term.species != "H2O") {
            ions += term.coefficient;
            ln_product -= term.coefficient * std::log(term.coefficient);
        }
    }
    return {place, static_cast<int>(std::lround(ions)),
            std::exp(ln_product / ions) * molar_mass_g_per_mol};
}

/// The least soluble mineral of a formula.
Result<std::optional<Mineral>> mineral_of(const matter::Formula& formula, double molar_mass) {
    std::optional<Mineral> out;
    const auto rows = ref::minerals();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        BW_TRY(known, matter::parse_formula(rows[i].formula));
        if (!same_solid(formula, known)) {
            continue;
        }
        const Mineral found = mineral_at(i, molar_mass);
        if (!out || found.saturation_kg_per_m3 < out->saturation_kg_per_m3) {
            out = found;
        }
    }
    return out;
}

}  // namespace

Result<DissolvingSolid> dissolving_solid(std::string_view formula) {
    BW_TRY(asked, matter::parse_formula(formula));
    BW_TRY(molar_mass, matter::molar_mass_g_per_mol(asked));
    BW_TRY(mineral, mineral_of(asked, molar_mass));
    for (const ref::DissolvingRow& row : ref::dissolving()) {
        BW_TRY(known, matter::parse_formula(row.formula));
        if (!same_solid(asked, known)) {
            continue;
        }
        const double dry = molar_mass - known.waters * kWater_g_per_mol;
        DissolvingSolid out{
            std::string(row.formula),
            molar_mass,
            row.density_kg_per_m3,
            row.mass_percent * kPerCent * row.saturated_density_kg_per_m3 * molar_mass / dry,
            diffusion(row),
            row.heat_kJ_per_mol * kKilo,
            std::max(1.0, row.crust_slowing),
            false};
        if (mineral && out.saturation_kg_per_m3 < kSparing_kg_per_m3) {
            out.mineral = mineral->place;
            out.ions = mineral->ions;
        }
        return out;
    }
    DissolvingSolid out{std::string(formula),
                        molar_mass,
                        kEstimatedDensity_kg_per_m3,
                        kEstimatedSaturation_kg_per_m3,
                        kEstimatedDiffusion_m2_per_s,
                        0,
                        1,
                        true};
    if (mineral && mineral->saturation_kg_per_m3 < kSparing_kg_per_m3) {
        out.saturation_kg_per_m3 = mineral->saturation_kg_per_m3;
        out.mineral = mineral->place;
        out.ions = mineral->ions;
    }
    return out;
}

}  // namespace bw::path
