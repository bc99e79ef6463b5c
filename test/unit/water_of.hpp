// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "base/result.hpp"
#include "matter/constituent.hpp"
#include "matter/formula.hpp"

namespace bw::test {

/// A solution of one salt, g of the formula per kg of solution.
inline matter::Amounts salt_water(std::string_view formula, double g_per_kg) {
    const auto parsed = matter::parse_formula(formula);
    base::expect(parsed.has_value(), "a formula of a test does not parse");
    const auto dissolved = matter::dissolve(*parsed);
    base::expect(dissolved.has_value(), "a salt of a test does not dissolve");
    matter::Amounts out = dissolved->per_mol;
    out.scale(g_per_kg / dissolved->molar_mass_g);
    return out;
}

}  // namespace bw::test
