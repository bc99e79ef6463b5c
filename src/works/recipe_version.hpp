// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/signature.hpp"

namespace bw::works {

enum class VersionState : std::uint8_t { Draft, Offered, InUse, Retired };
template <>
inline constexpr std::size_t kWords<VersionState> = 4;
[[nodiscard]] std::string_view name(VersionState state);

/// A constituent of the water that a recipe makes.
struct Predicted {
    std::string symbol;
    double mol_per_kg = 0;  ///< of finished water
    double u_mol_per_kg = 0;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("symbol", x.symbol);
        v("mol_per_kg", x.mol_per_kg);
        v("u_mol_per_kg", x.u_mol_per_kg);
    }
};

/// A material's share of the dry blend.
struct RecipeShare {
    std::string material;
    double share = 0;  ///< kg per kg of blend
    std::string formula;
    std::vector<std::string> hazards;
    std::vector<std::string> cautions;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("material", x.material);
        v("share", x.share);
        v("formula", x.formula);
        v("hazards", x.hazards);
        v("cautions", x.cautions);
    }
};

/// One frozen state of a recipe.
struct RecipeVersion {
    std::string product;
    std::int64_t number = 1;
    VersionState state = VersionState::Draft;
    std::string target;     ///< text of the target file, as typed
    std::string recipe;     ///< text of the recipe file
    std::string materials;  ///< the materials of its parts: JSON of a file of materials
    std::vector<RecipeShare> shares;
    std::vector<Predicted> water;  ///< catalogue values
    double blend_g_per_kg_purified_water = 0;
    double dissolved_g_per_kg = 0;
    std::string drafted_by;
    std::string why;
    std::string program;  ///< version that computed it
    std::string data_digest;
    std::optional<Signature> approved;
    bool invented = false;

    [[nodiscard]] std::string id() const { return product + "/" + std::to_string(number); }

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("product", x.product);
        v("number", x.number);
        v("state", x.state);
        v("target", x.target);
        v("recipe", x.recipe);
        v("materials", x.materials);
        v("shares", x.shares);
        v("water", x.water);
        v("blend_g_per_kg_purified_water", x.blend_g_per_kg_purified_water);
        v("dissolved_g_per_kg", x.dissolved_g_per_kg);
        v("drafted_by", x.drafted_by);
        v("why", x.why);
        v("program", x.program);
        v("data_digest", x.data_digest);
        v("approved", x.approved);
        v("invented", x.invented);
    }
};

/// Moves a version: draft -> offered -> in use -> retired; offered -> draft takes an offer back.
///
/// Errors   Refused with the ways that are open; in use needs a signature by another than the
///          drafter.
[[nodiscard]] Result<RecipeVersion> moved(RecipeVersion version, VersionState to);

}  // namespace bw::works
