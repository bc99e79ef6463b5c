// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <vector>

#include "brine/estimate.hpp"
#include "io/fields.hpp"
#include "matter/concentration.hpp"

namespace bw::io {

/// A constituent as a file names it.
struct NamedAmount {
    matter::Constituent constituent;
    unit::TypedQuantity typed;
    std::string key;
};

/// Amounts per kg of solution, and the basis that they were turned to it with.
struct WaterOnBasis {
    matter::Amounts mol_per_kg;
    matter::WaterBasis basis;
    /// Density of the basis and how well it is known [kg/m3], where a litre was spoken of.
    std::optional<brine::Estimate> litre;
};

/// Turns named amounts into mol per kg of solution, over `start`, which they replace.
///
/// Definition   density is brine::density of the composition at the temperature; density and
///              dissolved mass are found so that they fit the result to 1e-13 of each. On the way
///              to it, what is not stated counts as: alkalinity what the charges leave, carbon as
///              much as the alkalinity.
/// Valid        litres: as brine::density, to 300 g/kg; without litres to 999 g/kg.
/// Accuracy     of litres: the standard uncertainty in `litre`.
/// Errors       BadUnit, OutOfRange, each with its place: also where the density is not known or no
///              mass of water fits the amounts.
[[nodiscard]] Result<WaterOnBasis> on_basis(const Fields& table,
                                            const std::vector<NamedAmount>& named,
                                            const matter::Amounts& start,
                                            unit::Celsius temperature);

}  // namespace bw::io
