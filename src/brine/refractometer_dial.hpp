// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "brine/instrument.hpp"

namespace bw::brine {

constexpr unit::Celsius kDialCelsius{20};  ///< dials are drawn for this temperature

/// How far the indices of sodium chloride brine and of seawater, measured in different
/// laboratories, may stand apart: 0.5 of salinity, as a standard uncertainty of the index
/// (estimate, from seawater put together of the single salts of [crc-brine-index]).
constexpr double kTwoLaboratories = 5.2e-5;

/// What a dial shows when the index exceeds that of the pure water it was zeroed in.
///
/// Inputs   excess of the index; below 0 the scale is run on as its own mirror image.
/// Valid    up to a brine of 55 g/kg; up to seawater of 42, straight on above.
/// Accuracy that of nacl_index_increment_20, EOS and index of seawater.
/// Errors   OutOfRange.
/// Source   of NaclBrine and NaturalSeawater.
[[nodiscard]] Result<double> dial_reading(Refractometer::Dial dial, double index_excess);

/// "sodium chloride g/kg".
[[nodiscard]] std::string_view dial_name(Refractometer::Dial dial);

}  // namespace bw::brine
