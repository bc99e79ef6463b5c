// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/sample.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

constexpr int kDigits = 6;

}  // namespace

std::string_view name(SampleState state) {
    constexpr std::array<std::string_view, kWords<SampleState>> kNames = {"taken", "under test",
                                                                          "used up"};
    return kNames.at(static_cast<std::size_t>(state));
}

SamplingPlan plan_for(double blend_g_per_kg_purified_water) {
    constexpr double kLeast_g = 40;  // common practice: below, grains count
    constexpr double kRound_g = 5;   // to a mass that a scoop is marked with
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

Result<void> check_sample(Sample& sample, std::string_view why) {
    constexpr std::int64_t kMostIncrements = 10000;
    constexpr double kMost_g = 1e6;
    constexpr double kFarBelow =
        0.5;                         // ours, chosen: what is spilt or too small a scoop stays above
    constexpr double kFarAbove = 2;  // ours, chosen: a generous scoop stays below
    if (sample.increments < 1 || sample.increments > kMostIncrements) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a sample has 1 to {} increments", kMostIncrements),
                    {"", 0, "increments"});
    }
    if (!(sample.mass_g > 0) || sample.mass_g > kMost_g) {
        return fail(ProblemCode::OutOfRange, "a sample's mass is above 0 and at most 1000 kg",
                    {"", 0, "mass"});
    }
    if (sample.increments < sample.plan.increments) {
        sample.notices.push_back(fmt::format("{} increments, and the plan asks for {}.",
                                             sample.increments, sample.plan.increments));
    }
    const double planned = static_cast<double>(sample.plan.increments) * sample.plan.increment_g;
    const bool far_below = sample.mass_g < kFarBelow * planned;
    const bool far_above = sample.mass_g > kFarAbove * planned;
    if ((far_below || far_above) && base::trim(why).empty()) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("the sample is {:.4g} g, and the plan asks for {:.4g} g ({} "
                        "increments of {:.4g} g): check the mass and its unit; if it is "
                        "so, give the reason",
                        sample.mass_g, planned, sample.plan.increments, sample.plan.increment_g),
            {"", 0, "why"});
    }
    if (sample.mass_g < planned || far_above) {
        sample.notices.push_back(fmt::format(
            "{:.4g} g, and the plan asks for {:.4g} g{}", sample.mass_g, planned,
            far_below || far_above ? fmt::format(": {}", base::one_line(base::trim(why))) : "."));
    }
    if (base::lower_ascii(sample.split_by).find("scoop") != std::string::npos) {
        sample.notices.emplace_back(
            "Split by scoop: grains of one size run together, which can be 5 % off by itself; a "
            "riffle is better.");
    }
    return {};
}

Result<void> check_left(const Batch& batch, std::span<const Weighing> weighings,
                        std::span<const Sample> before, Sample& sample, std::string_view why) {
    double all_kg = sample.mass_g / unit::kGramPerKg;
    for (const Sample& s : before) {
        all_kg += s.mass_g / unit::kGramPerKg;
    }
    const std::string together =
        before.empty()
            ? fmt::format("the sample, {}, is", sample.mass)
            : fmt::format("the sample, {}, and the {} before it are {} kg together,", sample.mass,
                          before.size(), base::format_short(all_kg, kDigits));
    if (all_kg > batch.size_kg) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} more than the whole batch of {} kg: check the mass and its "
                                "unit",
                                together, base::format_short(batch.size_kg, kDigits)),
                    {"", 0, "mass"});
    }
    if (!batch.yield) {
        return {};
    }
    const double in_kg = weighed_in_kg(weighings);
    const double left_kg = in_kg - batch.yield->packed_kg - batch.yield->swept_kg;
    if (all_kg <= left_kg + (kMostYieldGain - 1) * in_kg) {
        return {};
    }
    const std::string more =
        fmt::format("{} more than the {} kg that packing and sweeping left over", together,
                    base::format_short(std::max(0.0, left_kg), kDigits));
    if (base::trim(why).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{}: check the mass and its unit; if a pack was opened for it, "
                                "give that as the reason",
                                more),
                    {"", 0, "why"});
    }
    sample.notices.push_back(
        fmt::format("Taken though {}: {}", more, base::one_line(base::trim(why))));
    return {};
}

}  // namespace bw::works
