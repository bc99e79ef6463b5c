// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/heat_of_solution.hpp"

namespace bw::path {

double temperature_change_K(std::span<const SolidDissolved> dissolved, const Liquid& liquid) {
    double heat_J_per_kg = 0;
    for (const SolidDissolved& part : dissolved) {
        heat_J_per_kg += part.mol_per_kg * part.heat_of_solution_J_per_mol;
    }
    return -heat_J_per_kg / liquid.heat_capacity_J_per_kg_K;
}

}  // namespace bw::path
