// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/grain_sizes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "stat/normal.hpp"
#include "stat/quantiles.hpp"

namespace bw::blend {
namespace {

constexpr double kLowest = 0.1, kMiddle = 0.5, kHighest = 0.9;
constexpr double kTopShare = 0.995;
constexpr double kThird = 3;  // the cube
constexpr double kInfinite = std::numeric_limits<double>::infinity();

double cdf(double z) { return z == kInfinite ? 1.0 : z == -kInfinite ? 0.0 : stat::normal_cdf(z); }

double cube(double log_m) { return std::exp(kThird * log_m); }

}  // namespace

Result<GrainSizes> GrainSizes::of(const matter::Grain& grain) {
    std::vector<matter::SievePoint> points = grain.sieve;
    if (points.empty()) {
        points = {{grain.d10_m, kLowest}, {grain.d50_m, kMiddle}, {grain.d90_m, kHighest}};
    }
    std::vector<Knot> knots;
    double top = kInfinite;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const auto& [size, finer] = points[i];
        const bool rises = i == 0 || (size >= points[i - 1].size_m && finer > points[i - 1].finer);
        if (!(size > 0) || !(finer >= 0) || !(finer <= 1) || !rises || !std::isfinite(size)) {
            return fail(ProblemCode::OutOfRange,
                        "grain sizes are above 0 and rise with the share that is finer");
        }
        if (finer >= 1) {
            top = std::log(size);
        } else if (finer > 0) {
            knots.push_back({stat::normal_quantile(finer), std::log(size)});
        }
    }
    if (knots.size() < 2) {
        return fail(ProblemCode::OutOfRange,
                    "grain sizes need two shares at least between 0 and 100 %");
    }
    return GrainSizes(std::move(knots), top);
}

double GrainSizes::slope(std::size_t segment) const {
    const Knot& a = knots_[segment];
    const Knot& b = knots_[segment + 1];
    return (b.log_m - a.log_m) / (b.z - a.z);
}

double GrainSizes::log_at(double z) const {
    std::size_t segment = 0;
    while (segment + 2 < knots_.size() && z > knots_[segment + 1].z) {
        ++segment;
    }
    return std::min(knots_[segment].log_m + slope(segment) * (z - knots_[segment].z), top_log_m_);
}

double GrainSizes::size_m(double finer) const {
    return std::exp(log_at(stat::normal_quantile(finer)));
}

double GrainSizes::coarser_than_last_point() const {
    return std::isfinite(top_log_m_) ? 0 : 1 - cdf(knots_.back().z);
}

double GrainSizes::beyond_last_point() const {
    if (std::isfinite(top_log_m_)) {
        return 0;
    }
    const double b = slope(knots_.size() - 2);
    const double a = knots_.back().log_m - b * knots_.back().z;
    return std::exp(kThird * a + kThird * kThird / 2 * b * b) *
           (1 - cdf(knots_.back().z - kThird * b)) / mean_cube_m3().expected;
}

Bounded GrainSizes::mean_cube_m3() const {
    Bounded out;
    const std::size_t last = knots_.size() - 1;
    // Between z1 and z2 the log of the size is a + b z: the mean of the cube there is
    // exp(3 a + 9 b^2 / 2) (Phi(z2 - 3 b) - Phi(z1 - 3 b)).
    for (std::size_t s = 0; s < last; ++s) {
        const double b = slope(s);
        const double a = knots_[s].log_m - b * knots_[s].z;
        double from = -kInfinite, to = kInfinite;
        if (s > 0) {
            from = knots_[s].z;
        }
        if (s + 1 < last) {
            to = knots_[s + 1].z;
        }
        if (to == kInfinite && b > 0 && std::isfinite(top_log_m_)) {
            to = std::max((top_log_m_ - a) / b, knots_[last].z);
            out.expected += cube(top_log_m_) * (1 - cdf(to));
        }
        out.expected += std::exp(kThird * a + kThird * kThird / 2 * b * b) *
                        (cdf(to - kThird * b) - cdf(from - kThird * b));
    }
    const double highest =
        std::min(top_log_m_, log_at(std::max(stat::normal_quantile(kTopShare), knots_[last].z)));
    out.high = cube(knots_.front().log_m) * cdf(knots_.front().z) +
               cube(highest) * (1 - cdf(knots_[last].z));
    out.low = cube(knots_[last].log_m) * (1 - cdf(knots_[last].z));
    for (std::size_t s = 0; s < last; ++s) {
        const double share = cdf(knots_[s + 1].z) - cdf(knots_[s].z);
        out.low += cube(knots_[s].log_m) * share;
        out.high += cube(knots_[s + 1].log_m) * share;
    }
    out.high = std::max(out.high, out.expected);
    return out;
}

}  // namespace bw::blend
