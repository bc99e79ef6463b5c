// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "io/water_basis.hpp"
#include "io/water_file.hpp"

namespace bw::io {

/// What a water file says of pH and CO2.
struct StatedAcidBase {
    std::optional<double> ph;
    brine::Closure ph_scale = brine::Closure::PhTotal;
    bool is_scale_stated = false;
    std::optional<double> pco2_atm;
};

/// Reads pH, pH_scale and pCO2, from the table of constituents or the top of the file.
///
/// Errors   BadInput, BadUnit, OutOfRange with their place.
[[nodiscard]] Result<StatedAcidBase> stated_acid_base(const Fields& root,
                                                      const std::optional<Fields>& table);

/// What of the acid-base balance the file states or brings.
struct AcidBaseStatements {
    bool alkalinity = false;  ///< named
    bool carbon = false;
    bool natural = false;  ///< both come in natural proportion, where not named
    StatedAcidBase other;
};

/// Settles which two statements close the balance, and puts them into `spec`.
///
/// Definition   two that the file names; of one, alkalinity goes with air and any other with
///              alkalinity, natural where the water is, else by charge balance; without any, a
///              natural water keeps its alkalinity and carbon, another takes alkalinity by charge
///              balance and air.
/// Errors       BadInput for three or more.
[[nodiscard]] Result<void> close_balance(const Fields& table, const AcidBaseStatements& said,
                                         WaterSpec& spec);

}  // namespace bw::io
