// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace bw::stat {

/// Probability that a standard normal variable is at most z.
///
/// Valid    any finite z.  Accuracy  of the library's erfc, better than 1e-15 absolute.
/// Source   definition: erfc(-z / sqrt 2) / 2.
[[nodiscard]] double normal_cdf(double z);

/// Probability that a normal variable lies between two limits; u = 0 gives 0 or 1.
[[nodiscard]] double normal_inside(double mean, double u, double low, double high);

}  // namespace bw::stat
