// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

namespace bw::service {

/// The unit in which papers and screens of the books show a constituent of the made-up water.
struct ShownUnit {
    std::string unit;
    double per_mol_per_kg = 0;  ///< number in that unit per mol (eq) per kg
};

/// mg/kg (ug/kg below 0.1 mg/kg), meq/kg for alkalinity, mmol/kg for what has no mass of its own.
///
/// Inputs   symbol of a constituent; a typical amount in mol/kg.
[[nodiscard]] ShownUnit shown_unit(std::string_view symbol, double mol_per_kg);

}  // namespace bw::service
