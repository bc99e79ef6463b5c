// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "matter/element.hpp"

namespace bw::matter {

struct AtomCount {
    std::string element;
    double count;
};

/// A group of atoms that dissolves as one: SO4, NO3, NH4 ... and how often it occurs.
struct GroupCount {
    std::string group;
    double count;
};

/// A chemical formula, read.
struct Formula {
    std::string text;                ///< as typed, trimmed
    std::vector<AtomCount> atoms;    ///< of the whole, hydrate water included
    std::vector<GroupCount> groups;  ///< known groups found
    double waters = 0;               ///< H2O written as hydrate
    int charge = 0;

    [[nodiscard]] double count(std::string_view element) const;
    [[nodiscard]] double group_count(std::string_view group) const;
};

/// Reads a formula.
///
/// Inputs   Elements with counts, brackets ( ) and [ ] nested up to 8 deep, parts joined by '.',
/// '*' or a middle
///          dot, each with a leading number that may have decimals or be a fraction
///          ("CaSO4.0.5H2O", "CaSO4.1/2H2O", "3MgCO3.Mg(OH)2.3H2O"), subscript digits, and a charge
///          at the end: "Na+", "SO4^2-", "SO4-2", "SO4 2-", "Ca2+" (a lone element, so the digit is
///          the charge), "HCO3-" (several elements, so the digit is a count).
/// Valid    up to 200 characters, counts up to 10 000.
/// Errors   BadFormula, saying what is wrong and where.
[[nodiscard]] Result<Formula> parse_formula(std::string_view text);

/// Molar mass, electrons' mass neglected (below 1e-5 relative for every ion here).
///
/// Errors   BadFormula when an element has no standard atomic weight in the set.
/// Source   [ciaaw-2021], [ciaaw-2005]
[[nodiscard]] Result<double> molar_mass_g_per_mol(const Formula& formula,
                                                  WeightSet set = WeightSet::Ciaaw2021);

/// Standard uncertainty of the molar mass: the limits of the atomic weights as rectangular
/// half-widths, independent between elements [g/mol]. Source   Possolo, van der Veen, Meija &
/// Hibbert (2018), Metrologia 55, 9-19, from memory: intervals and quoted
///          uncertainties of atomic weights are limits, to be taken as rectangular.
[[nodiscard]] Result<double> molar_mass_uncertainty_g_per_mol(const Formula& formula);

}  // namespace bw::matter
