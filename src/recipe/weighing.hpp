// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <vector>

#include "recipe/solve.hpp"

namespace bw::recipe {

/// Step of the scale on which a material of the batch is weighed [kg], if one is stated.
[[nodiscard]] std::optional<double> step_of(const Target& target, const Supply& supply);

[[nodiscard]] bool in_whole_packages(const Target& target, const Supply& supply);

/// Rounds each weighing to its step: to the nearest that stays within what the file allows of the
/// material. `water_kg` is the finished water of the batch.
[[nodiscard]] std::vector<double> rounded(const Target& target, const std::vector<Supply>& supplies,
                                          std::vector<double> dose, double water_kg);

/// Whether every dose lies within what the files allow of its material.
[[nodiscard]] bool keeps_doses(const Target& target, const std::vector<Supply>& supplies,
                               const std::vector<double>& dose, double water_kg);

/// Narrows every limit by the most that rounding the weighings to their steps can move it.
[[nodiscard]] Target narrowed(const Target& target, const std::vector<Supply>& supplies,
                              const Solution& solution);

}  // namespace bw::recipe
