// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "base/result.hpp"
#include "path/verdict.hpp"
#include "recipe/solve.hpp"

namespace bw::service {

/// How long a vat made by a recipe stays good.
///
/// Definition   path::safe_time of the course that `path run` follows with its own settings: all
///              of the salt at once into the whole of the water, vat and room at the limit's
///              temperature, air of its pCO2, gas exchange 1 per h. The lots' own make-ups count.
/// Inputs       doses [kg per kg of finished water], one per supply.
/// Accuracy     that of path::safe_time: within its factor.
/// Errors       OutOfRange, at limits.safe_time, where path::run_course cannot follow the vat. Of a
///              course that stops early the time is no more than it reached.
/// Complexity   one course, some 20 ms.
[[nodiscard]] Result<path::SafeTime> recipe_safe_time(const std::vector<recipe::Supply>& supplies,
                                                      const std::vector<double>& dose_kg_per_kg,
                                                      const recipe::SafeTimeLimit& limit);

}  // namespace bw::service
