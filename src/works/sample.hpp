// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/weighing.hpp"
#include "works/word.hpp"

namespace bw::works {

enum class SampleState : std::uint8_t { Taken, UnderTest, UsedUp };
template <>
inline constexpr std::size_t kWords<SampleState> = 3;
[[nodiscard]] std::string_view name(SampleState state);

/// Where, when and how much is taken of a batch.
struct SamplingPlan {
    std::int64_t increments = 10;
    double increment_g = 0;
    std::string where;  ///< "the stream at discharge, full width, at equal intervals"
    std::string basis;  ///< why so many and so much

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("increments", x.increments);
        v("increment_g", x.increment_g);
        v("where", x.where);
        v("basis", x.basis);
    }
};

/// The plan for a batch: ten increments over the whole of the batch, each at least what a user
/// doses for a kilogram of water and not below 40 g.
///
/// Inputs   g of blend per kg of purified water. Source: ten locations; 40 g, below
///          which grains count. Both common practice.
[[nodiscard]] SamplingPlan plan_for(double blend_g_per_kg_purified_water);

/// Material taken under a plan.
struct Sample {
    std::string number;
    std::string batch;
    SamplingPlan plan;
    std::int64_t increments = 0;  ///< taken
    std::string mass;             ///< as typed
    double mass_g = 0;
    std::string where;
    std::string split_by;  ///< how the laboratory sample was made of the increments
    std::string taken_by;
    std::string taken_at;
    SampleState state = SampleState::Taken;
    std::vector<std::string> notices;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("number", x.number);
        v("batch", x.batch);
        v("plan", x.plan);
        v("increments", x.increments);
        v("mass", x.mass);
        v("mass_g", x.mass_g);
        v("where", x.where);
        v("split_by", x.split_by);
        v("taken_by", x.taken_by);
        v("taken_at", x.taken_at);
        v("state", x.state);
        v("notices", x.notices);
    }
};

/// Inputs   `why`: the reason that was given with it, or nothing.
/// Errors   OutOfRange: no increment or mass, over 10 000 increments or 1000 kg. BadInput naming
///          "why" for less than half of the mass that the plan asks for, without a reason: more
///          often a slip of the pen, or a wrong unit, than a sample; and for more than twice of it,
///          likewise. Fewer or less than the plan asks for, and what needed the reason, with it,
///          and a scoop that split it, are notices of the sample.
[[nodiscard]] Result<void> check_sample(Sample& sample, std::string_view why);

/// Whether a batch has so much to be taken, beside the samples that were taken of it before.
///
/// Errors   OutOfRange where all samples together are more than the batch. BadInput naming "why",
///          once its yield is taken down, where they are more than the packing left over (by the
///          gain that a yield may show, kMostYieldGain), without a reason, for a pack that was
///          opened; with it a notice of the sample.
[[nodiscard]] Result<void> check_left(const Batch& batch, std::span<const Weighing> weighings,
                                      std::span<const Sample> before, Sample& sample,
                                      std::string_view why);

}  // namespace bw::works
