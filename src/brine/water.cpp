// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "brine/saturation.hpp"
#include "brine/speciation.hpp"
#include "brine/water_notices.hpp"
#include "brine/water_route.hpp"
#include "brine/water_totals.hpp"

namespace bw::brine {
namespace {

void fill_acid_base(const SolvedWater& solved, WaterState& out) {
    const Speciation<double>& s = solved.speciation;
    const double w = s.conditions.water_share;
    const auto m = [&](Species i) { return s.molality[index(i)]; };
    out.ph_total = -std::log10(hydrogen_on_scale(Closure::PhTotal, s.conditions, s.molality));
    out.ph_free = -std::log10(hydrogen_on_scale(Closure::PhFree, s.conditions, s.molality));
    constexpr double kNbsLow = 20;  // salinities of takahashi-1982
    constexpr double kNbsHigh = 40;
    if (s.conditions.salinity >= kNbsLow && s.conditions.salinity <= kNbsHigh) {
        out.ph_nbs = -std::log10(hydrogen_on_scale(Closure::PhNbs, s.conditions, s.molality));
    }
    out.alkalinity_eq_per_kg = w * alkalinity_sum(s.molality);
    out.alkalinity_carbonate_eq_per_kg =
        w * (m(Species::HCO3) +
             2 * (m(Species::CO3) + m(Species::MgCO3) + m(Species::CaCO3) + m(Species::SrCO3)));
    out.alkalinity_borate_eq_per_kg =
        w * (m(Species::BOH4) + m(Species::MgBOH4) + m(Species::CaBOH4));
    out.alkalinity_other_eq_per_kg = out.alkalinity_eq_per_kg - out.alkalinity_carbonate_eq_per_kg -
                                     out.alkalinity_borate_eq_per_kg;
    out.carbon_mol_per_kg = w * carbon_sum(s.molality);
}

/// Free share of the constituent's bare ion and the ion's coefficient.
ConstituentState constituent_state(matter::Constituent c, double amount, TotalOfConstituent to,
                                   const Speciation<double>& s) {
    ConstituentState out;
    out.constituent = c;
    out.total_mol_per_kg = amount;
    out.stand_in = to.stand_in;
    const Species ion = kTotalFacts[index(to.total)].acts_as;
    out.free_activity_coefficient = std::exp(s.activity.ln_gamma[index(ion)]);
    if (!to.stand_in) {
        const double total = s.conditions.molal[index(to.total)];
        out.free_fraction = total > 0 ? std::min(1.0, s.molality[index(ion)] / total) : 1;
    }
    out.total_activity_coefficient = out.free_fraction * out.free_activity_coefficient;
    return out;
}

void fill_constituents(const SolvedWater& solved, WaterState& out) {
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        const auto to = total_of(c);
        const double amount = solved.amounts[c];
        if (to && amount > 0) {
            out.constituents.push_back(constituent_state(c, amount, *to, solved.speciation));
        }
    }
}

void fill_saturation(const EquilibriumModel<double>& model, const Speciation<double>& s,
                     unit::Celsius t, WaterState& out) {
    std::vector<double> ln_omega;
    ln_saturation(model, s, ln_omega);
    const auto rows = ref::minerals();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        out.saturation.push_back(
            {&rows[i], std::exp(ln_omega[i]), trusted_factor(rows[i], s.conditions.formal_strength),
             !(t.value() < rows[i].low_degC) && !(t.value() > rows[i].high_degC)});
    }
}

