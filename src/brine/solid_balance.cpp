// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/solid_balance.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "brine/water_totals.hpp"
#include "matter/formula.hpp"

namespace bw::brine {
namespace {

std::optional<Total> total_of_species(Species s) {
    for (std::size_t t = 0; t <= index(Total::Si); ++t) {
        if (kTotalFacts[t].acts_as == s) {
            return static_cast<Total>(t);
        }
    }
    if (s == Species::PO4 || s == Species::HPO4) {
        return Total::P;
    }
    return std::nullopt;
}

}  // namespace

Result<Taken> taken_by(std::string_view key, const EquilibriumModel<double>& model) {
    const auto rows = ref::minerals();
    const auto row = std::find_if(rows.begin(), rows.end(),
                                  [&](const ref::MineralRow& r) { return r.key == key; });
    if (row == rows.end()) {
        return fail(ProblemCode::UnknownName,
                    fmt::format("No solid '{}' is known; the sheet of a water lists all.", key));
    }
    Taken out;
    out.row = static_cast<std::size_t>(row - rows.begin());
    for (const auto& term : model.solids[out.row].terms) {
        if (const auto total = total_of_species(term.species)) {
            out.totals[index(*total)] += term.coefficient;
        } else if (term.species == Species::CO3 || term.species == Species::HCO3) {
            out.carbon += term.coefficient;
        }
        out.alkalinity += term.coefficient * facts(term.species).alkalinity;
    }
    BW_TRY(formula, matter::parse_formula(row->formula));
    BW_TRY(mass, matter::molar_mass_g_per_mol(formula));
    out.mass_kg = mass / 1000;
    out.water_kg = out.mass_kg - out.alkalinity * dissolved_kg_per_mol(Closure::Alkalinity) -
                   out.carbon * dissolved_kg_per_mol(Closure::Carbon);
    for (std::size_t t = 0; t < kTotals; ++t) {
        out.water_kg -= out.totals[t] * dissolved_kg_per_mol(static_cast<Total>(t));
    }
    return out;
}

WaterLeft left_after(const WaterBefore& start, const std::vector<Taken>& solids,
                     const std::vector<double>& n, double carbon_in_air) {
    WaterLeft out;
    out.mol_per_kg = start.totals;
    out.mass = 1;
    double water = start.water_kg;
    double alkalinity = start.alkalinity;
    double carbon = start.carbon;
    for (std::size_t p = 0; p < solids.size(); ++p) {
        const Taken& solid = solids[p];
        water -= solid.water_kg * n[p];
        out.mass -= solid.mass_kg * n[p];
        alkalinity -= solid.alkalinity * n[p];
        carbon -= solid.carbon * n[p];
        for (std::size_t t = 0; t < kTotals; ++t) {
            out.mol_per_kg[t] -= solid.totals[t] * n[p];
        }
    }
    if (start.fugacity) {  // carbon counts with a water: CO2 that comes binds one
        const double gained = carbon_in_air - carbon;
        water -= gained * kWaterKgPerMol;
        out.mass += gained * (dissolved_kg_per_mol(Closure::Carbon) - kWaterKgPerMol);
    }
    for (double& amount : out.mol_per_kg) {
        amount /= out.mass;
    }
    out.dissolved = 1 - water / out.mass;
    out.closing.kind = {Closure::Alkalinity, start.fugacity ? Closure::Fugacity : Closure::Carbon};
    out.closing.value = {alkalinity / out.mass,
                         start.fugacity ? *start.fugacity : carbon / out.mass};
    return out;
}

WaterInput left_water(const WaterInput& before, const WaterBefore& start, const WaterLeft& left) {
    WaterInput out = before;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (const auto to = total_of(c)) {
            const double was = start.totals[index(to->total)];
            out.mol_per_kg[c] =
                was > 0 ? before.mol_per_kg[c] * left.mol_per_kg[index(to->total)] / was : 0;
        }
    }
    for (std::size_t k = 0; k < out.closing.size(); ++k) {
        out.closing[k] = {left.closing.kind[k], left.closing.value[k]};
    }
    return out;
}

}  // namespace bw::brine
