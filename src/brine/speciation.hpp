// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "brine/acid_base.hpp"

namespace bw::brine {

/// A water at equilibrium with itself.
template <class S>
struct Speciation {
    Conditions<S> conditions;
    PerSpecies<S> molality;  ///< mol/kg-water
    Activities<S> activity;
    int iterations = 0;
    double residual = 0;  ///< largest of the balances, relative
};

/// Solves for all species.
///
/// Definition   mass action for every made species, balances of boron, sulfate, fluoride,
/// magnesium,
///              calcium and strontium, and the two closing statements, with activity coefficients
///              of the result itself.
/// Inputs       the model at the temperature; conditions of the water; closing statements.
/// Valid        as the sets: ionic strength up to 8 mol/kg-water.
/// Accuracy     balances to 1e-12 of each total, activity coefficients to 1e-11.
/// Errors       OutOfRange when no state satisfies the closing statements or none was found.
/// Complexity   rounds of at most one activity evaluation and one 8 x 8 system: 4 or 5 near
/// seawater,
///              4 to 8 for most waters; some hundred when it has to search.
[[nodiscard]] Result<Speciation<double>> speciate(const EquilibriumModel<double>& model,
                                                  const Conditions<double>& conditions,
                                                  const Closing<double>& closing,
                                                  const Speciation<double>* start = nullptr);

/// CO2 fugacity [atm] of a state.
template <class P, class S>
[[nodiscard]] S ln_fugacity(const EquilibriumModel<P>&, const Speciation<S>& s) {
    using std::log;
    return log(s.molality[index(Species::CO2)]) + s.activity.ln_gamma[index(Species::CO2)] -
           s.conditions.ln_k0;
}

}  // namespace bw::brine
