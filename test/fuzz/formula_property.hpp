// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cmath>
#include <string>
#include <string_view>

#include "fuzz/one_line.hpp"
#include "matter/constituent.hpp"
#include "matter/formula.hpp"

namespace bw::fuzz {

inline Fault fault_of_dissolved(const matter::Formula& formula, double molar_mass) {
    const auto dissolved = matter::dissolve(formula);
    if (!dissolved) {
        return fault_of_complaint(dissolved.error());
    }
    if (dissolved->molar_mass_g != molar_mass) {
        return "two molar masses of one formula";
    }
    if (!(dissolved->water_mol >= 0) || !std::isfinite(dissolved->water_mol)) {
        return "hydrate water is not a finite amount";
    }
    double size = 0;
    for (const double value : dissolved->per_mol.values()) {
        if (!std::isfinite(value)) {
            return "an amount dissolved is not finite";
        }
        size += std::abs(value);
    }
    // Alkalinity is defined by this balance, so it holds but for rounding.
    constexpr double kRounding = 1e-9;
    if (std::abs(dissolved->per_mol.charge() - formula.charge) > kRounding * (1 + 10 * size)) {
        return "what dissolves does not carry the formula's charge";
    }
    return {};
}

inline bool same_formula(const matter::Formula& a, const matter::Formula& b) {
    return a.charge == b.charge && a.waters == b.waters && a.text == b.text &&
           std::equal(a.atoms.begin(), a.atoms.end(), b.atoms.begin(), b.atoms.end(),
                      [](const auto& x, const auto& y) {
                          return x.element == y.element && x.count == y.count;
                      }) &&
           std::equal(a.groups.begin(), a.groups.end(), b.groups.begin(), b.groups.end(),
                      [](const auto& x, const auto& y) {
                          return x.group == y.group && x.count == y.count;
                      });
}

/// Any text is a formula with finite counts above 0, or a complaint; read again it is the same.
inline Fault fault_of_formula(std::string_view text) {
    const auto formula = matter::parse_formula(text);
    if (!formula) {
        return fault_of_complaint(formula.error());
    }
    if (formula->atoms.empty()) {
        return "a formula without atoms";
    }
    for (const auto& atom : formula->atoms) {
        if (!(atom.count > 0) || !std::isfinite(atom.count)) {
            return "the count of " + atom.element + " is not finite and above 0";
        }
    }
    for (const auto& group : formula->groups) {
        if (!(group.count > 0) || !std::isfinite(group.count)) {
            return "the count of " + group.group + " is not finite and above 0";
        }
    }
    if (!(formula->waters >= 0) || !std::isfinite(formula->waters)) {
        return "the waters are not finite";
    }
    constexpr int kMostCharge = 9;
    if (std::abs(formula->charge) > kMostCharge) {
        return "a charge of more than one digit";
    }
    const auto again = matter::parse_formula(formula->text);
    if (!again || !same_formula(*formula, *again)) {
        return "read again it is another formula";
    }
    const auto mass = matter::molar_mass_g_per_mol(*formula);
    if (!mass) {
        return fault_of_complaint(mass.error());
    }
    if (!(*mass > 0) || !std::isfinite(*mass)) {
        return "the molar mass is not finite and above 0";
    }
    const auto u = matter::molar_mass_uncertainty_g_per_mol(*formula);
    if (!u || !(*u >= 0) || !(*u < *mass)) {
        return "the molar mass has no sensible uncertainty";
    }
    return fault_of_dissolved(*formula, *mass);
}

}  // namespace bw::fuzz
