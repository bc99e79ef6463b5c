// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "brine/speciation.hpp"

namespace bw::brine {

/// ln of the molality of every species; minus infinity where it is absent.
template <class S>
[[nodiscard]] PerSpecies<S> ln_molalities(const PerSpecies<S>& m) {
    using std::log;
    PerSpecies<S> out;
    for (std::size_t i = 0; i < kSpecies; ++i) {
        out[i] = m[i] > 0.0 ? S(log(m[i])) : S(-std::numeric_limits<double>::infinity());
    }
    return out;
}

/// ln of a species' activity. Phosphate comes from its fully protonated form and the constants of
/// pure water, for the interaction sets have none of its ions.
template <class P, class S>
[[nodiscard]] S ln_activity(const EquilibriumModel<P>& model, const PerSpecies<S>& ln_m,
                            const Activities<S>& a, Species species) {
    if (species != Species::PO4 && species != Species::HPO4) {
        return ln_m[index(species)] + a.ln_gamma[index(species)];
    }
    const S hydrogen = ln_m[index(Species::H)] + a.ln_gamma[index(Species::H)];
    const fits::Point<P> pure = fits::point(P(0.0), P(model.kelvin - kKelvinAtZeroCelsius));
    const P k12 =
        fits::by_salinity(fits::kPhosphoric1, pure) + fits::by_salinity(fits::kPhosphoric2, pure);
    const S hpo4 = ln_m[index(Species::H3PO4)] + k12 - 2.0 * hydrogen;
    return species == Species::HPO4
               ? hpo4
               : S(hpo4 + fits::by_salinity(fits::kPhosphoric3, pure) - hydrogen);
}

/// ln Omega of every solid, in the order of ref::minerals().
///
/// Definition   ln of the ion activity product over K. Calcite and aragonite rest on the field's
///              solubility in seawater, carried to this water by the model; solids of the strong
///              ions alone are judged by the brine set.
/// Errors       minus infinity where an ion is absent.
/// Complexity   one activity evaluation and a sum per solid; allocates the result when it is empty.
template <class P, class S>
void ln_saturation(const EquilibriumModel<P>& model, const Speciation<S>& s, std::vector<S>& out) {
    out.resize(model.solids.size());
    const Conditions<S>& c = s.conditions;
    Activities<S> brine = s.activity;
    if (c.brine_share < 1.0) {
        Conditions<S> by_brine = c;
        by_brine.brine_share = S(1.0);
        activities(model, by_brine, s.molality, brine);
    }
    const PerSpecies<S> ln_m = ln_molalities(s.molality);
    for (std::size_t i = 0; i < model.solids.size(); ++i) {
        const SolidAction<P>& solid = model.solids[i];
        const Activities<S>& a = solid.by_brine_set ? brine : s.activity;
        S ln_k =
            i == model.calcite     ? c.ln_calcite
            : i == model.aragonite ? c.ln_aragonite
            : solid.by_brine_set
                ? S(solid.ln_k_brine)
                : S((1.0 - c.brine_share) * solid.ln_k_seawater + c.brine_share * solid.ln_k_brine);
        S product = solid.water * a.ln_water - ln_k;
        bool all = true;
        for (const auto& term : solid.terms) {
            all = all && s.molality[index(term.species)] > 0.0;
            if (all) {
                product += term.coefficient * ln_activity(model, ln_m, a, term.species);
            }
        }
        out[i] = all ? product : S(-std::numeric_limits<double>::infinity());
    }
}

extern template void ln_saturation(const EquilibriumModel<double>&, const Speciation<double>&,
                                   std::vector<double>&);  // plain_equilibrium.cpp

/// How far a solid's ratio of saturation is trusted: within this factor.
///
/// Definition   factor_in_seawater of the row up to a formal ionic strength of 0.72 mol/kg-water,
///              its factor from ten times that on, evenly in the logarithms between.
/// Inputs       formal ionic strength, mol/kg-water. Errors none.
[[nodiscard]] inline double trusted_factor(const ref::MineralRow& solid, double formal_strength) {
    constexpr double kSeawater = 0.72;
    constexpr double kDense = 10 * kSeawater;
    const double dense =
        formal_strength <= kSeawater
            ? 0
            : std::min(1.0, std::log(formal_strength / kSeawater) / std::log(kDense / kSeawater));
    return solid.factor_in_seawater * std::pow(solid.factor / solid.factor_in_seawater, dense);
}

}  // namespace bw::brine
