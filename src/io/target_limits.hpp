// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "io/fields.hpp"
#include "recipe/target.hpp"

namespace bw::io {

inline constexpr int kLowestPriority = 9;
/// The longest safe time that a course of a year, less the factor of 5, can vouch for with room to
/// tell one water from another.
inline constexpr double kLongestSafeTime_h = 1680;

/// Reads one table of [[ratio]].
///
/// Errors   as read_target.
[[nodiscard]] Result<recipe::RatioGoal> read_ratio(const Fields& table);

/// Reads the tables [limits] and [batch] of a target.
///
/// Errors   as read_target.
[[nodiscard]] Result<void> read_limits(const Fields& root, recipe::Target& target);

}  // namespace bw::io
