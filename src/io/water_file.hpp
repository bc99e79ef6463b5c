// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>

#include "base/notice.hpp"
#include "brine/water.hpp"
#include "io/document.hpp"

namespace bw::io {

/// A water as its file states it, ready for the model.
struct WaterSpec {
    std::string name, source;
    bool invented = false;
    brine::WaterInput input;
    /// Partial pressure of CO2 [atm], where it is one of the two closing statements.
    std::optional<double> pco2_atm;
    /// How the acid-base balance was closed, in words: "alkalinity and pH".
    std::string closed_by;
    /// False where alkalinity follows from the other two statements.
    bool alkalinity_known = true;
    bool alkalinity_by_charge = false;
    /// Density at which litres were meant [kg/m3], where the file speaks of litres.
    std::optional<double> litre_kg_per_m3;
    base::Notices notices;
    Place place;  ///< of the constituents
};

/// CO2 of the air, where a file says nothing of it [uatm].
inline constexpr double kAirCo2_uatm = 420;

/// Reads a file of kind "water"; docs/reference/files.md describes it.
///
/// Definition   natural proportions of `seawater` first, then the constituents that are named; no
///              other constituent is changed. Litres and kilograms of water are turned into
///              kilograms of solution with the density and the dissolved mass of the result itself,
///              see on_basis.
/// Errors       BadInput, BadUnit, UnknownName, OutOfRange, WrongKind, each with its place: amounts
///              below 0, temperature outside 0 to 40 degC, three or more statements of alkalinity,
///              carbon, CO2 and pH, charges off balance by more than 5 %.
[[nodiscard]] Result<WaterSpec> read_water(const Document& document);

/// Fugacity of CO2 [atm] of a partial pressure in moist air at one atmosphere.
///
/// Source   [weiss-1974].
[[nodiscard]] Result<double> co2_fugacity_atm(double pco2_atm, unit::Celsius temperature);

}  // namespace bw::io
