// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "stat/normal.hpp"

#include <cmath>
#include <numbers>

namespace bw::stat {

double normal_cdf(double z) { return std::erfc(-z / std::numbers::sqrt2) / 2; }

double normal_inside(double mean, double u, double low, double high) {
    if (!(u > 0)) {
        return mean >= low && mean <= high ? 1 : 0;
    }
    return normal_cdf((high - mean) / u) - normal_cdf((low - mean) / u);
}

}  // namespace bw::stat
