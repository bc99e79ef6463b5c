// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/weighing_doubt.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

namespace bw::works {
namespace {

/// Of a ratio: what decimal masses may be off in doubles.
constexpr double kRoundOff = 1e-9;

/// The unit that the scale may have shown in place of the typed one; empty: none that is used.
std::string_view meant_unit(std::string_view typed, bool larger) {
    const std::string_view unit = typed.substr(std::min(typed.size(), typed.rfind(' ') + 1));
    if (unit == "g") {
        return larger ? "kg" : "mg";
    }
    return unit == "kg" && !larger ? "g" : unit == "mg" && larger ? "g" : "";
}

/// Whether the mass leaves the addition short, so that it is recorded as a part of it.
bool stays_a_part(const Addition& addition, std::span<const Weighing> before,
                  const Weighing& next) {
    return state_of(addition, before).weighed_kg + next.net_kg <
           addition.target_kg - addition.tolerance_kg;
}

/// The question about a mass between two steps of its scale; empty: the scale can show it.
std::string doubt_about_step(const Addition& addition, const Weighing& next, const Scale& scale) {
    if (can_show(scale, next.net_kg)) {
        return "";
    }
    const MassForm form = form_of(addition, scale);
    const double below_kg = std::floor(next.net_kg / scale.step_kg) * scale.step_kg;
    return fmt::format(
        "{} lies between two steps of scale {}, which shows {} or {}: are the figures as the scale "
        "shows them?",
        next.net, scale.id, digits(below_kg, form), in_words(below_kg + scale.step_kg, form));
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
    const bool little = ratio < 1;
    const bool far =
        little ? ratio * kFarFromWanted < 1 - kRoundOff : ratio >= kFarFromWanted * (1 - kRoundOff);
    if (!far || (little && !stays_a_part(addition, before, next))) {
        return doubt_about_step(addition, next, scale);
    }
    const FarOff off = far_off(ratio);
    const std::string_view meant = off.by_unit ? meant_unit(next.net, little) : "";
    const std::string asks = !meant.empty() ? fmt::format("did the scale show {}?", meant)
                             : off.by_place
                                 ? "is the decimal point where the scale shows it?"
                                 : "are the figures and the unit as the scale shows them?";
    return fmt::format("{} is {} {} wanted now: {}", next.net, times_words(off),
                       in_words(wanted_kg, form_of(addition, scale)), asks);
}

}  // namespace bw::works