/// The other routes: without anchors, and the two sets beside each other at the same molalities.
Result<RouteSpread> route_spread(const EquilibriumModel<double>& model, const WaterInput& input,
                                 const SolvedWater& joined) {
    RouteSpread out;
    BW_TRY(alone, solve_route(model, input, Route::Unanchored));
    const auto ph = [](const Speciation<double>& s) {
        return -std::log10(hydrogen_on_scale(Closure::PhTotal, s.conditions, s.molality));
    };
    out.ph = ph(joined.speciation) - ph(alone.speciation);
    std::vector<double> with;
    std::vector<double> without;
    ln_saturation(model, joined.speciation, with);
    ln_saturation(model, alone.speciation, without);
    out.ln_omega_calcite = with[model.calcite] - without[model.calcite];
    out.ln_omega_aragonite = with[model.aragonite] - without[model.aragonite];
    Conditions<double> c = joined.speciation.conditions;
    Activities<double> sea;
    Activities<double> brine;
    c.brine_share = 0;
    activities(model, c, joined.speciation.molality, sea);
    c.brine_share = 1;
    activities(model, c, joined.speciation.molality, brine);
    for (const Species s :
         {Species::Na, Species::K, Species::Mg, Species::Ca, Species::Cl, Species::SO4}) {
        const double difference = sea.ln_gamma[index(s)] - brine.ln_gamma[index(s)];
        if (std::abs(difference) > std::abs(out.ln_activity_coefficient)) {
            out.ln_activity_coefficient = difference;
        }
    }
    return out;
}

}  // namespace

Result<WaterModel> WaterModel::at(unit::Celsius temperature, const SeawaterFits& fits) {
    const double t = temperature.value();
    if (!(t >= kModelColdest.value() && t <= kModelWarmest.value())) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the temperature is {} degC, but the model holds from {:.0f} to "
                                "{:.0f} degC",
                                t, kModelColdest.value(), kModelWarmest.value()));
    }
    WaterModel out;
    out.temperature_ = temperature;
    out.model_ = std::make_shared<const EquilibriumModel<double>>(
        prepare_model(t + kKelvinAtZeroCelsius, fits));
    return out;
}

Result<WaterState> WaterModel::state(const WaterInput& input, bool spread) const {
    base::expect(input.temperature == temperature_, "the water is of the model's temperature");
    BW_TRY(solved, solve_route(*model_, input, Route::Joined));
    const Speciation<double>& s = solved.speciation;
    WaterState out;
    out.temperature = temperature_;
    out.dissolved_g_per_kg = solved.amounts.dissolved_mass_g();
    out.formal_strength_mol_per_kg_water = s.conditions.formal_strength;
    for (std::size_t i = 0; i < kSpecies; ++i) {
        const int z = kSpeciesFacts[i].charge;
        out.ionic_strength_mol_per_kg_water += 0.5 * z * z * s.molality[i];
    }
    for (const Total t : kOtherTotals) {
        const int z = kTotalFacts[index(t)].charge;
        out.ionic_strength_mol_per_kg_water += 0.5 * z * z * s.conditions.molal[index(t)];
    }
    fill_acid_base(solved, out);
    out.fugacity_co2_atm = std::exp(ln_fugacity(*model_, s));
    out.partial_pressure_co2_atm = out.fugacity_co2_atm / s.conditions.field.fugacity_factor;
    out.water_activity = std::exp(s.activity.ln_water);
    out.osmotic_coefficient = s.activity.osmotic;
    out.osmolality_mol_per_kg_water = -s.activity.ln_water / kWaterKgPerMol;
    out.molality = s.molality;
    out.ln_gamma = s.activity.ln_gamma;
    fill_constituents(solved, out);
    fill_saturation(*model_, s, temperature_, out);
    out.charge_balance_percent = solved.amounts.charge_imbalance_percent();
    out.brine_share = s.conditions.brine_share;
    out.field_share = s.conditions.field_share;
    out.rounds = s.iterations;
    out.residual = s.residual;
    if (spread) {
        BW_TRY(found, route_spread(*model_, input, solved));
        out.spread = found;
    }
    out.notices = water_notices(input, solved.amounts, s, out);
    return out;
}

Result<WaterState> water_state(const WaterInput& input, bool spread) {
    BW_TRY(model, WaterModel::at(input.temperature, input.fits));
    return model.state(input, spread);
}

}  // namespace bw::brine
