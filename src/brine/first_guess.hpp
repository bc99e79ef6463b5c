// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>

#include "brine/acid_base.hpp"

namespace bw::brine {

/// Where to start the search for a state.
struct FirstGuess {
    double ln_hydrogen, ln_carbonate;  ///< mol/kg-water; carbonate is the free ion
};

/// Solves the acid-base balance alone, metals, sulfate and fluoride held: a start within a few per
/// cent for waters near seawater.
///
/// Inputs     ln of the basis amounts and ln of what each made species has beside them, both as the
///            solver holds them; closing statements.
/// Errors     nothing, when the statements have no answer between pH 1 and 13.5 on these terms.
/// Complexity 20 evaluations of one quotient.
[[nodiscard]] std::optional<FirstGuess> first_guess(const EquilibriumModel<double>& model,
                                                    const Conditions<double>& c,
                                                    const Closing<double>& closing,
                                                    const std::array<double, kBasisSize>& ln_basis,
                                                    const std::array<double, kMadeSize>& made,
                                                    double ln_gamma_co2);

}  // namespace bw::brine
