// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cmath>

#include "base/result.hpp"

namespace bw::brine {

struct Point {
    double x = 0, y = 0;
};

/// Where a continuous function takes a value between two points that hold it between them.
///
/// Definition   false position with the stale end's weight halved, then bisection.
/// Inputs       f: Result<double>(double); low.y <= wanted <= high.y.
/// Accuracy     1e-10 in x.
/// Errors       those of f.
/// Source       [dowell-jarratt-1971].
/// Complexity   about ten evaluations of a smooth f, at most 100.
template <class F>
[[nodiscard]] Result<double> bracketed_root(const F& f, double wanted, Point low, Point high) {
    constexpr double kNear = 1e-10;
    constexpr int kMost = 100;
    constexpr int kHalvingFrom = 60;
    low.y -= wanted;
    high.y -= wanted;
    if (low.y == 0 || high.y == 0) {
        return low.y == 0 ? low.x : high.x;
    }
    int side = 0;
    for (int i = 0; i < kMost && std::abs(high.x - low.x) > kNear; ++i) {
        const double x = i < kHalvingFrom ? (low.x * high.y - high.x * low.y) / (high.y - low.y)
                                          : (low.x + high.x) / 2;
        BW_TRY(value, f(x));
        const double y = value - wanted;
        if (y == 0 || std::abs(x - (side > 0 ? high.x : low.x)) < kNear) {
            return x;
        }
        if ((y < 0) == (low.y < 0)) {
            low = {x, y};
            high.y = side < 0 ? high.y / 2 : high.y;
            side = -1;
        } else {
            high = {x, y};
            low.y = side > 0 ? low.y / 2 : low.y;
            side = 1;
        }
    }
    return (low.x + high.x) / 2;
}

}  // namespace bw::brine
