// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::path {

/// What decides how fast a solid dissolves and how it heats the water, at 25 degC.
struct DissolvingSolid {
    std::string formula;  ///< as in the table; as asked when estimated
    double molar_mass_g_per_mol;
    double density_kg_per_m3;           ///< of the crystal
    double saturation_kg_per_m3;        ///< of the whole formula in the saturated solution
    double diffusion_25_m2_per_s;       ///< of the salt, both ions together
    double heat_of_solution_J_per_mol;  ///< at infinite dilution; negative where the water warms
    double crust_slowing;  ///< at least 1: slower than the film allows, by a crust of hydrate
    bool estimated;        ///< not in the table: a salt like many, heat taken as 0
    /// A solid that a vat can saturate: its place in ref::minerals(), which says how near the water
    /// is, and the ions of its formula. Nothing for salts that dissolve by the hundred grams.
    std::optional<std::size_t> mineral = std::nullopt;
    int ions = 2;

    bool operator==(const DissolvingSolid&) const = default;
};

/// Looks a solid up; one that is not in the table gets an estimate and says so.
///
/// Definition   table data/dissolving.toml; saturation = mass fraction of the part without hydrate
///              water * density of the solution * M(formula) / M(without hydrate water). Diffusion
///              from the ions, Nernst and Hartley: (|z+| + |z-|) D+ D- / (|z+| D+ + |z-| D-) with
///              the mobilities of brine::ion_table(), or the row's own.
/// Inputs       a chemical formula as read by matter::parse_formula; parts in the table's order, or
///              the same atoms and hydrate water in another.
/// Accuracy     saturation 3 % at 25 degC, where the solid in the table is the one in hand; it is
///              not changed with temperature: at 20 degC the solubility of Na2SO4 is 26 % less,
///              Na2CO3 24 %, Na2B4O7 19 %, H3BO3 13 %, the others at most 7 % off. Diffusion 15 %;
///              the estimate within a factor of 3 on times.
///              A mineral that is not in that table has the saturation of its own constant in pure
///              water, (K / prod nu^nu)^(1/nu) mol/kg, activities taken as 1: up to a factor of 2
///              too little, so too slow. Of minerals of one formula the least soluble is taken.
/// Errors       BadFormula.
/// Source       per row; constants of minerals in data/minerals.toml; estimate
/// [estimate-dissolving].
[[nodiscard]] Result<DissolvingSolid> dissolving_solid(std::string_view formula);

}  // namespace bw::path
