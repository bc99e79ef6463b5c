// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/result.hpp"
#include "check/case_file.hpp"
#include "matter/constituent.hpp"

namespace bw::check {

/// One line of a printed recipe: "23.926 g NaCl".
struct PrintedSalt {
    double amount = 0;
    std::string unit;  ///< "g", "mg", "mol" or "mmol"
    std::string formula;
    matter::Dissolved dissolved;
    [[nodiscard]] double mol() const;
    [[nodiscard]] double gram() const { return mol() * dissolved.molar_mass_g; }
    /// Grams without the water of the hydrate.
    [[nodiscard]] double anhydrous_gram() const;
    /// How many of the printed units a number of moles is.
    [[nodiscard]] double in_printed_unit(double mol) const;
};

/// Errors   BadInput for a line that is not "number unit formula"; BadFormula.
[[nodiscard]] Result<std::vector<PrintedSalt>> printed_salts(const std::vector<std::string>& lines);

/// Kilograms of solution that the printed amounts make: 1, or what a litre of solution, or what a
/// litre of water or a kilogram of water with the salts in it weighs. Errors   BadInput for an
/// unknown basis or a missing density.
[[nodiscard]] Result<double> kg_of_solution(const PrintedRecipe& recipe,
                                            const std::vector<PrintedSalt>& salts);

}  // namespace bw::check
