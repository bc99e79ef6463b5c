// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/derivatives.hpp"
#include "brine/saturation.hpp"
#include "brine/water.hpp"
#include "brine/water_route.hpp"
#include "brine/water_totals.hpp"

namespace bw::brine {
namespace {

constexpr int kStated = static_cast<int>(kTotals + 2);
using ByStated = num::Dual<kStated>;
using ByTemperature = num::Dual<1>;

/// Copies the derivatives of one quantity into its row, temperature or stated values.
template <int N>
void put(const num::Dual<N>& from, WaterDerivatives::Row& to) {
    constexpr std::size_t kFirst = N == 1 ? 0 : 1;
    for (std::size_t n = 0; n < static_cast<std::size_t>(N); ++n) {
        to[kFirst + n] = from.g[n];
    }
}

template <class P, int N>
void put_all(const EquilibriumModel<P>& model, const Speciation<num::Dual<N>>& s,
             WaterDerivatives& out) {
    using std::log;
    using S = num::Dual<N>;
    put(S(-log(hydrogen_on_scale(Closure::PhTotal, s.conditions, s.molality)) / std::numbers::ln10),
        out.ph_total);
    put(ln_fugacity(model, s), out.ln_fugacity);
    put(S(carbon_sum(s.molality) * s.conditions.water_share), out.carbon);
    put(S(alkalinity_sum(s.molality) * s.conditions.water_share), out.alkalinity);
    put(s.activity.ln_water, out.ln_water_activity);
    put(s.activity.osmotic, out.osmotic);
    for (std::size_t i = 0; i < kSpecies; ++i) {
        put(s.activity.ln_gamma[i], out.ln_gamma[i]);
        if (s.molality[i] > 0.0) {
            put(S(log(s.molality[i])), out.ln_molality[i]);
        }
    }
    std::vector<S> ln_omega;
    ln_saturation(model, s, ln_omega);
    out.ln_omega.resize(ln_omega.size());
    for (std::size_t i = 0; i < ln_omega.size(); ++i) {
        put(ln_omega[i], out.ln_omega[i]);
    }
}

/// The solved state with derivatives. What is not stated of alkalinity and carbon changes the mass
/// of the dissolved salt with everything else, by a thousandth of its own change: in few passes.
template <class P, int N>
Speciation<num::Dual<N>> solved_with(const EquilibriumModel<P>& model,
                                     const PerTotal<num::Dual<N>>& totals,
                                     const num::Dual<N>& stated_mass,
                                     const Closing<num::Dual<N>>& closing,
                                     const EquilibriumModel<double>& plain,
                                     const Closing<double>& plain_closing,
                                     const Speciation<double>& at) {
    const auto stated = [&](Closure kind) {
        return closing.kind[0] == kind || closing.kind[1] == kind;
    };
    const bool complete = stated(Closure::Alkalinity) && stated(Closure::Carbon);
    constexpr int kPasses = 4;
    num::Dual<N> mass = stated_mass;
    Speciation<num::Dual<N>> out;
    for (int pass = 0; pass < (complete ? 1 : kPasses); ++pass) {
        out = with_derivatives(model, conditions(model, totals, mass), closing, plain,
                               plain_closing, at);
        mass = stated_mass;
        const auto follow = [&](Closure kind, const num::Dual<N>& molality) {
            if (!stated(kind)) {
                const num::Dual<N> amount = molality * out.conditions.water_share;
                mass += dissolved_kg_per_mol(kind) * (amount - amount.v);
            }
        };
        follow(Closure::Alkalinity, alkalinity_sum(out.molality));
        follow(Closure::Carbon, carbon_sum(out.molality));
    }
    return out;
}

/// Fills the columns of the stated values.
void put_by_stated(const EquilibriumModel<double>& plain, const WaterInput& input,
                   const Speciation<double>& solved, WaterDerivatives& out) {
    const Closing<double> closing = closing_of(input);
    const PerTotal<double> totals = totals_of(input.mol_per_kg);
    PerTotal<ByStated> stated;
    ByStated mass(1 - solved.conditions.water_share);
    for (std::size_t t = 0; t < kTotals; ++t) {
        stated[t] = ByStated::variable(totals[t], static_cast<int>(t));
        mass.g[t] = dissolved_kg_per_mol(static_cast<Total>(t));
    }
    Closing<ByStated> closing_stated{closing.kind, {}};
    for (std::size_t k = 0; k < closing.kind.size(); ++k) {
        closing_stated.value[k] =
            ByStated::variable(closing.value[k], static_cast<int>(kTotals + k));
        mass.g[kTotals + k] = dissolved_kg_per_mol(closing.kind[k]);
    }
    put_all(plain, solved_with(plain, stated, mass, closing_stated, plain, closing, solved), out);
}

}  // namespace

Result<WaterDerivatives> water_derivatives(const WaterModel& model, const WaterInput& input) {
    base::expect(input.temperature == model.temperature(),
                 "the water is of the model's temperature");
    BW_TRY(solved, solve_route(model.equations(), input, Route::Joined));
    WaterDerivatives out;
    put_by_stated(model.equations(), input, solved.speciation, out);
    return out;
}

Result<WaterDerivatives> water_derivatives(const WaterInput& input) {
    BW_TRY(model, WaterModel::at(input.temperature, input.fits));
    const EquilibriumModel<double>& plain = model.equations();
    BW_TRY(solved, solve_route(plain, input, Route::Joined));
    const Closing<double> closing = closing_of(input);
    const PerTotal<double> totals = totals_of(input.mol_per_kg);
    const double dissolved = 1 - solved.speciation.conditions.water_share;
    WaterDerivatives out;
    put_by_stated(plain, input, solved.speciation, out);

    const ByTemperature kelvin = ByTemperature::variable(plain.kelvin, 0);
    const EquilibriumModel<ByTemperature> warm = prepare_model(kelvin, input.fits);
    PerTotal<ByTemperature> held;
    for (std::size_t t = 0; t < kTotals; ++t) {
        held[t] = ByTemperature(totals[t]);
    }
    const Closing<ByTemperature> closing_held{
        closing.kind, {ByTemperature(closing.value[0]), ByTemperature(closing.value[1])}};
    put_all(warm,
            solved_with(warm, held, ByTemperature(dissolved), closing_held, plain, closing,
                        solved.speciation),
            out);
    return out;
}

}  // namespace bw::brine
