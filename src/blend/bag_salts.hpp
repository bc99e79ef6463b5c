// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <vector>

#include "matter/material.hpp"

namespace bw::blend {

/// A material of a blend with its share.
struct BagPart {
    matter::Material material;
    matter::MakeUp make_up;
    double kg_per_kg = 0;  ///< of blend
};

/// One salt of a blend with its crystal water, from one material or several.
struct BagSalt {
    std::string dry;      ///< formula without water, "MgSO4"
    std::string formula;  ///< as the material names it, "MgSO4.7H2O"
    double waters = 0;    ///< mol per mol of salt that it holds now
    double mol_per_kg = 0;
    double kg_per_kg = 0;  ///< of blend, with its crystal water
    std::vector<std::string> materials;
};

struct BagSalts {
    std::vector<BagSalt> salts;        ///< largest first
    double loose_water_g_per_kg = 0;   ///< of blend: neither crystal water nor bound to a sink
    std::vector<std::string> no_salt;  ///< materials in which no salt could be told
};

/// Sorts what a blend holds into salts and water.
///
/// Definition   one salt per formula and material; a material given by its make-up counts the salts
///              named there. Water of a material: that of the formula's hydrate as crystal water,
///              more than that as loose water; where the formula has no water, stated moisture is
///              loose, and of calcium, magnesium and sodium carbonate salts whose assay or loss on
///              ignition leaves room for water, that water is bound to the salt.
/// Inputs       parts whose shares sum to 1.
/// Accuracy     the water left over by an assay is no better than the assay.
/// Errors       none: what cannot be told is named.
[[nodiscard]] BagSalts bag_salts(std::span<const BagPart> parts);

/// The salt with this dry formula and at least this share, or null.
[[nodiscard]] const BagSalt* find_salt(const BagSalts& salts, std::string_view dry);

}  // namespace bw::blend
