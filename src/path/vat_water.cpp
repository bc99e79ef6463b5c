// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/vat_water.hpp"

#include <cmath>

#include "brine/water_notices.hpp"
#include "brine/water_totals.hpp"

namespace bw::path {

using brine::Closure;
using brine::kHighestStrength;
using brine::Total;

void Dissolved::add(const Dissolved& other, double times) {
    for (std::size_t t = 0; t < brine::kTotals; ++t) {
        mol[t] += times * other.mol[t];
    }
    alkalinity_eq += times * other.alkalinity_eq;
    carbon_mol += times * other.carbon_mol;
}

double Dissolved::salt_kg() const {
    static const brine::PerTotal<double> kMass = [] {
        brine::PerTotal<double> out{};
        for (std::size_t t = 0; t < brine::kTotals; ++t) {
            out[t] = brine::dissolved_kg_per_mol(static_cast<Total>(t));
        }
        return out;
    }();
    static const double kAlkalinity = brine::dissolved_kg_per_mol(Closure::Alkalinity);
    static const double kCarbon = brine::dissolved_kg_per_mol(Closure::Carbon);
    double out = kAlkalinity * alkalinity_eq + kCarbon * carbon_mol;
    for (std::size_t t = 0; t < brine::kTotals; ++t) {
        out += kMass[t] * mol[t];
    }
    return out;
}

Dissolved dissolved_of(const matter::Amounts& mol_per_kg_water) {
    static const matter::Constituent kAlkalinity = matter::constituent("alkalinity");
    static const matter::Constituent kCarbon = matter::constituent("carbon");
    return {brine::totals_of(mol_per_kg_water), mol_per_kg_water[kAlkalinity],
            mol_per_kg_water[kCarbon]};
}

const VatState* VatWater::at_node(const Dissolved& dissolved, std::size_t degree) {
    Node& node = nodes_[degree];
    if (!node.model) {
        const auto model = brine::WaterModel::at(unit::Celsius(static_cast<double>(degree)));
        base::expect(model.has_value(), "whole degrees of the model's range");
        node.model = *model;
    }
    const auto& equations = node.model->equations();
    const double salt = dissolved.salt_kg();
    const double share = 1 / (1 + salt);  // of water in the solution
    brine::PerTotal<double> per_kg = dissolved.mol;
    for (double& amount : per_kg) {
        amount *= share;
    }
    const auto conditions = brine::conditions(equations, per_kg, salt * share);
    if (!(conditions.formal_strength <= kHighestStrength) || !(salt >= 0)) {
        return nullptr;
    }
    const brine::Closing<double> closing{
        {Closure::Alkalinity, Closure::Carbon},
        {dissolved.alkalinity_eq * share, dissolved.carbon_mol * share}};
    auto found = brine::speciate(equations, conditions, closing, node.last ? &*node.last : nullptr);
    if (!found && node.last) {  // a start from another water can fail where none does
        found = brine::speciate(equations, conditions, closing);
    }
    if (!found) {
        node.last.reset();
        return nullptr;
    }
    node.last = *found;
    VatState& out = node.state;
    out.ph_total =
        -std::log10(brine::hydrogen_on_scale(Closure::PhTotal, conditions, found->molality));
    out.co2_mol_per_kg_water = found->molality[index(brine::Species::CO2)];
    out.ln_fugacity_per_co2 =
        found->activity.ln_gamma[index(brine::Species::CO2)] - conditions.ln_k0;
    out.formal_strength = conditions.formal_strength;
    brine::ln_saturation(equations, *found, out.ln_omega);
    return &out;
}

const VatState* VatWater::at(const Dissolved& dissolved, double celsius) {
    const double highest = static_cast<double>(nodes_.size() - 1);
    if (!(celsius >= 0 && celsius <= highest)) {
        return nullptr;
    }
    const auto low = static_cast<std::size_t>(celsius);
    const double above = celsius - static_cast<double>(low);
    const VatState* cold = at_node(dissolved, low);
    if (cold == nullptr || above == 0) {
        return cold;
    }
    const VatState* warm = at_node(dissolved, low + 1);
    if (warm == nullptr) {
        return nullptr;
    }
    const auto join = [above](double a, double b) { return a + above * (b - a); };
    joined_.ph_total = join(cold->ph_total, warm->ph_total);
    joined_.co2_mol_per_kg_water =
        std::exp(join(std::log(cold->co2_mol_per_kg_water), std::log(warm->co2_mol_per_kg_water)));
    joined_.ln_fugacity_per_co2 = join(cold->ln_fugacity_per_co2, warm->ln_fugacity_per_co2);
    joined_.formal_strength = cold->formal_strength;
    joined_.ln_omega.resize(cold->ln_omega.size());
    for (std::size_t i = 0; i < joined_.ln_omega.size(); ++i) {
        joined_.ln_omega[i] = std::isfinite(cold->ln_omega[i])
                                  ? join(cold->ln_omega[i], warm->ln_omega[i])
                                  : cold->ln_omega[i];
    }
    if (cold->co2_mol_per_kg_water == 0) {
        joined_.co2_mol_per_kg_water = 0;
    }
    return &joined_;
}

}  // namespace bw::path
