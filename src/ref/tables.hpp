// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string_view>

/// The cited tables of data/, compiled into constants by tools/datac. Every row names its source by
/// a key of data/sources.toml and the place in it.
namespace bw::ref {

struct Source {
    std::string_view key, authors, title, where, doi, used_for, checked;
    int year;
};

/// CIAAW abridged standard atomic weight; the true value of a normal sample lies within value +-
/// limit.
struct AtomicWeight {
    std::string_view set;  ///< "2021" or "2005"
    std::string_view symbol, name, source, at;
    int number;
    double value_g_per_mol, limit_g_per_mol;
};

/// A constituent: the total of all forms in which one component is dissolved.
struct ConstituentRow {
    std::string_view symbol;  ///< as the trade writes it
    std::string_view name;
    std::string_view formula;       ///< what a mass of it counts
    std::string_view dissolved_as;  ///< the fully protonated form whose mass counts to salinity
    int charge;                     ///< of the form that neither gives nor takes alkalinity
    std::string_view group;         ///< "major", "minor", "trace", "nutrient", "organic", "sum"
    std::string_view source, at;
};

struct ReferenceSpecies {
    std::string_view name, formula;
    double mole_fraction;
};

struct NaturalTrace {
    std::string_view symbol, source, at, checked;
    double nmol_per_kg, low_nmol_per_kg, high_nmol_per_kg;
};

struct HazardStatement {
    std::string_view code, kind, signal, pictogram, text, source;
};

/// A pure salt that a maker could buy, offered when a recipe lacks something.
struct PureSalt {
    std::string_view name, formula;
};

/// How a solid dissolves at 25 degC; data/dissolving.toml says what each number means.
struct DissolvingRow {
    std::string_view formula;
    std::string_view cation, anion;  ///< symbols of brine's ions; empty when it leaves none
    std::string_view density_source, solubility_source, diffusion_source, heat_source, at;
    double density_kg_per_m3;
    double mass_percent;  ///< of the part without hydrate water, in the saturated solution
    double saturated_density_kg_per_m3;
    double diffusion_m2_per_s;  ///< 0: from the ions
    double heat_kJ_per_mol;     ///< of solution at infinite dilution
    double crust_slowing;       ///< 0: none
};

[[nodiscard]] std::span<const Source> sources();
[[nodiscard]] std::span<const AtomicWeight> atomic_weights();
[[nodiscard]] std::span<const ConstituentRow> constituents();
[[nodiscard]] std::span<const ReferenceSpecies> reference_species();
[[nodiscard]] std::span<const NaturalTrace> natural_traces();
[[nodiscard]] std::span<const HazardStatement> hazard_statements();
[[nodiscard]] std::span<const PureSalt> pure_salts();
[[nodiscard]] std::span<const DissolvingRow> dissolving();

/// Salinity of Reference-Composition Seawater at practical salinity 35 [g/kg].
[[nodiscard]] double reference_salinity_g_per_kg();
/// Mole-weighted mean molar mass of its sea salt [g/mol].
[[nodiscard]] double reference_molar_mass_g_per_mol();

/// SHA-256 over all tables, first 16 hexadecimal digits; stamped on every result.
[[nodiscard]] std::string_view data_digest();

}  // namespace bw::ref
