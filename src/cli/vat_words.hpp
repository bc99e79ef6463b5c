// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>

#include "brine/vat.hpp"
#include "cli/measured.hpp"
#include "cli/salt_options.hpp"
#include "service/mixed_water.hpp"

namespace bw::cli {

/// A dry blend and where its share of salt comes from.
struct BlendInHand {
    brine::Blend blend;
    std::string_view from;  ///< "stated", "recipe" or "assumed"
    std::string notice;     ///< empty where it is stated with its uncertainty
};
/// By "95 +- 0.3 %" of its mass that is salt free of water; where that is not stated, by the
/// materials of the recipe given as --water, and else as free of water.
[[nodiscard]] Result<BlendInHand> parse_blend(const std::optional<std::string>& anhydrous,
                                              const SaltOptions& salt);
/// Purified water by mass or volume, as kg.
[[nodiscard]] Result<double> parse_water_kg(std::string_view field, std::string_view text,
                                            const brine::PurifiedWater& water);
/// Standard uncertainty of each weighing, a share.
[[nodiscard]] Result<double> parse_weighing(std::string_view text);
/// A strong water of the same salt.
[[nodiscard]] Result<brine::Added> parse_concentrate(std::string_view text);

/// Purified water by its temperature (if none is stated, that of the vat) and its solids.
[[nodiscard]] Result<brine::PurifiedWater> parse_purified(std::string_view at,
                                                          std::string_view solids,
                                                          unit::Celsius vat);

/// A vat by exactly one of volume and mass.
[[nodiscard]] Result<brine::Vat> parse_vat(const brine::SaltLaw& law, std::string_view volume,
                                           std::string_view mass, unit::GramPerKg dissolved,
                                           unit::Celsius temperature);

/// A water to be mixed; of one that is in a file, what it holds.
struct WaterInHand {
    brine::MixedIn in;
    std::optional<service::WaterPart> file;
};
/// "600 L of 30 +- 0.2, at 25 degC", or "600 L of water.toml", whose own temperature and salt hold.
[[nodiscard]] Result<WaterInHand> parse_water(const brine::SaltLaw& law, std::string_view phrase,
                                              unit::Celsius usual,
                                              const std::vector<std::string>& materials);

}  // namespace bw::cli
