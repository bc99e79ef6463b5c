// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Random waters, and how well a solved one keeps its balances.
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <map>
#include <random>
#include <string>

#include <gtest/gtest.h>

#include "brine/reference_totals.hpp"
#include "brine/saturation.hpp"
#include "brine/speciation.hpp"

namespace bw::brine::random_waters {

inline constexpr double kZeroCelsius = 273.15;

inline const EquilibriumModel<double>& model_at(double celsius) {
    static std::map<double, EquilibriumModel<double>> made;
    auto found = made.find(celsius);
    if (found == made.end()) {
        found = made.emplace(celsius, prepare_model(celsius + kZeroCelsius)).first;
    }
    return found->second;
}

struct Water {
    PerTotal<double> mol_per_kg{};
    double dissolved = 0;
    double celsius = 25;
};

/// Reference-Composition Seawater `times` as strong as salinity 35, at constant mass of solution.
inline Water seawater(double times) {
    const ReferenceTotals natural = reference_totals(35);
    // Concentrated by taking water away: m = times m35, so w_salt = times q / (1 - q + times q).
    const double salt = natural.dissolved_kg_per_kg;
    const double share = times / (1 - salt + times * salt);
    Water out;
    for (std::size_t t = 0; t < kTotals; ++t) {
        out.mol_per_kg[t] = natural.mol_per_kg[t] * share;
    }
    out.dissolved = salt * share;
    return out;
}

/// Seawater of salinity 0.5 to halite saturation, every total by its own factor from a third to
/// three, now and then next to nothing or nothing at all; up to ionic strength 8.
inline Water random_water(std::mt19937_64& random) {
    std::uniform_real_distribution<double> uniform(0, 1);
    Water out = seawater(std::pow(10.0, -1.85 + 2.85 * uniform(random)));
    constexpr double kTrace = 1e-12;
    for (std::size_t t = 0; t < kTotals; ++t) {
        double& amount = out.mol_per_kg[t];
        if (amount == 0) {
            amount = std::pow(10.0, -12.0 + 9.0 * uniform(random));  // P, Si, Ba, Li and others
        }
        amount *= std::pow(3.0, 2 * uniform(random) - 1);
        const double fate = uniform(random);
        const bool strong = t == index(Total::Na) || t == index(Total::Cl);
        amount = strong || fate > 0.15 ? amount : fate > 0.1 ? kTrace : 0;
    }
    constexpr double kMostStrength = 8;
    const double water_share = 1 - out.dissolved;
    const double strength = formal_strength(out.mol_per_kg) / water_share;
    if (strength > kMostStrength) {
        for (double& amount : out.mol_per_kg) {
            amount *= kMostStrength / strength;
        }
    }
    constexpr std::array kTemperatures{0.0, 10.0, 18.5, 25.0, 31.0, 40.0};
    out.celsius = kTemperatures[random() % kTemperatures.size()];
    return out;
}

inline Conditions<double> conditions_of(const Water& w, Route route = Route::Joined) {
    return conditions(model_at(w.celsius), w.mol_per_kg, w.dissolved, route);
}

inline std::string describe(const Water& w, const Closing<double>& closing) {
    std::string out = testing::PrintToString(w.celsius) + " degC";
    for (const double amount : w.mol_per_kg) {
        out += ' ' + testing::PrintToString(amount);
    }
    for (std::size_t i = 0; i < 2; ++i) {
        out += " [" + std::to_string(static_cast<int>(closing.kind[i])) + "] " +
               testing::PrintToString(closing.value[i]);
    }
    return out;
}

/// sum |a_i| m_i of the alkalinity: the size against which its balance is relative.
inline double alkalinity_size(const PerSpecies<double>& m) {
    double out = 0;
    for (std::size_t i = 0; i < kSpecies; ++i) {
        out += std::abs(static_cast<double>(kSpeciesFacts[i].alkalinity)) * m[i];
    }
    return out;
}

/// Every value that could have closed the balance of a solved state.
inline double closing_value(const EquilibriumModel<double>& model, const Speciation<double>& s,
                            Closure kind) {
    switch (kind) {
        case Closure::Alkalinity:
            return alkalinity_sum(s.molality) * s.conditions.water_share;
        case Closure::Carbon:
            return carbon_sum(s.molality) * s.conditions.water_share;
        case Closure::Fugacity:
            return std::exp(ln_fugacity(model, s));
        default:
            return -std::log10(hydrogen_on_scale(kind, s.conditions, s.molality));
    }
}

/// Largest violation of mass, charge and the closing statements, relative.
inline double worst_balance(const EquilibriumModel<double>& model, const Speciation<double>& s,
                            const Closing<double>& closing) {
    const auto& m = s.molality;
    const auto& molal = s.conditions.molal;
    const auto sum = [&m](std::initializer_list<Species> all) {
        double out = 0;
        for (const Species i : all) {
            out += m[index(i)];
        }
        return out;
    };
    using enum Species;
    double worst = 0;
    const auto relative = [&worst](double found, double expected, double size) {
        worst = std::max(worst, std::abs(found - expected) / (size > 0 ? size : 1));
    };
    const auto total = [&](Total t, double found) {
        relative(found, molal[index(t)], molal[index(t)]);
    };
    total(Total::Na, m[index(Na)]);
    total(Total::K, m[index(K)]);
    total(Total::Cl, m[index(Cl)]);
    total(Total::Br, m[index(Br)]);
    total(Total::Li, m[index(Li)]);
    total(Total::Ba, m[index(Ba)]);
    total(Total::Mg, sum({Mg, MgOH, MgF, MgBOH4, MgCO3}));
    total(Total::Ca, sum({Ca, CaF, CaBOH4, CaCO3}));
    total(Total::Sr, sum({Sr, SrCO3}));
    total(Total::SO4, sum({SO4, HSO4}));
    total(Total::F, sum({F, HF, MgF, CaF}));
    total(Total::B, sum({BOH3, BOH4, MgBOH4, CaBOH4}));
    total(Total::P, sum({H3PO4, H2PO4, HPO4, PO4}));
    total(Total::Si, sum({H4SiO4, H3SiO4}));
    // Charge: that of the totals in the forms of zero alkalinity (H2PO4 for phosphate), less the
    // alkalinity, is what all species carry.
    double totals_charge = -molal[index(Total::P)];
    double charge = 0;
    double size = 0;
    for (std::size_t t = 0; t < kTotals; ++t) {
        totals_charge += kTotalFacts[t].charge * molal[t];
    }
    for (const Total t :
         {Total::OtherPlus, Total::OtherPlusTwo, Total::OtherMinus, Total::OtherMinusTwo}) {
        totals_charge -= kTotalFacts[index(t)].charge * molal[index(t)];
    }
    for (std::size_t i = 0; i < kSpecies; ++i) {
        charge += kSpeciesFacts[i].charge * m[i];
        size += std::abs(kSpeciesFacts[i].charge * m[i]);
    }
    relative(charge, totals_charge - alkalinity_sum(m), size);
    for (std::size_t i = 0; i < 2; ++i) {
        const double found = closing_value(model, s, closing.kind[i]);
        const double wanted = closing.value[i];
        switch (closing.kind[i]) {
            case Closure::Alkalinity:
                relative(found, wanted, alkalinity_size(m) * s.conditions.water_share);
                break;
            case Closure::Carbon:
                relative(found, wanted, wanted);
                break;
            case Closure::Fugacity:
                // rests on ln gamma, steady to 1e-11
                worst = std::max(worst, 0.05 * std::abs(std::log(found / wanted)));
                break;
            default:
                relative(found, wanted, 1);
        }
    }
    return worst;
}

}  // namespace bw::brine::random_waters
