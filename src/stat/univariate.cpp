// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "stat/univariate.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/result.hpp"
#include "stat/quantiles.hpp"

namespace bw::stat {
namespace {

/// A sum that keeps what rounding drops.
class Sum {
public:
    void add(double x) {
        const double next = sum_ + x;
        dropped_ += std::abs(sum_) >= std::abs(x) ? (sum_ - next) + x : (x - next) + sum_;
        sum_ = next;
    }
    [[nodiscard]] double value() const { return sum_ + dropped_; }

private:
    double sum_ = 0, dropped_ = 0;
};

double mean_of(std::span<const double> values) {
    const auto n = static_cast<double>(values.size());
    Sum sum;
    for (const double x : values) {
        sum.add(x);
    }
    const double first = sum.value() / n;
    Sum rest;
    for (const double x : values) {
        rest.add(x - first);
    }
    return first + rest.value() / n;
}

double squares_about(std::span<const double> values, double centre) {
    Sum sum;
    for (const double x : values) {
        sum.add((x - centre) * (x - centre));
    }
    return sum.value();
}

}  // namespace

Summary summarize(std::span<const double> values) {
    base::expect(!values.empty(), "a summary of at least one value");
    Summary out;
    out.count = values.size();
    out.mean = mean_of(values);
    const double squares = squares_about(values, out.mean);
    if (values.size() > 1) {
        out.sd = std::sqrt(squares / static_cast<double>(values.size() - 1));
    }
    Sum neighbours;
    for (std::size_t i = 1; i < values.size(); ++i) {
        neighbours.add((values[i - 1] - out.mean) * (values[i] - out.mean));
    }
    out.lag1 = squares > 0 ? neighbours.value() / squares : 0;
    return out;
}

double median(std::span<const double> values) {
    base::expect(!values.empty(), "a median of at least one value");
    std::vector<double> sorted(values.begin(), values.end());
    std::sort(sorted.begin(), sorted.end());
    const std::size_t half = sorted.size() / 2;
    return sorted.size() % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}

Anova one_way(std::span<const std::vector<double>> groups) {
    base::expect(groups.size() >= 2, "an analysis of variance of two groups or more");
    Anova out;
    double count = 0;
    double squared_counts = 0;
    std::vector<double> all;
    std::vector<double> means;
    Sum within;
    for (const std::vector<double>& g : groups) {
        base::expect(!g.empty(), "no group is empty");
        const auto n = static_cast<double>(g.size());
        count += n;
        squared_counts += n * n;
        means.push_back(mean_of(g));
        within.add(squares_about(g, means.back()));
        all.insert(all.end(), g.begin(), g.end());
    }
    const auto p = static_cast<double>(groups.size());
    base::expect(count > p, "some group has two values or more");
    out.grand_mean = mean_of(all);
    Sum between;
    for (std::size_t i = 0; i < groups.size(); ++i) {
        const double off = means[i] - out.grand_mean;
        between.add(static_cast<double>(groups[i].size()) * off * off);
    }
    out.between = between.value();
    out.within = within.value();
    out.freedom_between = p - 1;
    out.freedom_within = count - p;
    out.mean_between = out.between / out.freedom_between;
    out.mean_within = out.within / out.freedom_within;
    out.f = out.mean_within > 0    ? out.mean_between / out.mean_within
            : out.mean_between > 0 ? std::numeric_limits<double>::infinity()
                                   : 0;
    out.p_value =
        std::isfinite(out.f) ? 1 - f_cdf(out.f, out.freedom_between, out.freedom_within) : 0;
    out.effective_replicates = (count - squared_counts / count) / (p - 1);
    return out;
}

}  // namespace bw::stat
