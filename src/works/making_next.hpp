// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "works/batch.hpp"
#include "works/departure.hpp"
#include "works/weighing.hpp"

namespace bw::works {

/// What comes next while a batch is made.
enum class MakingAct : std::uint8_t { Approve, Weigh, RaiseDeparture, Blend, Made };
template <>
inline constexpr std::size_t kWords<MakingAct> = 5;
[[nodiscard]] std::string_view name(MakingAct act);

struct MakingNext {
    MakingAct act = MakingAct::Made;
    std::vector<std::int64_t> short_steps;  ///< still to be weighed, and no departure about them
    std::vector<std::int64_t> over_steps;   ///< above tolerance, and no departure about them
};

/// The lot adjustment is approved first; then all is weighed; then a departure is raised about
/// every step with more in than its tolerance allows; then the batch is said to be blended.
///
/// Inputs   weighings and departures of the batch. A departure about a step, whatever its state,
///          tells of it; it is answered and closed before the release.
[[nodiscard]] MakingNext next_of(const Batch& batch, std::span<const Weighing> weighings,
                                 std::span<const Departure> departures);

}  // namespace bw::works
