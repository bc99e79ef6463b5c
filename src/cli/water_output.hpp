// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "io/sheet.hpp"
#include "service/show_water.hpp"

namespace bw::cli {

/// The water for the wall.
[[nodiscard]] std::string water_text(const service::WaterReport& report);
/// The water for other programs, as docs/reference/commands.md describes it.
[[nodiscard]] std::string water_json(const service::WaterReport& report);
/// All numbers of a water in one table: what, unit, value.
[[nodiscard]] io::Sheet water_sheet_rows(const service::WaterReport& report);

[[nodiscard]] std::string compare_text(const service::WaterReport& first,
                                       const service::WaterReport& second);
[[nodiscard]] std::string compare_json(const service::WaterReport& first,
                                       const service::WaterReport& second);

/// One number of a water.
struct WaterQuantity {
    std::string name, unit;
    std::optional<double> value;
    bool logarithmic = false;                ///< no relative difference: pH, temperature
    std::optional<double> u = std::nullopt;  ///< standard uncertainty, where a model gives one
};
/// All of them, in the order of the sheet.
[[nodiscard]] std::vector<WaterQuantity> water_quantities(const service::WaterReport& report);

[[nodiscard]] std::optional<double> value_of(const std::optional<service::Property>& property);

/// One number of two waters; nothing where a water lacks it.
struct QuantityPair {
    std::string name, unit;
    std::optional<double> first, second;
    bool logarithmic = false;
    std::optional<double> u_first = std::nullopt, u_second = std::nullopt;
    /// The difference is below twice the uncertainty of a difference; nothing where none is known.
    [[nodiscard]] std::optional<bool> within_uncertainty() const;
    /// The first is so small beside the second that a change in per cent says nothing.
    [[nodiscard]] bool next_to_nothing() const;
    /// Second less first.
    [[nodiscard]] std::optional<double> difference() const;
    /// Nothing where it would say nothing.
    [[nodiscard]] std::optional<double> relative_percent() const;
};
[[nodiscard]] std::vector<QuantityPair> paired(const service::WaterReport& first,
                                               const service::WaterReport& second);

/// An ion as it is dissolved, with its pairs.
struct DissolvedForm {
    std::string symbol;
    double free_fraction = 1;
    double free_activity_coefficient = 1;
};
/// The forms that acids and bases of the water take: H, OH, HCO3, CO3, BOH4.
[[nodiscard]] std::vector<DissolvedForm> dissolved_forms(const brine::WaterState& state);

/// A constituent's coefficients, where the model has them.
[[nodiscard]] const brine::ConstituentState* state_of(const service::WaterReport& report,
                                                      matter::Constituent c);

/// What its free share counts: "Ca" of Ca, "BOH3", "H4SiO4" and "H3PO4" of B, Si and PO4; empty
/// where the model does not know it.
[[nodiscard]] std::string free_form(matter::Constituent c);

/// What a solid will do in a water, and within what time or why not.
enum class SolidFate : std::uint8_t { MayFall, Close, Held, Dissolved };
struct SolidVerdict {
    SolidFate fate;
    std::string why;
};
[[nodiscard]] SolidVerdict solid_verdict(const brine::SaturationState& state,
                                         const brine::WaterState& water);
/// Said behind a verdict whose constant is used outside its range; else empty.
[[nodiscard]] std::string_view out_of_range_words(const brine::SaturationState& state);

/// "supersaturated, can form within hours", "too close to call", "undersaturated"; of the calcium
/// carbonates with what a sea's magnesium does to them.
[[nodiscard]] std::string saturation_words(const brine::SaturationState& state,
                                           const brine::WaterState& water);

/// Solids below this saturation in a water are far from forming; texts leave them out.
inline constexpr double kSmallestOmega = 0.01;

/// The model's own doubt, in sentences.
[[nodiscard]] std::vector<std::string> doubt_sentences(const service::WaterReport& report);

/// Where the water came from: its name, or the file's.
[[nodiscard]] std::string water_name(const service::WaterReport& report);

}  // namespace bw::cli
