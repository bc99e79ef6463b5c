// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>

#include "recipe/target.hpp"

namespace bw::recipe {

/// The materials that go into the blender one after the other, in this order.
enum class BlendGroup : std::uint8_t {
    Carrier,  ///< sodium chloride
    Basic,    ///< carbonates, borates, fluorides, silicates, phosphates
    Sulfate,  ///< of magnesium and the alkalis
    Potassium,
    Other,
    Premix,       ///< diluted in carrier already
    Hygroscopic,  ///< draws water
};

/// Group of a material, by what it is and mainly brings, never by its name.
///
/// Source   common practice for the order.
[[nodiscard]] BlendGroup blend_group(const Supply& supply);

/// Whether it draws water from the air of a blending room: a salt whose brine forms below 60 % of
/// saturation by the table of deliquescence, or a chloride of magnesium, calcium, strontium or
/// lithium in any hydrate.
///
/// Source   ref::deliquescence(); 60 % for a room: common practice.
[[nodiscard]] bool draws_water(const Supply& supply);

/// What a small portion may lie with while it is spread in a carrier.
enum class Company : std::uint8_t {
    Any,         ///< neutral salts of the alkalis: with all, and as a carrier
    Carbonates,  ///< carbonates, borates, fluorides, sulfates: not with those of the next
    Chlorides,   ///< draws water, or a soluble salt of Mg, Ca, Sr, Li: not with those above
    None,        ///< both at once (magnesium sulfate): by itself
};

/// Definition   by the constituents that the material is bought for, over 0.5 mol/kg of it:
/// carbonate
///              and the like against magnesium, calcium, strontium and lithium, which they
///              precipitate as soon as the portion is damp. A pure carbonate, fluoride
///              or hydroxide of those metals is insoluble and counts as a carbonate.
[[nodiscard]] Company company_of(const Supply& supply);

}  // namespace bw::recipe
