// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "brine/salt_law.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {

/// A quantity as typed, with its standard uncertainty if one was typed: "53.1 +- 0.3 mS/cm".
struct Measured {
    double value = 0;  ///< in the dimension's unit
    std::optional<double> u;
    std::optional<unit::Dimension> dimension;  ///< nothing for a bare number
};

/// Reads "35", "53.1 mS/cm", "53.1 +- 0.3 mS/cm"; U+00B1 may stand for +-.
/// Errors   BadNumber, BadUnit.
[[nodiscard]] Result<Measured> parse_measured(std::string_view text);

/// The same, of one of these dimensions; `field` is named in problems. A bare number is a problem.
[[nodiscard]] Result<Measured> parse_measured(std::string_view field, std::string_view text,
                                              std::initializer_list<unit::Dimension> allowed);

/// The same where an uncertainty would not be used, so that none is dropped in silence.
[[nodiscard]] Result<double> parse_plain(std::string_view field, std::string_view text,
                                         std::initializer_list<unit::Dimension> allowed);

/// "25 degC".
[[nodiscard]] Result<unit::Celsius> parse_celsius(std::string_view field, std::string_view text);
/// A temperature at which the law knows the density.
[[nodiscard]] Result<unit::Celsius> parse_celsius(std::string_view field, std::string_view text,
                                                  const brine::SaltLaw& law);

/// A share of one and its standard uncertainty, from `least` to `most`; `allowed` tells the range.
[[nodiscard]] Result<Measured> parse_share(std::string_view field, std::string_view text,
                                           double least, double most, std::string_view allowed);

/// "35" (practical salinity) or "35.165 g/kg", as the dissolved mass of this salt.
struct Strength {
    unit::GramPerKg dissolved;
    double u_g_per_kg = 0;
};
[[nodiscard]] Result<Strength> parse_salinity(std::string_view field, std::string_view text,
                                              const brine::SaltLaw& law);
/// The same of a salinity that is wanted: it has no uncertainty.
[[nodiscard]] Result<unit::GramPerKg> parse_wanted(std::string_view field, std::string_view text,
                                                   const brine::SaltLaw& law);

/// A number in a unit that the table of units does not have, "0.5 g/m2/day", or in per cent;
/// `example` is named in problems.
[[nodiscard]] Result<double> in_unit(std::string_view field, std::string_view text,
                                     std::string_view unit, std::string_view example);

/// Puts the field's name into a problem that has none.
[[nodiscard]] tl::unexpected<Problem> in_field(std::string_view field, Problem problem);

}  // namespace bw::cli
