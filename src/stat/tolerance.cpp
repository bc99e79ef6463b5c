// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "stat/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/result.hpp"
#include "stat/normal.hpp"
#include "stat/quantiles.hpp"
#include "stat/univariate.hpp"

namespace bw::stat {
namespace {

constexpr int kHalvings = 60;

/// r at which a normal variable off by `off` lies within -+r with probability `content`.
double half_width(double off, double content) {
    double low = 0;
    double high = off + normal_quantile((1 + content) / 2) + 1;
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (low + high) / 2;
        (normal_cdf(off + middle) - normal_cdf(off - middle) < content ? low : high) = middle;
    }
    return (low + high) / 2;
}

}  // namespace

double tolerance_factor(int n, double content, double confidence) {
    constexpr int kMost = 10'000;
    base::expect(
        n >= 2 && n <= kMost && content > 0 && content < 1 && confidence > 0 && confidence < 1,
        "a tolerance factor of these arguments does not exist");
    // The integrand dies out as a normal density: eight of its standard deviations are all of it.
    constexpr double kFar = 8;
    constexpr int kSteps = 160;
    const double step = kFar / kSteps;
    const double freedom = n - 1;
    std::vector<double> width;
    std::vector<double> weight;
    for (int i = 0; i <= kSteps; ++i) {
        const double z = step * i;
        width.push_back(half_width(z / std::sqrt(static_cast<double>(n)), content));
        const double density =
            std::exp(-z * z / 2) * std::numbers::inv_sqrtpi * std::numbers::sqrt2;
        weight.push_back(density * step * (i == 0 ? 1.0 / 2 : 1.0));
    }
    const auto reached = [&](double k) {
        double sum = 0;
        for (std::size_t i = 0; i < width.size(); ++i) {
            const double x = freedom * width[i] * width[i] / (k * k);
            sum += weight[i] * (1 - chi_squared_cdf(x, freedom));
        }
        return sum;
    };
    double low = 0;
    double high = 1;
    while (reached(high) < confidence) {
        low = high;
        high *= 2;
    }
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (low + high) / 2;
        (reached(middle) < confidence ? low : high) = middle;
    }
    return (low + high) / 2;
}

NestedVariance nested_variance(std::span<const std::vector<std::vector<double>>> groups) {
    base::expect(groups.size() >= 2, "a nested plan has two groups or more");
    const std::size_t positions = groups.front().size();
    base::expect(positions >= 2 && groups.front().front().size() >= 2,
                 "a nested plan has two positions or more of two results or more");
    const std::size_t each = groups.front().front().size();
    NestedVariance out;
    std::vector<double> outer_means;
    double within = 0;
    double inner = 0;
    const auto n = static_cast<double>(each);
    const auto m = static_cast<double>(positions);
    for (const auto& group : groups) {
        base::expect(group.size() == positions, "a nested plan has as many positions everywhere");
        std::vector<double> means;
        for (const auto& results : group) {
            base::expect(results.size() == each, "a nested plan has as many results everywhere");
            const Summary s = summarize(results);
            means.push_back(s.mean);
            within += s.sd * s.sd * (n - 1);
        }
        const Summary s = summarize(means);
        outer_means.push_back(s.mean);
        inner += s.sd * s.sd * (m - 1) * n;
    }
    const Summary whole = summarize(outer_means);
    const auto bags = static_cast<double>(groups.size());
    out.grand_mean = whole.mean;
    out.freedom_outer = bags - 1;
    out.freedom_inner = bags * (m - 1);
    out.freedom_within = bags * m * (n - 1);
    out.mean_outer = whole.sd * whole.sd * n * m;
    out.mean_inner = inner / out.freedom_inner;
    out.mean_within = within / out.freedom_within;
    base::expect(out.mean_within > 0, "a nested plan has scatter within positions");
    out.within = out.mean_within;
    out.inner = std::max(0.0, (out.mean_inner - out.mean_within) / n);
    out.outer = std::max(0.0, (out.mean_outer - out.mean_inner) / (n * m));
    out.p_inner =
        1 - f_cdf(out.mean_inner / out.mean_within, out.freedom_inner, out.freedom_within);
    out.p_outer = out.mean_inner > 0 ? 1 - f_cdf(out.mean_outer / out.mean_inner, out.freedom_outer,
                                                 out.freedom_inner)
                                     : 0;
    return out;
}

}  // namespace bw::stat
