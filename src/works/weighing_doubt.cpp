// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/weighing_doubt.hpp"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "unit/factors.hpp"

namespace bw::works {
namespace {

/// Of a ratio: what decimal masses may be off in doubles.
constexpr double kRoundOff = 1e-9;
/// A ratio this near to 1000, either way, is that of two units.
constexpr double kNear = 1.25;

bool is_near(double ratio, double to) { return ratio * kNear >= to && ratio <= to * kNear; }

/// The unit that the scale may have shown in place of the typed one; empty: none that is used.
std::string_view meant_unit(std::string_view typed, bool larger) {
    const std::string_view unit = typed.substr(std::min(typed.size(), typed.rfind(' ') + 1));
    if (unit == "g") {
        return larger ? "kg" : "mg";
    }
    return unit == "kg" && !larger ? "g" : unit == "mg" && larger ? "g" : "";
}

}  // namespace

double wanted_now_kg(const Addition& addition, std::span<const Weighing> before,
                     const Scale& scale) {
    const double part =
        addition.target_kg / static_cast<double>(parts_of(addition.target_kg, scale));
    return std::min(part, -state_of(addition, before).off_kg);
}

std::string doubt_about(const Addition& addition, std::span<const Weighing> before,
                        const Weighing& next, const Scale& scale) {
    const double wanted_kg = wanted_now_kg(addition, before, scale);
    if (!(wanted_kg > 0)) {
        return "";  // nothing is wanted: that is refused in its own words
    }
    const double ratio = next.net_kg / wanted_kg;
    if (ratio * kFarFromWanted >= 1 - kRoundOff && ratio <= kFarFromWanted * (1 + kRoundOff)) {
        return "";
    }
    const bool little = ratio < 1;
    const bool by_unit = is_near(little ? 1 / ratio : ratio, unit::kGramPerKg);
    const std::string_view meant = by_unit ? meant_unit(next.net, little) : "";
    return fmt::format(
        "{} is {} {}{}", next.net,
        by_unit  ? (little ? "about a thousandth of the" : "about a thousand times the")
        : little ? "less than a tenth of the"
                 : "more than ten times the",
        in_words(wanted_kg, form_of(addition, scale)),
        meant.empty() ? " wanted now: are the figures and the unit as the scale shows them?"
                      : fmt::format(" wanted now: did the scale show {}?", meant));
}

}  // namespace bw::works
