// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "stat/quantiles.hpp"

#include <cmath>
#include <numbers>

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include "base/result.hpp"
#include "stat/normal.hpp"

namespace bw::stat {
namespace {

void expect_probability(double p) {
    base::expect(p > 0 && p < 1, "a probability lies strictly between 0 and 1");
}

void expect_freedom(double freedom) { base::expect(freedom > 0, "degrees of freedom are above 0"); }

}  // namespace

double normal_quantile(double probability) {
    expect_probability(probability);
    return boost::math::quantile(boost::math::normal_distribution<double>(), probability);
}

double student_t_quantile(double probability, double freedom) {
    expect_probability(probability);
    expect_freedom(freedom);
    return boost::math::quantile(boost::math::students_t_distribution<double>(freedom),
                                 probability);
}

double chi_squared_quantile(double probability, double freedom) {
    expect_probability(probability);
    expect_freedom(freedom);
    return boost::math::quantile(boost::math::chi_squared_distribution<double>(freedom),
                                 probability);
}

double f_quantile(double probability, double freedom_above, double freedom_below) {
    expect_probability(probability);
    expect_freedom(freedom_above);
    expect_freedom(freedom_below);
    return boost::math::quantile(
        boost::math::fisher_f_distribution<double>(freedom_above, freedom_below), probability);
}

double student_t_cdf(double t, double freedom) {
    expect_freedom(freedom);
    return boost::math::cdf(boost::math::students_t_distribution<double>(freedom), t);
}

double chi_squared_cdf(double x, double freedom) {
    expect_freedom(freedom);
    return boost::math::cdf(boost::math::chi_squared_distribution<double>(freedom), x);
}

double f_cdf(double x, double freedom_above, double freedom_below) {
    expect_freedom(freedom_above);
    expect_freedom(freedom_below);
    return boost::math::cdf(
        boost::math::fisher_f_distribution<double>(freedom_above, freedom_below), x);
}

double normal_range_cdf(double w, int n) {
    constexpr int kMost = 1000;
    base::expect(w >= 0 && n >= 2 && n <= kMost, "a range of 2 to 1000 values, at least 0");
    // Outside +-9 standard deviations the integrand is below 1e-17.
    constexpr double kEnd = 9;
    constexpr int kSteps = 400;  // the rule's error falls as exp(-(2 pi / step)^2 / 2)
    const double step = (2 * kEnd + w) / kSteps;
    double sum = 0;
    for (int i = 0; i <= kSteps; ++i) {
        const double z = -kEnd + step * i;
        const double inside = normal_cdf(z) - normal_cdf(z - w);
        sum += std::exp(-z * z / 2) * std::pow(inside, n - 1);
    }
    return std::min(1.0, n * sum * step / std::sqrt(2 * std::numbers::pi));
}

double normal_range_quantile(double probability, int n) {
    expect_probability(probability);
    constexpr double kWidest = 20;
    constexpr double kNear = 1e-12;
    double low = 0;
    double high = kWidest;
    while (high - low > kNear) {
        const double middle = (low + high) / 2;
        (normal_range_cdf(middle, n) < probability ? low : high) = middle;
    }
    return (low + high) / 2;
}

}  // namespace bw::stat
