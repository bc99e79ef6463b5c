// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "works/word.hpp"

namespace bw::works {

enum class ServiceState : std::uint8_t { InService, Due, OutOfService };
template <>
inline constexpr std::size_t kWords<ServiceState> = 3;
[[nodiscard]] std::string_view name(ServiceState state);

/// A scale of the works.
struct Scale {
    std::string id;
    double step_kg = 0;  ///< of its display
    double capacity_kg = 0;
    double repeatability_kg = 0;  ///< standard deviation; 0: not stated, the step counts
    std::string checked_until;    ///< last day of its check; empty: not stated
    ServiceState state = ServiceState::InService;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("id", x.id);
        v("step_kg", x.step_kg);
        v("capacity_kg", x.capacity_kg);
        v("repeatability_kg", x.repeatability_kg);
        v("checked_until", x.checked_until);
        v("state", x.state);
    }
};

/// Least mass that a scale weighs well: 2000 times the larger of its repeatability and 0.41 of its
/// step.
///
/// Source   United States Pharmacopeia, chapter <41> (minimum weight), second-hand: 0.10 % at 2 sd.
[[nodiscard]] double least_well_weighed_kg(const Scale& scale);

/// The scale for a mass: of those in service, the coarsest that still weighs it well; when none
/// does, the finest. A mass above every capacity is weighed in parts on the largest.
///
/// Inputs   day, an ISO 8601 date: a scale past its check is passed over.
/// Errors   Refused when no scale is in service.
[[nodiscard]] Result<Scale> scale_for(double mass_kg, std::span<const Scale> scales,
                                      std::string_view day);

/// How far a weighing may lie from its target: a part in a thousand of it, but never less than one
/// step of the scale nor, for a mass that takes several weighings, less than one step for each.
///
/// Source   common practice; 2 % for an element leaves room for 20 such errors.
[[nodiscard]] double weighing_tolerance_kg(double target_kg, const Scale& scale);

/// In how many weighings a mass is weighed on a scale that carries less.
[[nodiscard]] std::int64_t parts_of(double mass_kg, const Scale& scale);

/// A mass on the steps of a scale, to the nearest.
[[nodiscard]] double on_steps(double mass_kg, const Scale& scale);

/// Whether the scale can show a mass: a whole number of its steps.
[[nodiscard]] bool can_show(const Scale& scale, double mass_kg);

/// Errors   BadInput: step or capacity not above 0, step above capacity.
[[nodiscard]] Result<void> check(const Scale& scale);

}  // namespace bw::works
