// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/recipe_version.hpp"
#include "works/signature.hpp"

namespace bw::works {

enum class BatchState : std::uint8_t {
    Planned,
    Weighing,
    Blended,
    Sampled,
    UnderTest,
    Ready,
    Released,
    OnHold,
    Rejected
};
template <>
inline constexpr std::size_t kWords<BatchState> = 9;
[[nodiscard]] std::string_view name(BatchState state);

/// Where an addition goes: the blender, a premix, or the stages of carrier that spread the premix.
inline constexpr const char* kBlender = "blender";
inline constexpr const char* kPremix = "premix";
inline constexpr const char* kPremixCarrier = "premix carrier";
/// The second premix, of what may not lie with carbonates; it goes in late.
inline constexpr const char* kLatePremix = "late premix";
inline constexpr const char* kLatePremixCarrier = "late premix carrier";

/// One line of the batch sheet.
struct Addition {
    std::int64_t step = 0;  ///< from 1, in the order of weighing
    std::string material;
    std::string lot;
    double target_kg = 0;     ///< a multiple of the scale's step
    double tolerance_kg = 0;  ///< either way
    std::string scale;
    std::string into;  ///< one of the words above
    std::vector<std::string> cautions;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("step", x.step);
        v("material", x.material);
        v("lot", x.lot);
        v("target_kg", x.target_kg);
        v("tolerance_kg", x.tolerance_kg);
        v("scale", x.scale);
        v("into", x.into);
        v("cautions", x.cautions);
    }
};

/// One step of bringing small amounts into the blend: so much carrier is added to what is there and
/// mixed before the next.
struct PremixStage {
    double carrier_kg = 0;
    double total_kg = 0;  ///< after it

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("carrier_kg", x.carrier_kg);
        v("total_kg", x.total_kg);
    }
};

/// What a lot adjustment changed of one material against the recipe.
struct ShareChange {
    std::string material;
    double recipe_share = 0;  ///< kg per kg of blend
    double batch_share = 0;
    std::optional<std::string> why =
        {};  ///< what the recipe's share would miss, or what it balances

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("material", x.material);
        v("recipe_share", x.recipe_share);
        v("batch_share", x.batch_share);
        v("why", x.why);
    }
};

/// Of one element in the made-up water, the part that one addition brings.
struct ElementShare {
    std::string symbol;
    std::vector<double> by_step;  ///< in the order of the additions

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("symbol", x.symbol);
        v("by_step", x.by_step);
    }
};

/// What came out against what went in [kg].
struct Yield {
    double packed_kg = 0;
    double sampled_kg = 0;
    double swept_kg = 0;
    std::int64_t packs = 0;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("packed_kg", x.packed_kg);
        v("sampled_kg", x.sampled_kg);
        v("swept_kg", x.swept_kg);
        v("packs", x.packs);
    }
};

/// One blended quantity with one batch number.
struct Batch {
    std::string number;
    std::string recipe;  ///< product/number of the version
    std::string product;
    double size_kg = 0;
    BatchState state = BatchState::Planned;
    std::string planned_by;
    std::string planned_at;
    std::string made_on;  ///< day on which it was blended
    std::vector<Addition> additions;
    std::string premix_carrier;
    std::vector<PremixStage> premix;
    std::vector<PremixStage> late_premix;
    std::vector<ShareChange> changes;  ///< empty: the recipe's own shares
    std::optional<Signature> adjustment_approved;
    std::vector<Predicted> water;      ///< of the lots in hand
    std::vector<ElementShare> shares;  ///< what brings each element
    double blend_g_per_kg_purified_water = 0;
    std::optional<Yield> yield;
    std::string rework_of;  ///< batch that was rejected and went into this one
    std::string state_before_hold;
    std::string blended_by;
    std::vector<std::string> notices;
    bool invented = false;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("number", x.number);
        v("recipe", x.recipe);
        v("product", x.product);
        v("size_kg", x.size_kg);
        v("state", x.state);
        v("planned_by", x.planned_by);
        v("planned_at", x.planned_at);
        v("made_on", x.made_on);
        v("additions", x.additions);
        v("premix_carrier", x.premix_carrier);
        v("premix", x.premix);
        v("late_premix", x.late_premix);
        v("changes", x.changes);
        v("adjustment_approved", x.adjustment_approved);
        v("water", x.water);
        v("shares", x.shares);
        v("blend_g_per_kg_purified_water", x.blend_g_per_kg_purified_water);
        v("yield", x.yield);
        v("rework_of", x.rework_of);
        v("state_before_hold", x.state_before_hold);
        v("blended_by", x.blended_by);
        v("notices", x.notices);
        v("invented", x.invented);
    }
};

/// A share counts as changed by a lot adjustment beyond so much of itself.
inline constexpr double kChangedShare = 1e-4;

/// Moves a batch: planned -> weighing -> blended -> sampled -> under test -> ready -> released,
/// rejected or on hold; from hold back to ready, or to released or rejected.
///
/// Errors   Refused with the ways that are open.
[[nodiscard]] Result<Batch> moved(Batch batch, BatchState to);

}  // namespace bw::works
