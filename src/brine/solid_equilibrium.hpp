// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "brine/water.hpp"

namespace bw::brine {

/// A solid that may fall out, and how much did.
struct Precipitate {
    const ref::MineralRow* solid = nullptr;
    double mol_per_kg = 0;  ///< per kg of the water before anything fell out
    double g_per_kg = 0;
};

/// A water at equilibrium with chosen solids and, if asked, with air.
struct SolidEquilibrium {
    WaterInput water;  ///< what is left dissolved, per kg of the solution that is left
    WaterState state;
    double solution_kg_per_kg = 1;          ///< solution left per kg before
    std::vector<Precipitate> precipitates;  ///< all allowed solids, 0 where none fell out
    int rounds = 0;
};

/// Lets chosen solids fall out until none is supersaturated.
///
/// Definition   amounts n >= 0 with Omega <= 1 and n (1 - Omega) = 0 for every allowed solid: the
///              state of least Gibbs energy. Hydrate water leaves with the solid; carbon that air
///              gives or takes has its mass. Solids that can be turned into one another, water
///              aside (calcium carbonates; gypsum and anhydrite; calcite, magnesite and dolomite)
///              do not stay together: the less soluble do.
/// Inputs       a model; a water of its temperature; keys of ref::minerals(); fugacity of CO2
///              [atm] to keep, or nothing: closed to air.
/// Valid        as WaterModel; nothing dissolves that was not in the water.
/// Accuracy     ln Omega of solids present 1e-9, in the state that is given back too.
/// Errors       UnknownName, OutOfRange when no set of solids settles.
/// Complexity   about six speciations for each solid that comes or goes, each again aside for the
///              slopes at a start; 0.1 to 0.5 ms.
[[nodiscard]] Result<SolidEquilibrium> equilibrate(const WaterModel& model, const WaterInput& water,
                                                   std::span<const std::string_view> solids,
                                                   std::optional<double> fugacity_atm = {});

}  // namespace bw::brine
