// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "num/bracketed_root.hpp"

#include <cmath>
#include <limits>
#include <utility>

namespace bw::num {
namespace {

constexpr int kMostSteps = 200;  // bisection alone needs some 60 for any bracket of doubles
constexpr double kHalf = 0.5;

struct Point {
    double x, f;
};

/// Where to look next, as a part of the way from a to b; c is the point that b has replaced.
double next_part(const Point& a, const Point& b, const Point& c) {
    const double xi = (a.x - b.x) / (c.x - b.x);
    const double phi = (a.f - b.f) / (c.f - b.f);
    if (phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi) {
        return a.f / (b.f - a.f) * c.f / (b.f - c.f) +
               (c.x - a.x) / (b.x - a.x) * a.f / (c.f - a.f) * b.f / (c.f - b.f);
    }
    return kHalf;
}

}  // namespace

std::optional<double> bracketed_root(const std::function<double(double)>& f, double low,
                                     double high, double tolerance) {
    Point a{low, f(low)};
    Point b{high, f(high)};
    if (a.f == 0) {
        return a.x;
    }
    if (b.f == 0) {
        return b.x;
    }
    if (!((a.f < 0 && b.f > 0) || (a.f > 0 && b.f < 0))) {
        return std::nullopt;
    }
    double part = kHalf;
    for (int step = 0; step < kMostSteps; ++step) {
        const double x = a.x + part * (b.x - a.x);
        const Point seen{x, f(x)};
        if (!std::isfinite(seen.f)) {
            return std::nullopt;
        }
        Point left = a;
        if ((seen.f > 0) != (a.f > 0)) {
            left = std::exchange(b, a);
        }
        a = seen;
        const Point& best = std::fabs(a.f) < std::fabs(b.f) ? a : b;
        const double least =
            2 * std::numeric_limits<double>::epsilon() * std::fabs(best.x) + kHalf * tolerance;
        const double relative = least / std::fabs(b.x - a.x);
        if (relative > kHalf || best.f == 0) {
            return best.x;
        }
        part = std::fmin(1 - relative, std::fmax(relative, next_part(a, b, left)));
    }
    return std::nullopt;
}

}  // namespace bw::num
