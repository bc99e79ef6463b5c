// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::unit {

/// What kind of quantity a unit measures. Two units convert by factor only within one dimension.
enum class Dimension {
    AmountPerMass,        ///< mol/kg (of solution, or of material)
    MassPerMass,          ///< kg/kg
    AmountPerVolume,      ///< mol/L
    MassPerVolume,        ///< kg/L
    AmountPerWaterMass,   ///< mol per kg of water in the solution
    EquivalentPerMass,    ///< eq/kg
    EquivalentPerVolume,  ///< eq/L
    EquivalentPerWaterMass,
    Mass,          ///< kg
    Temperature,   ///< degC
    Length,        ///< m
    Density,       ///< kg/m3
    Fraction,      ///< of one
    PricePerMass,  ///< money per kg
    Conductivity,  ///< mS/cm
    Volume,        ///< L
    PerKelvin,     ///< of one, per K
    Pressure,      ///< atm, of a gas
    Time,          ///< h
    PerTime,       ///< 1/h
    PowerPerMass,  ///< W/kg
    HeatingRate,   ///< K/h
    Speed,         ///< m/h
};

struct Unit {
    std::string_view symbol;  ///< as printed
    Dimension dimension;
    double factor;  ///< value in the dimension's unit above = factor * number + offset
    double offset = 0;
};

/// All units known, prices excepted (any currency is allowed there).
[[nodiscard]] std::span<const Unit> all_units();

/// A quantity as typed: number, unit, and the form named after "as".
struct TypedQuantity {
    double number = 0;
    Unit unit{};
    std::string as;        ///< "CaCO3", "N", or empty
    std::string currency;  ///< for prices
    std::string text;      ///< as typed

    /// In the dimension's unit.
    [[nodiscard]] double value() const { return unit.factor * number + unit.offset; }
};

/// Finds a unit by its symbol. Micro may be written u, U+00B5 or U+03BC; degC
/// with the sign of degrees.
///
/// Errors   BadUnit, with the reason for ppm and ppt, and the nearest known unit for others.
[[nodiscard]] Result<Unit> find_unit(std::string_view symbol);

/// Reads "440 mg/L", "11.5 dKH", "26 mg/L as H3BO3", "0.62 EUR/kg". A message suggests only units
/// of the kind of `example_unit`; any, where it is empty.
///
/// Errors   BadNumber, BadUnit.
[[nodiscard]] Result<TypedQuantity> parse_quantity(std::string_view text,
                                                   std::string_view example_unit = "mg/L");

/// A unit that one would expect of the dimension, for messages: "25 degC".
[[nodiscard]] std::string_view example_unit(Dimension dimension);

/// Reads the part after the number: "mg/L as CaCO3".
[[nodiscard]] Result<TypedQuantity> parse_unit_phrase(std::string_view text);

[[nodiscard]] std::string_view describe(Dimension dimension);

}  // namespace bw::unit
