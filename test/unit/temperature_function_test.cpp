// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/temperature_function.hpp"

#include <cmath>
#include <complex>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "matter/formula.hpp"
#include "num/dual.hpp"
#include "ref/tables.hpp"

namespace {

using bw::brine::evaluate;
using bw::brine::evaluate_log10;
namespace ref = bw::ref;
using ref::InteractionKind;
using ref::InteractionSet;

constexpr double kT25 = 298.15;
constexpr InteractionSet kSets[] = {InteractionSet::Seawater, InteractionSet::Brine};

const ref::MineralRow& mineral(std::string_view key) {
    for (const auto& row : ref::minerals()) {
        if (row.key == key) {
            return row;
        }
    }
    throw std::out_of_range(std::string(key));
}

double log10_at_25(std::string_view key) { return evaluate(mineral(key).log_k, kT25); }

const ref::ReactionRow& reaction(InteractionSet set, std::string_view product) {
    for (const auto& row : ref::reactions(set)) {
        if (row.product == product) {
            return row;
        }
    }
    throw std::out_of_range(std::string(product));
}

std::vector<ref::TemperatureFunction> all_functions() {
    std::vector<ref::TemperatureFunction> out;
    for (const auto set : kSets) {
        out.push_back(ref::limiting_slope(set));
        for (const auto& row : ref::interactions(set)) {
            out.push_back(row.value);
        }
        for (const auto& row : ref::reactions(set)) {
            for (const auto& part : row.log_k) {
                if (part.times != 0) {
                    out.push_back(part.function);
                }
            }
        }
    }
    for (const auto& row : ref::minerals()) {
        out.push_back(row.log_k);
        out.push_back(row.log_k_brine);
    }
    return out;
}

// Printed constants at 25 degC.
TEST(TemperatureFunction, KnownSolids) {
    EXPECT_NEAR(evaluate(mineral("aragonite").log_k_brine, kT25), -8.22, 0.005);
    EXPECT_NEAR(evaluate(mineral("calcite").log_k_brine, kT25), -8.44, 0.005);
    EXPECT_NEAR(log10_at_25("aragonite"), -8.336, 0.0005);
    EXPECT_NEAR(log10_at_25("calcite"), -8.480, 0.0005);
    EXPECT_NEAR(log10_at_25("vaterite"), -7.913, 0.0005);
    EXPECT_NEAR(log10_at_25("ikaite"), -6.585, 0.0005);
    EXPECT_NEAR(log10_at_25("amorphous_CaCO3"), std::log10(3.98e-7), 0.001);
    EXPECT_NEAR(log10_at_25("halite"), 1.582, 0.0005);
    EXPECT_NEAR(log10_at_25("gypsum"), -4.60, 0.005);
    EXPECT_NEAR(log10_at_25("anhydrite"), -4.251, 0.0005);
    EXPECT_NEAR(log10_at_25("celestite"), -6.66, 0.005);
    EXPECT_NEAR(log10_at_25("strontianite"), -9.271, 0.0005);
    EXPECT_NEAR(log10_at_25("fluorite"), -10.60, 0.005);
}

TEST(TemperatureFunction, KnownReactions) {
    // Weak acids and water: published pK at 25 degC are 14.00, 10.33, 6.35, 9.24, 1.98, 3.17.
    for (const auto set : kSets) {
        EXPECT_NEAR(evaluate_log10(reaction(set, "OH"), kT25), -14.00, 0.006);
        EXPECT_NEAR(evaluate_log10(reaction(set, "HCO3"), kT25), 10.33, 0.011);
        EXPECT_NEAR(evaluate_log10(reaction(set, "CO2"), kT25), 10.33 + 6.35, 0.01);
        EXPECT_NEAR(evaluate_log10(reaction(set, "BOH4"), kT25), -9.24, 0.005);
        EXPECT_NEAR(evaluate_log10(reaction(set, "HSO4"), kT25), 1.983, 0.006);
        EXPECT_NEAR(evaluate_log10(reaction(set, "HF"), kT25), 3.17, 0.005);
    }
    EXPECT_NEAR(evaluate_log10(reaction(InteractionSet::Seawater, "MgOH"), kT25),
                3.87 - 501.5 / kT25 - 13.9946, 1e-4);
    EXPECT_NEAR(evaluate_log10(reaction(InteractionSet::Brine, "MgCO3"), kT25), 2.928, 0.0005);
    EXPECT_NEAR(evaluate_log10(ref::gases()[0].log_k, kT25), -1.468, 0.0005);
}

TEST(TemperatureFunction, KnownSlope) {
    for (const auto& [celsius, slope] :
         {std::pair{15.0, 0.38506}, std::pair{25.0, 0.39148}, std::pair{35.0, 0.39853}}) {
        for (const auto set : kSets) {
            EXPECT_NEAR(evaluate(ref::limiting_slope(set), celsius + 273.15), slope, 6e-6);
        }
    }
}

TEST(TemperatureFunction, DerivativesOfEveryRow) {
    constexpr double kStep = 1e-20;
    constexpr double kDifference = 1e-2;
    for (const auto& function : all_functions()) {
        for (const double t : {278.15, 298.15, 313.15}) {
            const auto complex = evaluate(function, std::complex<double>(t, kStep));
            const auto dual = evaluate(function, bw::num::Dual<1>::variable(t, 0));
            const double value = evaluate(function, t);
            const double slope = complex.imag() / kStep;
            EXPECT_NEAR(complex.real(), value, 1e-10 * (1 + std::abs(value)));
            EXPECT_NEAR(dual.v, value, 1e-10 * (1 + std::abs(value)));
            EXPECT_NEAR(dual.g[0], slope, 1e-10 * (1 + std::abs(slope)));
            const double difference =
                (evaluate(function, t + kDifference) - evaluate(function, t - kDifference)) /
                (2 * kDifference);
            EXPECT_NEAR(slope, difference, 1e-6 * (1 + std::abs(slope)));
        }
    }
}

std::map<std::string_view, int> charges() {
    std::map<std::string_view, int> out;
    for (const auto& row : ref::aqueous_species()) {
        out[row.symbol] = row.charge;
    }
    return out;
}

TEST(BrineTables, SpeciesReadAsFormulas) {
    for (const auto& row : ref::aqueous_species()) {
        const auto formula = bw::matter::parse_formula(row.formula);
        ASSERT_TRUE(formula) << row.symbol;
        EXPECT_EQ(formula->charge, row.charge) << row.symbol;
    }
}

TEST(BrineTables, EverySourceIsListed) {
    std::set<std::string_view> known;
    for (const auto& source : ref::sources()) {
        known.insert(source.key);
    }
    const auto expect_known = [&](const auto& rows) {
        for (const auto& row : rows) {
            EXPECT_TRUE(known.contains(row.source)) << row.source;
        }
    };
    expect_known(ref::aqueous_species());
    expect_known(ref::gases());
    expect_known(ref::minerals());
    for (const auto set : kSets) {
        expect_known(ref::interactions(set));
        expect_known(ref::reactions(set));
    }
}

TEST(BrineTables, ChargesFitTheKind) {
    const auto z = charges();
    for (const auto set : kSets) {
        for (const auto& row : ref::interactions(set)) {
            EXPECT_EQ(row.set, set);
            const bool three =
                row.kind == InteractionKind::Psi || row.kind == InteractionKind::Zeta;
            ASSERT_EQ(row.species[2].empty(), !three) << row.at;
            const int first = z.at(row.species[0]);
            const int second = z.at(row.species[1]);
            const int third = three ? z.at(row.species[2]) : 0;
            switch (row.kind) {
                case InteractionKind::Theta:
                    EXPECT_GT(first * second, 0) << row.at;
                    break;
                case InteractionKind::Psi:
                    EXPECT_TRUE(first * second > 0 && first * third < 0) << row.at;
                    break;
                case InteractionKind::Lambda:
                    EXPECT_EQ(first, 0) << row.at;
                    break;
                case InteractionKind::Zeta:
                    EXPECT_TRUE(first == 0 && second > 0 && third < 0) << row.at;
                    break;
                default:
                    EXPECT_TRUE(first > 0 && second < 0) << row.at;
            }
        }
    }
}

TEST(BrineTables, EveryC1HasItsOmega) {
    for (const auto set : kSets) {
        std::set<std::string> c1;
        std::set<std::string> omega;
        for (const auto& row : ref::interactions(set)) {
            const auto pair = std::string(row.species[0]) + "-" + std::string(row.species[1]);
            (row.kind == InteractionKind::C1 ? c1 : omega)
                .insert(row.kind == InteractionKind::C1 || row.kind == InteractionKind::Omega ? pair
                                                                                              : "");
        }
        omega.erase("");
        EXPECT_EQ(c1, omega);
    }
}

void add(std::map<std::string, double>& elements, std::string_view formula, double times) {
    const auto read = bw::matter::parse_formula(formula);
    ASSERT_TRUE(read) << formula;
    for (const auto& atom : read->atoms) {
        elements[atom.element] += times * atom.count;
    }
}

template <class Terms>
void expect_balance(std::string_view name, std::string_view product, const Terms& terms) {
    std::map<std::string_view, std::string_view> formulas{{"H2O", "H2O"}};
    for (const auto& row : ref::aqueous_species()) {
        formulas[row.symbol] = row.formula;
    }
    std::map<std::string, double> elements;
    add(elements, product, -1);
    for (const auto& term : terms) {
        if (!term.species.empty()) {
            add(elements, formulas.at(term.species), term.coefficient);
        }
    }
    for (const auto& [element, left] : elements) {
        EXPECT_NEAR(left, 0, 1e-12) << name << ": " << element;
    }
}

TEST(BrineTables, ReactionsKeepEveryElement) {
    const std::set<std::string_view> basis = {"H",  "CO3", "BOH3", "SO4", "F",
                                              "Mg", "Ca",  "Sr",   "H2O"};
    std::map<std::string_view, std::string_view> formulas;
    for (const auto& row : ref::aqueous_species()) {
        formulas[row.symbol] = row.formula;
    }
    for (const auto set : kSets) {
        for (const auto& row : ref::reactions(set)) {
            expect_balance(row.product, formulas.at(row.product), row.terms);
            for (const auto& term : row.terms) {
                EXPECT_TRUE(term.species.empty() || basis.contains(term.species)) << row.product;
            }
        }
    }
    for (const auto& row : ref::minerals()) {
        expect_balance(row.key, row.formula, row.dissolves_to);
    }
    for (const auto& row : ref::gases()) {
        EXPECT_EQ(formulas.at(row.dissolved), row.formula);
    }
}

}  // namespace
