// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "works/batch.hpp"
#include "works/scale.hpp"

namespace bw::works {

/// How the masses of one line of a batch sheet are written, wherever they stand: on the sheet, on
/// paper, on the weighing screen and in the terminal.
struct MassForm {
    std::string unit = "kg";  ///< "g" or "kg"
    int places = 0;           ///< decimals in that unit: those that the scale shows
    double step_kg = 0;       ///< of the scale
};

/// A line whose target is below this is written in g, else in kg.
inline constexpr double kLeastInKilograms = 1;

/// Definition   unit by the line's target; as many decimals as a step of its scale has.
/// Inputs   the scale of the line.
[[nodiscard]] MassForm form_of(const Addition& addition, const Scale& scale);

/// "121.9": digits of a mass in a line's form, rounded to its decimals.
[[nodiscard]] std::string digits(double mass_kg, const MassForm& form);

/// "121.9 g".
[[nodiscard]] std::string in_words(double mass_kg, const MassForm& form);

}  // namespace bw::works
