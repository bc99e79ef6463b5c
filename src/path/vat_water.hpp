// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "brine/saturation.hpp"
#include "brine/speciation.hpp"
#include "brine/water.hpp"
#include "matter/constituent.hpp"

namespace bw::path {

/// What is dissolved in the vat, per kg of water (not of solution).
struct Dissolved {
    brine::PerTotal<double> mol{};
    double alkalinity_eq = 0;
    double carbon_mol = 0;

    void add(const Dissolved& other, double times);
    /// kg of salt per kg of water.
    [[nodiscard]] double salt_kg() const;
    bool operator==(const Dissolved&) const = default;
};

/// Constituents as the chemistry of the vat counts them.
/// Inputs   mol and eq per kg of water.
[[nodiscard]] Dissolved dissolved_of(const matter::Amounts& mol_per_kg_water);

/// The chemistry of one moment.
struct VatState {
    double ph_total = 0;
    double co2_mol_per_kg_water = 0;
    double ln_fugacity_per_co2 = 0;  ///< of fugacity [atm] over the molality of CO2
    double formal_strength = 0;      ///< mol/kg-water
    std::vector<double> ln_omega;    ///< in the order of ref::minerals()

    [[nodiscard]] double fugacity_co2_atm() const {
        return co2_mol_per_kg_water * std::exp(ln_fugacity_per_co2);
    }
};

/// The water of a vat whose temperature moves, evaluated many times along a path.
///
/// Definition   the equilibrium of brine::speciate at two whole degrees around the temperature;
///              logarithms are joined linearly between them.
/// Valid        0 to 40 degC; ionic strength up to 8 mol/kg-water.
/// Accuracy     of the brine model; joining adds up to 3e-4 to ln Omega and 3e-5 to pH
///              (test/unit/vat_water_test).
/// Errors       nothing where the water is outside the model or has no equilibrium.
/// Complexity   two equilibria, about 25 us; each degree met for the first time about 0.7 ms.
class VatWater {
public:
    /// Nothing when the water is outside the model or has no equilibrium.
    [[nodiscard]] const VatState* at(const Dissolved& dissolved, double celsius);

private:
    /// A whole degree: its model, and the last equilibrium there, from which the next starts.
    struct Node {
        std::optional<brine::WaterModel> model;
        std::optional<brine::Speciation<double>> last;
        VatState state;
    };
    [[nodiscard]] const VatState* at_node(const Dissolved& dissolved, std::size_t degree);

    std::array<Node, 41> nodes_;  // 0 to 40 degC
    VatState joined_;
};

}  // namespace bw::path
