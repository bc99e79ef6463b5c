// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "brine/equilibrium_model.hpp"

namespace bw::brine {

/// Reference-Composition Seawater as totals of the model.
struct ReferenceTotals {
    PerTotal<double> mol_per_kg;  ///< per kg of solution
    double alkalinity_eq_per_kg;
    double carbon_mol_per_kg;
    double dissolved_kg_per_kg;
};

/// Inputs   practical salinity.
/// Source   [millero-2008].
[[nodiscard]] ReferenceTotals reference_totals(double practical_salinity);

}  // namespace bw::brine
