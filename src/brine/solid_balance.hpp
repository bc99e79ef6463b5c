// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "brine/acid_base.hpp"
#include "brine/water.hpp"

/// What solids take out of a water, and what that leaves.
namespace bw::brine {

/// What one mole of a solid takes out of the water.
struct Taken {
    std::size_t row = 0;
    PerTotal<double> totals{};
    double carbon = 0, alkalinity = 0, mass_kg = 0;
    double water_kg = 0;  ///< its mass less that of its constituents as they count when dissolved
};

/// Errors   UnknownName: no such solid.
[[nodiscard]] Result<Taken> taken_by(std::string_view key, const EquilibriumModel<double>& model);

/// The water at the start, per kg of its solution.
struct WaterBefore {
    PerTotal<double> totals{};
    double alkalinity = 0, carbon = 0, water_kg = 1;
    std::optional<double> fugacity;
};

/// What is left of that kg.
struct WaterLeft {
    PerTotal<double> mol_per_kg;
    double dissolved, mass;
    Closing<double> closing;
};

/// Inputs   mol of each solid; mol of carbon in the water, read where it meets air.
[[nodiscard]] WaterLeft left_after(const WaterBefore& start, const std::vector<Taken>& solids,
                                   const std::vector<double>& n, double carbon_in_air);

/// What is left as a water of its own.
[[nodiscard]] WaterInput left_water(const WaterInput& before, const WaterBefore& start,
                                    const WaterLeft& left);

}  // namespace bw::brine
