// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "base/result.hpp"
#include "matter/constituent.hpp"
#include "unit/quantity.hpp"
#include "unit/unit_table.hpp"

namespace bw::matter {

/// What a conversion between bases needs to know of the water.
struct WaterBasis {
    unit::KgPerM3 density;  ///< of the finished water at the temperature at which litres are meant
    unit::GramPerKg dissolved;  ///< mass of salt per kg of finished water
};

/// How many mol (eq for alkalinity) per kg of finished water one unit of a typed quantity stands
/// for.
///
/// Inputs   a unit with its "as" form. For alkalinity mol means eq. For an ion, eq is divided by
/// its charge. Valid    any water whose density and dissolved mass are given; exact but for the
/// molar masses. Errors   BadUnit when the unit cannot state this constituent: a price, eq of an
/// uncharged constituent, a mass of
///          alkalinity without "as", an "as" form that does not hold the constituent.
[[nodiscard]] Result<double> mol_per_kg_per_unit(const unit::TypedQuantity& typed, Constituent c,
                                                 const WaterBasis& basis);

/// A typed quantity in mol (eq) per kg of finished water.
[[nodiscard]] Result<double> mol_per_kg(const unit::TypedQuantity& typed, Constituent c,
                                        const WaterBasis& basis);

/// Scales a water, by adding or taking pure water, to a given mass of dissolved salt [g/kg].
[[nodiscard]] Amounts normalised_to(const Amounts& mol_per_kg, unit::GramPerKg dissolved);

/// Chlorinity: mass of chloride equivalent to all halides, g Cl per kg [g/kg].
/// Definition   (Cl + Br + I) * M(Ag) * 0.3285234 in Cl equivalents reduces to (Cl + Br + I) *
/// 0.3285234 * 107.8682. Source       [millero-2008] section 2: chlorinity is 0.3285234 times the
/// mass of silver needed.
[[nodiscard]] double chlorinity_g_per_kg(const Amounts& mol_per_kg);

}  // namespace bw::matter
