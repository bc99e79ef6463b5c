// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>

#include "path/dissolving_solid.hpp"
#include "path/liquid.hpp"

namespace bw::path {

/// An amount of a solid gone into solution.
struct SolidDissolved {
    double mol_per_kg;  ///< per kg of finished water
    double heat_of_solution_J_per_mol;
};

/// Change of temperature of a vat that exchanges no heat [K]; negative where it cools.
///
/// Definition   -sum(n_i dH_i) / c_p of the finished water. All that dissolved between an earlier
///              and a later moment may be given, or a rate in mol/kg/s for K/s.
/// Accuracy     heats at infinite dilution and 25 degC stand for those in the vat: the heat of
///              dilution of NaCl to seawater is some -0.5 kJ/mol, 0.05 K (from memory); so 0.1 K
///              and 10 %. Errors none.
[[nodiscard]] double temperature_change_K(std::span<const SolidDissolved> dissolved,
                                          const Liquid& liquid);

}  // namespace bw::path
