// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

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
    bool by_litre = false;        ///< a litre was spoken of
    bool beyond_density = false;  ///< and the density was carried beyond practical salinity 42
};

/// Turns named amounts into mol per kg of solution, over `start`, which they replace.
///
/// Definition   density is that of natural seawater of the same dissolved mass at the temperature,
///              carried on in a straight line above practical salinity 42; density and dissolved
///              mass are found so that they fit the result to 1e-13.
/// Errors       BadUnit, OutOfRange, each with its place.
[[nodiscard]] Result<WaterOnBasis> on_basis(const Fields& table,
                                            const std::vector<NamedAmount>& named,
                                            const matter::Amounts& start,
                                            unit::Celsius temperature);

/// Density of natural seawater by dissolved mass, as above [kg/m3].
[[nodiscard]] Result<unit::KgPerM3> litre_density(unit::GramPerKg dissolved,
                                                  unit::Celsius temperature);

}  // namespace bw::io
