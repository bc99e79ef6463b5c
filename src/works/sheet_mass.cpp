// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/sheet_mass.hpp"

#include <cmath>

#include "base/decimal.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

/// Of a step: what its decimal number may be off in doubles.
constexpr double kRoundOff = 1e-6;
constexpr int kMostPlaces = 9;

double factor_of(const MassForm& form) { return form.unit == "g" ? unit::kGramPerKg : 1; }

/// Decimals that a number has.
int places_of(double number) {
    int places = 0;
    for (double scaled = number; places < kMostPlaces; ++places, scaled *= 10) {
        if (std::abs(scaled - std::round(scaled)) <= kRoundOff * scaled) {
            break;
        }
    }
    return places;
}

}  // namespace

MassForm form_of(const Addition& addition, const Scale& scale) {
    MassForm out;
    out.unit = addition.target_kg < kLeastInKilograms ? "g" : "kg";
    out.step_kg = scale.step_kg;
    out.places = places_of(scale.step_kg * factor_of(out));
    return out;
}

std::string digits(double mass_kg, const MassForm& form) {
    return base::format_places(mass_kg * factor_of(form), form.places);
}

std::string in_words(double mass_kg, const MassForm& form) {
    return digits(mass_kg, form) + " " + form.unit;
}

}  // namespace bw::works
