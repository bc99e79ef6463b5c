// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/outliers.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "stat/draw.hpp"
#include "stat/quantiles.hpp"
#include "stat/univariate.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

Result<void> check_values(std::span<const double> values, std::size_t least, double alpha) {
    if (values.size() < least) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a test for outliers needs {} values, but {} are there", least,
                                values.size()));
    }
    if (!(alpha > 0 && alpha < 0.5)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the level of an outlier test is {:g}, but above 0 and below 0.5 "
                                "is allowed",
                                alpha));
    }
    if (!(stat::summarize(values).sd > 0)) {
        return fail(ProblemCode::BadInput, "values that are all alike have no outlier");
    }
    return {};
}

double grubbs_critical(double n, double alpha_each) {
    const double t = stat::student_t_quantile(1 - alpha_each, n - 2);
    return (n - 1) / std::sqrt(n) * std::sqrt(t * t / (n - 2 + t * t));
}

/// Gap over range of sorted values, of the lowest and of the highest.
struct Ratios {
    double lowest, highest;
};
Ratios dixon_ratios(std::span<const double> x) {
    const std::size_t n = x.size();
    constexpr std::size_t kOneLeftOut = 8;  // r11 from here, r21, r22
    constexpr std::size_t kGapOfTwo = 11;
    constexpr std::size_t kTwoLeftOut = 14;
    const std::size_t gap = n >= kGapOfTwo ? 2 : 1;
    const std::size_t out = n >= kTwoLeftOut ? 2 : n >= kOneLeftOut ? 1 : 0;
    const double low_range = x[n - 1 - out] - x[0];
    const double high_range = x[n - 1] - x[out];
    return {low_range > 0 ? (x[gap] - x[0]) / low_range : 0,
            high_range > 0 ? (x[n - 1] - x[n - 1 - gap]) / high_range : 0};
}

double ratio_of(const Ratios& r, Sides sides) {
    return sides == Sides::Lowest    ? r.lowest
           : sides == Sides::Highest ? r.highest
                                     : std::max(r.lowest, r.highest);
}

}  // namespace

Result<OutlierTest> grubbs(std::span<const double> values, double alpha, Sides sides) {
    BW_CHECK(check_values(values, 3, alpha));
    const stat::Summary all = stat::summarize(values);
    const auto off = [&](double x) {
        return sides == Sides::Lowest    ? all.mean - x
               : sides == Sides::Highest ? x - all.mean
                                         : std::abs(x - all.mean);
    };
    OutlierTest out;
    for (std::size_t i = 1; i < values.size(); ++i) {
        out.suspect = off(values[i]) > off(values[out.suspect]) ? i : out.suspect;
    }
    const auto n = static_cast<double>(values.size());
    out.statistic = off(values[out.suspect]) / all.sd;
    out.critical = grubbs_critical(n, alpha / (sides == Sides::Both ? 2 * n : n));
    return out;
}

double cochran_critical(std::size_t variances, std::size_t values_each, double alpha) {
    const auto p = static_cast<double>(variances);
    const auto n = static_cast<double>(values_each);
    const double f = stat::f_quantile(1 - alpha / p, n - 1, (p - 1) * (n - 1));
    return 1 / (1 + (p - 1) / f);
}

Result<OutlierTest> cochran(std::span<const double> variances, std::size_t values_each,
                            double alpha) {
    const double sum = std::accumulate(variances.begin(), variances.end(), 0.0);
    const bool negative =
        std::any_of(variances.begin(), variances.end(), [](double v) { return !(v >= 0); });
    if (variances.size() < 2 || values_each < 2 || negative || !(sum > 0)) {
        return fail(ProblemCode::BadInput,
                    "Cochran's test needs two variances or more, none negative and not all 0, each "
                    "of two values or more");
    }
    OutlierTest out;
    const auto largest = std::max_element(variances.begin(), variances.end());
    out.suspect = static_cast<std::size_t>(largest - variances.begin());
    out.statistic = *largest / sum;
    out.critical = cochran_critical(variances.size(), values_each, alpha);
    return out;
}

Result<double> dixon_critical(std::size_t values, double alpha, Sides sides) {
    constexpr std::size_t kMost = 30;
    if (values < 3 || values > kMost || !(alpha >= 0.01 && alpha <= 0.2)) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("Dixon's test is for 3 to {} values at a level of 0.01 to 0.2", kMost));
    }
    constexpr std::size_t kDraws = 200'000;
    constexpr std::uint64_t kSeed = 20'250'309;
    stat::DrawStream stream(kSeed, values);
    std::vector<double> sample(values);
    std::vector<double> ratios(kDraws);
    for (double& ratio : ratios) {
        stream.normal(sample);
        std::sort(sample.begin(), sample.end());
        ratio = ratio_of(dixon_ratios(sample), sides);
    }
    const auto place = static_cast<std::ptrdiff_t>((1 - alpha) * static_cast<double>(kDraws));
    std::nth_element(ratios.begin(), ratios.begin() + place, ratios.end());
    return ratios[static_cast<std::size_t>(place)];
}

Result<OutlierTest> dixon(std::span<const double> values, double alpha, Sides sides) {
    BW_CHECK(check_values(values, 3, alpha));
    OutlierTest out;
    BW_TRY(critical, dixon_critical(values.size(), alpha, sides));
    out.critical = critical;
    std::vector<double> sorted(values.begin(), values.end());
    std::sort(sorted.begin(), sorted.end());
    const Ratios ratios = dixon_ratios(sorted);
    out.statistic = ratio_of(ratios, sides);
    const bool low =
        sides == Sides::Lowest || (sides == Sides::Both && ratios.lowest > ratios.highest);
    const double suspect = low ? sorted.front() : sorted.back();
    out.suspect =
        static_cast<std::size_t>(std::find(values.begin(), values.end(), suspect) - values.begin());
    return out;
}

Result<ExtremeDeviates> extreme_deviates(std::span<const double> values, std::size_t most,
                                         double alpha) {
    BW_CHECK(check_values(values, 2 * most + 3, alpha));
    std::vector<double> left(values.begin(), values.end());
    std::vector<std::size_t> places(values.size());
    std::iota(places.begin(), places.end(), std::size_t{0});
    ExtremeDeviates out;
    for (std::size_t step = 0; step < most; ++step) {
        const stat::Summary now = stat::summarize(left);
        if (!(now.sd > 0)) {
            break;
        }
        std::size_t far = 0;
        for (std::size_t i = 1; i < left.size(); ++i) {
            far = std::abs(left[i] - now.mean) > std::abs(left[far] - now.mean) ? i : far;
        }
        const auto n = static_cast<double>(left.size());
        OutlierTest test;
        test.suspect = places[far];
        test.statistic = std::abs(left[far] - now.mean) / now.sd;
        test.critical = grubbs_critical(n, alpha / (2 * n));
        out.steps.push_back(test);
        out.beyond = test.beyond() ? step + 1 : out.beyond;
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(far));
        places.erase(places.begin() + static_cast<std::ptrdiff_t>(far));
    }
    return out;
}

}  // namespace bw::assay
