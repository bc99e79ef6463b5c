// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/sample.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace bw::works {

std::string_view name(SampleState state) {
    constexpr std::array<std::string_view, kWords<SampleState>> kNames = {"taken", "under test",
                                                                          "used up"};
    return kNames.at(static_cast<std::size_t>(state));
}

SamplingPlan plan_for(double blend_g_per_kg_purified_water) {
    constexpr double kLeast_g = 40;   // common practice: below, grains count
    constexpr double kRound_g = 5;    // to a mass that a scoop is marked with
    constexpr std::int64_t kIncrements = 10;
    SamplingPlan plan;
    plan.increments = kIncrements;
    plan.increment_g =
        std::ceil(std::max(kLeast_g, blend_g_per_kg_purified_water) / kRound_g) * kRound_g;
    plan.where =
        "the stream at discharge, full width, at equal intervals from a random start; top, middle "
        "and bottom of the batch are in it";
    plan.basis = "10 places and a user's dose for 1 kg of water, at least 40 g; common practice";
    return plan;
}

}  // namespace bw::works
