// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "io/fields.hpp"
#include "matter/concentration.hpp"
#include "matter/constituent.hpp"

namespace bw::io {

/// A constituent's quantity as it stands in a table.
struct StatedAmount {
    double mol_per_kg = 0;  ///< eq/kg of alkalinity
    unit::TypedQuantity typed;
    double factor = 0;  ///< mol/kg per one of the unit
};
/// Errors   OutOfRange: negative, more than a kilogram per kilogram, or below 1e-15 mol/kg and not
/// 0; those of matter::mol_per_kg_per_unit.
[[nodiscard]] Result<std::optional<StatedAmount>> stated_amount(const Fields& table,
                                                                std::string_view key,
                                                                matter::Constituent c,
                                                                const matter::WaterBasis& basis);

/// The table [purified_water] of a target or recipe, mol per kg of it; nothing where there is none.
///
/// Inputs   the temperature at which its litres are meant; they weigh what pure water weighs.
/// Errors   those of stated_amount; UnknownName; OutOfRange for the temperature.
[[nodiscard]] Result<matter::Amounts> read_purified_water(const Fields& root,
                                                          double temperature_degC);
/// The table that reads back to the same numbers; empty for pure water.
[[nodiscard]] std::string purified_water_toml(const matter::Amounts& mol_per_kg);

}  // namespace bw::io
