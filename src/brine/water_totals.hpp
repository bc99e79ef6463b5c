// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>

#include "brine/equilibrium_model.hpp"
#include "matter/constituent.hpp"

namespace bw::brine {

/// The total of the model that a constituent counts to; nothing for alkalinity, carbon, and forms
/// without charge that the model does not know.
struct TotalOfConstituent {
    Total total;
    bool stand_in;  ///< outside the interaction sets: acts as an ion of like charge
};
[[nodiscard]] std::optional<TotalOfConstituent> total_of(matter::Constituent c);

/// A water's constituents as totals of the model, mol per kg of solution on both sides.
[[nodiscard]] PerTotal<double> totals_of(const matter::Amounts& mol_per_kg);

/// Mass that a mole of a total adds to the dissolved salt [kg/mol]; 0 for other ions, traces of
/// many kinds.
[[nodiscard]] double dissolved_kg_per_mol(Total t);
/// Mass of an equivalent of alkalinity or a mole of carbon [kg]; 0 for pH and fugacity.
[[nodiscard]] double dissolved_kg_per_mol(Closure kind);

}  // namespace bw::brine
