// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/order.hpp"

#include <algorithm>

#include "brine/aqueous_species.hpp"
#include "brine/water_totals.hpp"
#include "matter/formula.hpp"
#include "ref/tables.hpp"

namespace bw::path {
namespace {

using brine::Total;

double mass_share(const Dissolved& d, Total of) {
    const double salt = d.salt_kg();
    return salt > 0 ? d.mol[brine::index(of)] * brine::dissolved_kg_per_mol(of) / salt : 0;
}

Role role_of(const Part& part) {
    constexpr double kCarrier = 0.1;           // of the dissolved mass
    constexpr double kAlkaline_eq_per_kg = 1;  // hydrogencarbonate has 12, borax 5
    const double salt = part.brings.salt_kg();
    const bool alkaline = salt > 0 && part.brings.alkalinity_eq / salt > kAlkaline_eq_per_kg;
    return alkaline                                        ? Role::Alkalinity
           : mass_share(part.brings, Total::Ca) > kCarrier ? Role::Calcium
           : mass_share(part.brings, Total::Mg) > kCarrier ? Role::Magnesium
                                                           : Role::Rest;
}

/// Parts of a role at the hour given for it.
std::vector<Addition> staged(const std::vector<Part>& parts, std::array<double, 4> at_h,
                             bool alkalinity_dissolved = false) {
    const std::vector<Role> roles = roles_of(parts);
    std::vector<Addition> out;
    for (std::size_t p = 0; p < roles.size(); ++p) {
        const bool soluble = !parts[p].solid.mineral;
        out.push_back({p, at_h[static_cast<std::size_t>(roles[p])],
                       alkalinity_dissolved && soluble && roles[p] == Role::Alkalinity});
    }
    return out;
}

constexpr double kMilli = 1e-3;

/// A part of a pure salt.
Result<Part> pure(std::string_view formula, double mol_per_kg_water,
                  const std::vector<GrainClass>& grains) {
    Part out;
    out.name = formula;
    BW_TRY(solid, dissolving_solid(formula));
    out.solid = solid;
    BW_TRY(parsed, matter::parse_formula(formula));
    BW_TRY(compound, matter::dissolve(parsed));
    matter::Amounts amounts = compound.per_mol;
    amounts.scale(mol_per_kg_water);
    out.brings = dissolved_of(amounts);
    out.kg_per_kg_water = mol_per_kg_water * solid.molar_mass_g_per_mol * kMilli;
    out.grains = grains;
    return out;
}

}  // namespace

std::vector<Role> roles_of(const std::vector<Part>& parts) {
    std::vector<Role> out;
    std::ranges::transform(parts, std::back_inserter(out), role_of);
    return out;
}

std::vector<Order> usual_orders(const std::vector<Part>& parts, double step_h) {
    const double t = step_h;
    // Hours of alkalinity, calcium, magnesium, rest.
    return {{"all at once", staged(parts, {0, 0, 0, 0})},
            {"the rest, calcium, alkalinity", staged(parts, {2 * t, t, 0, 0})},
            {"the rest, calcium, alkalinity as a solution", staged(parts, {2 * t, t, 0, 0}, true)},
            {"the rest, alkalinity, calcium", staged(parts, {t, 2 * t, 0, 0})},
            {"calcium, the rest, alkalinity", staged(parts, {2 * t, 0, t, t})},
            {"alkalinity, the rest, calcium", staged(parts, {0, 2 * t, t, t})},
            {"calcium and alkalinity, the rest, magnesium", staged(parts, {0, 0, 2 * t, t})},
            {"the rest, calcium and alkalinity, magnesium", staged(parts, {t, t, 2 * t, 0})}};
}

Result<std::vector<Part>> with_carbonate_share(const std::vector<Part>& parts,
                                               double carbonate_share) {
    std::vector<Part> out;
    double alkalinity = 0;
    std::vector<GrainClass> grains;
    for (const Part& part : parts) {
        if (part.brings.carbon_mol > 0 && role_of(part) == Role::Alkalinity) {
            alkalinity += part.brings.alkalinity_eq;
            grains = part.grains;
        } else {
            out.push_back(part);
        }
    }
    if (!(alkalinity > 0)) {
        return fail(ProblemCode::BadInput,
                    "no part of the recipe brings carbonate or hydrogencarbonate");
    }
    if (carbonate_share < 1) {
        BW_TRY(part, pure("NaHCO3", alkalinity * (1 - carbonate_share), grains));
        out.push_back(std::move(part));
    }
    if (carbonate_share > 0) {
        BW_TRY(part, pure("Na2CO3", alkalinity * carbonate_share / 2, grains));
        out.push_back(std::move(part));
    }
    return out;
}

Result<double> neutral_carbonate_share(const std::vector<Part>& parts, double air_co2_atm,
                                       double celsius) {
    VatWater water;
    // Below the air: too little CO2, so less carbonate is wanted.
    const auto below_air = [&](double share) -> Result<bool> {
        BW_TRY(with, with_carbonate_share(parts, share));
        Dissolved all;
        double kg_water = 1;
        for (const Part& part : with) {
            all.add(part.brings, 1);
            kg_water += part.water_kg_per_kg;
        }
        Dissolved finished;
        finished.add(all, 1 / kg_water);
        const VatState* state = water.at(finished, celsius);
        if (state == nullptr) {
            return fail(ProblemCode::OutOfRange, "the finished water is outside the model");
        }
        return state->fugacity_co2_atm() < air_co2_atm;
    };
    double low = 0;
    double high = 1;
    constexpr int kHalvings = 40;
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (low + high) / 2;
        BW_TRY(below, below_air(middle));
        (below ? high : low) = middle;
    }
    return (low + high) / 2;
}

}  // namespace bw::path
