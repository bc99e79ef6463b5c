// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/water_saturation.hpp"

#include <algorithm>
#include <cmath>

#include "brine/water_totals.hpp"
#include "io/water_closing.hpp"
#include "ref/brine_tables.hpp"

namespace bw::service {
namespace {

using brine::Closure;
using matter::Constituent;

/// Column of a constituent among the derivatives; nothing where it has none.
std::optional<std::size_t> column_of(Constituent c, const brine::WaterInput& input) {
    for (std::size_t k = 0; k < input.closing.size(); ++k) {
        const bool own = c.is_alkalinity()
                             ? input.closing[k].kind == Closure::Alkalinity
                             : c.symbol() == "carbon" && input.closing[k].kind == Closure::Carbon;
        if (own) {
            return 1 + brine::kTotals + k;
        }
    }
    const auto to = brine::total_of(c);
    return to ? std::optional(1 + brine::index(to->total)) : std::nullopt;
}

}  // namespace

Result<WaterSaturation::Place> WaterSaturation::place(const recipe::SaturationLimit& limit,
                                                      const matter::Amounts& mol_per_kg) {
    const unit::Celsius at(limit.temperature_degC);
    auto known = std::find_if(models_.begin(), models_.end(),
                              [&](const brine::WaterModel& m) { return m.temperature() == at; });
    if (known == models_.end()) {
        BW_TRY(model, brine::WaterModel::at(at));
        models_.push_back(std::move(model));
        known = models_.end() - 1;
    }
    brine::WaterInput input;
    input.mol_per_kg = mol_per_kg;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent c(i);  // round-off of doses
        if (!c.is_alkalinity()) {
            input.mol_per_kg[c] = std::max(0.0, mol_per_kg[c]);
        }
    }
    input.temperature = at;
    input.closing[0] = {Closure::Alkalinity, mol_per_kg[matter::constituent("alkalinity")]};
    input.closing[1] = {Closure::Carbon, input.mol_per_kg[matter::constituent("carbon")]};
    if (limit.air_pco2_atm) {
        BW_TRY(fugacity, io::co2_fugacity_atm(*limit.air_pco2_atm, at));
        input.closing[1] = {Closure::Fugacity, fugacity};
    }
    return Place{*known, std::move(input)};
}

Result<SaturationSlope> WaterSaturation::slope(const recipe::SaturationLimit& limit,
                                               const matter::Amounts& mol_per_kg) {
    BW_TRY(at, place(limit, mol_per_kg));
    BW_TRY(state, at.model.state(at.input));
    const std::size_t solid = ref::mineral_place(limit.solid);
    SaturationSlope out;
    out.ln_omega = std::log(state.saturation[solid].omega);
    if (!std::isfinite(out.ln_omega)) {
        return out;
    }
    BW_TRY(derivatives, brine::water_derivatives(at.model, at.input));
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent c(i);
        const auto column = column_of(c, at.input);
        const double slope = column ? derivatives.ln_omega[solid][*column] : 0;
        out.per_amount[c] = std::isfinite(slope) ? slope : 0;
    }
    return out;
}

Result<brine::SaturationState> WaterSaturation::value(const recipe::SaturationLimit& limit,
                                                      const matter::Amounts& mol_per_kg) {
    BW_TRY(at, place(limit, mol_per_kg));
    BW_TRY(aired, at.model.state(at.input));
    at.input.closing[1] = {Closure::Carbon, aired.carbon_mol_per_kg};
    at.input.mol_per_kg[matter::constituent("carbon")] = aired.carbon_mol_per_kg;
    BW_TRY(state, at.model.state(at.input));
    return state.saturation[ref::mineral_place(limit.solid)];
}

}  // namespace bw::service
