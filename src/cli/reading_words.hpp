// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string_view>

#include "brine/instrument.hpp"
#include "cli/measured.hpp"

namespace bw::cli {

/// Reads one reading as a phrase of parts between commas: instrument and value, then what must be
/// known of it.
///
///   conductivity 53.1 mS/cm, to 25 degC by 2 %/K, at 22 degC
///   conductivity 48.9 mS/cm, uncompensated, at 22 degC
///   salinity-meter 35.0, at 22 degC
///   refractometer 36.4 g/kg, dial sodium-chloride
///   refractometer 35, dial seawater, uncompensated, zeroed at 20 degC, at 24 degC
///   hydrometer 1.0253, marked 20/20, at 25 degC
///   density 1023.3 kg/m3, at 25 degC
///   weighed 36.5 g in 1000 g, anhydrous 95 %
///
/// Inputs   the phrase; the temperature of readings that name none. A value may carry its standard
///          uncertainty, "36.4 +- 0.3 g/kg", and so may a temperature; "standard +- 0.2 g/kg"
///          states that of the fluid the instrument was set with. What is not stated is taken as
///          usual for the kind of instrument.
/// Errors   BadInput, BadNumber, BadUnit, OutOfRange, in one sentence.
[[nodiscard]] Result<brine::Reading> parse_reading(std::string_view phrase,
                                                   const std::optional<Measured>& at);

/// An instrument without a value: "refractometer, dial sodium-chloride".
[[nodiscard]] Result<brine::Instrument> parse_instrument(std::string_view phrase);

/// Places after the point with which a reading is printed.
[[nodiscard]] int places_shown(const brine::Instrument& instrument);

}  // namespace bw::cli
