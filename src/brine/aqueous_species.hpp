// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace bw::brine {

/// The dissolved species of the model, as in data/aqueous_species.toml (a test compares).
enum class Species : std::uint8_t {
    H,
    Na,
    K,
    Mg,
    Ca,
    Sr,
    Ba,
    Li,
    MgOH,
    MgF,
    CaF,
    MgBOH4,
    CaBOH4,
    Cl,
    Br,
    F,
    SO4,
    HSO4,
    OH,
    HCO3,
    CO3,
    BOH4,
    CO2,
    BOH3,
    HF,
    MgCO3,
    CaCO3,
    SrCO3,
    H4SiO4,
    H3SiO4,
    H3PO4,
    H2PO4,
    HPO4,
    PO4,
};
inline constexpr std::size_t kSpecies = 34;

template <class Scalar>
using PerSpecies = std::array<Scalar, kSpecies>;

[[nodiscard]] constexpr std::size_t index(Species s) { return static_cast<std::size_t>(s); }

struct SpeciesFacts {
    std::string_view symbol;
    int charge;
    /// Equivalents of total alkalinity that a mole counts, by the definition of Dickson: proton
    /// acceptors of weak acids with pK above 4.5 less the donors [dickson-1981].
    int alkalinity;
};

inline constexpr PerSpecies<SpeciesFacts> kSpeciesFacts{{
    {"H", 1, -1},     {"Na", 1, 0},     {"K", 1, 0},      {"Mg", 2, 0},     {"Ca", 2, 0},
    {"Sr", 2, 0},     {"Ba", 2, 0},     {"Li", 1, 0},     {"MgOH", 1, 1},   {"MgF", 1, 0},
    {"CaF", 1, 0},    {"MgBOH4", 1, 1}, {"CaBOH4", 1, 1}, {"Cl", -1, 0},    {"Br", -1, 0},
    {"F", -1, 0},     {"SO4", -2, 0},   {"HSO4", -1, -1}, {"OH", -1, 1},    {"HCO3", -1, 1},
    {"CO3", -2, 2},   {"BOH4", -1, 1},  {"CO2", 0, 0},    {"BOH3", 0, 0},   {"HF", 0, -1},
    {"MgCO3", 0, 2},  {"CaCO3", 0, 2},  {"SrCO3", 0, 2},  {"H4SiO4", 0, 0}, {"H3SiO4", -1, 1},
    {"H3PO4", 0, -1}, {"H2PO4", -1, 0}, {"HPO4", -2, 1},  {"PO4", -3, 2},
}};

[[nodiscard]] constexpr const SpeciesFacts& facts(Species s) { return kSpeciesFacts[index(s)]; }

[[nodiscard]] constexpr std::optional<Species> find_species(std::string_view symbol) {
    for (std::size_t i = 0; i < kSpecies; ++i) {
        if (kSpeciesFacts[i].symbol == symbol) {
            return static_cast<Species>(i);
        }
    }
    return std::nullopt;
}

}  // namespace bw::brine
