// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "works/batch.hpp"

namespace bw::works {

enum class WeighingVerdict : std::uint8_t { Within, Short, Over };
template <>
inline constexpr std::size_t kWords<WeighingVerdict> = 3;
[[nodiscard]] std::string_view name(WeighingVerdict verdict);

/// One recorded net mass.
struct Weighing {
    std::string batch;
    std::int64_t step = 0;  ///< of the addition
    std::int64_t part = 1;  ///< of an addition weighed in several
    std::string material;
    std::string lot;
    std::string scale;
    std::string net;   ///< as typed or read, with its unit
    std::string tare;  ///< the same; empty: none stated
    double net_kg = 0;
    std::string by;
    std::string at;
    bool by_hand = true;     ///< typed, not read from a scale
    bool confirmed = false;  ///< asked about (doubt_about), and confirmed as it is

    [[nodiscard]] std::string id() const {
        return batch + "/" + std::to_string(step) + "." + std::to_string(part);
    }

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("batch", x.batch);
        v("step", x.step);
        v("part", x.part);
        v("material", x.material);
        v("lot", x.lot);
        v("scale", x.scale);
        v("net", x.net);
        v("tare", x.tare);
        v("net_kg", x.net_kg);
        v("by", x.by);
        v("at", x.at);
        v("by_hand", x.by_hand);
        v("confirmed", x.confirmed);
    }
};

/// Where an addition stands after its weighings.
struct AdditionState {
    double weighed_kg = 0;
    std::int64_t parts = 0;
    WeighingVerdict verdict = WeighingVerdict::Short;
    double off_kg = 0;  ///< above (+) or below (-) the target
};
[[nodiscard]] AdditionState state_of(const Addition& addition, std::span<const Weighing> weighings);

/// Whether the next weighing may be recorded: right batch, step, material and lot; above 0; within
/// the scale's capacity; the addition not complete yet.
///
/// Errors   Refused or OutOfRange, each naming what was wanted.
[[nodiscard]] Result<void> may_record(const Batch& batch, const Addition& addition,
                                      std::span<const Weighing> before, const Weighing& next,
                                      double capacity_kg);

/// So many times of what went in may have come out by the scales: they and moisture; common
/// practice.
inline constexpr double kMostYieldGain = 1.01;

/// Mass of all that went into a batch.
[[nodiscard]] double weighed_in_kg(std::span<const Weighing> weighings);
/// Mass that came out again: packed, as samples, swept up.
[[nodiscard]] double came_out_kg(const Yield& yield);

/// Whether what came out of a batch can be so.
///
/// Errors   Refused unless blended, or already taken down; OutOfRange for a mass below 0, or more
///          out than went in by over 1 %; BadInput, on field "why", for less out by over 3 %
///          without a reason.
[[nodiscard]] Result<void> check_yield(const Batch& batch, const Yield& yield,
                                       std::span<const Weighing> weighings, std::string_view why);

}  // namespace bw::works
