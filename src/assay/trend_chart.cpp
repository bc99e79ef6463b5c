// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/trend_chart.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/text.hpp"
#include "stat/normal.hpp"
#include "stat/quantiles.hpp"
#include "stat/univariate.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr double kAction = 3;  // sigma

/// Mean and mean square of the range of n normal values: integrals of 1 - P(R <= w) and of
/// 2 w (1 - P(R <= w)).
struct RangeMoments {
    double mean, sd;
};
RangeMoments range_moments(int n) {
    constexpr double kWidest = 16;
    constexpr int kIntervals = 800;
    constexpr double kThree = 3;
    const double step = kWidest / kIntervals;
    double first = 0;
    double second = 0;
    for (int i = 0; i <= kIntervals; ++i) {
        const double w = step * i;
        const double simpson = i == 0 || i == kIntervals ? 1 : i % 2 == 1 ? 4 : 2;
        const double above = 1 - stat::normal_range_cdf(w, n);
        first += simpson * above;
        second += simpson * 2 * w * above;
    }
    const double mean = first * step / kThree;
    return {mean, std::sqrt(second * step / kThree - mean * mean)};
}

double mean_of(std::span<const double> values) { return stat::summarize(values).mean; }

}  // namespace

ChartConstants chart_constants(int n) {
    constexpr int kMost = 100;
    base::expect(n >= 2 && n <= kMost, "constants of 2 to 100 values");
    const RangeMoments range = range_moments(n);
    const double root = std::sqrt(n);
    ChartConstants out{};
    out.d2 = range.mean;
    out.d3 = range.sd;
    out.c4 = std::sqrt(2 / (n - 1.0)) * std::exp(std::lgamma(n / 2.0) - std::lgamma((n - 1) / 2.0));
    out.a2 = kAction / (out.d2 * root);
    out.a3 = kAction / (out.c4 * root);
    out.d_low = std::max(0.0, 1 - kAction * out.d3 / out.d2);
    out.d_high = 1 + kAction * out.d3 / out.d2;
    const double of_sd = kAction * std::sqrt(1 - out.c4 * out.c4) / out.c4;
    out.b_low = std::max(0.0, 1 - of_sd);
    out.b_high = 1 + of_sd;
    return out;
}

Result<IndividualsChart> individuals_chart(std::span<const double> values) {
    constexpr std::size_t kLeast = 8;
    if (values.size() < kLeast) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a chart of single values needs {} points or more, {} are there",
                                kLeast, values.size()));
    }
    std::vector<double> ranges;
    ranges.reserve(values.size());
    for (std::size_t i = 1; i < values.size(); ++i) {
        ranges.push_back(std::abs(values[i] - values[i - 1]));
    }
    const double mean_range = mean_of(ranges);
    if (!(mean_range > 0)) {
        return fail(ProblemCode::BadInput,
                    "values that are all alike make no limits: give more digits");
    }
    const ChartConstants two = chart_constants(2);
    const stat::Summary all = stat::summarize(values);
    IndividualsChart out;
    out.sigma = mean_range / two.d2;
    out.values = {all.mean - kAction * out.sigma, all.mean, all.mean + kAction * out.sigma};
    out.ranges = {0, mean_range, two.d_high * mean_range};
    out.lag1 = all.lag1;
    out.autocorrelated = all.lag1 > 2 / std::sqrt(static_cast<double>(values.size()));
    return out;
}

Result<GroupsChart> groups_chart(std::span<const std::vector<double>> groups, Scatter scatter) {
    constexpr std::size_t kMost = 100;
    const std::size_t n = groups.empty() ? 0 : groups.front().size();
    const bool uneven =
        std::any_of(groups.begin(), groups.end(), [&](const auto& g) { return g.size() != n; });
    if (groups.size() < 2 || n < 2 || n > kMost || uneven) {
        return fail(ProblemCode::BadInput,
                    "a chart of groups needs two groups or more of as many values, 2 to 100 each");
    }
    std::vector<double> means;
    std::vector<double> scatters;
    for (const auto& g : groups) {
        const stat::Summary s = stat::summarize(g);
        const auto [low, high] = std::minmax_element(g.begin(), g.end());
        means.push_back(s.mean);
        scatters.push_back(scatter == Scatter::Range ? *high - *low : s.sd);
    }
    const ChartConstants c = chart_constants(static_cast<int>(n));
    const double centre = mean_of(means);
    const double mean_scatter = mean_of(scatters);
    const bool range = scatter == Scatter::Range;
    const double reach = (range ? c.a2 : c.a3) * mean_scatter;
    GroupsChart out;
    out.means = {centre - reach, centre, centre + reach};
    out.scatter = {(range ? c.d_low : c.b_low) * mean_scatter, mean_scatter,
                   (range ? c.d_high : c.b_high) * mean_scatter};
    out.sigma = mean_scatter / (range ? c.d2 : c.c4);
    return out;
}

std::string_view name(Signal signal) {
    switch (signal) {
        case Signal::BeyondAction:
            return "beyond an action limit";
        case Signal::TwoOfThree:
            return "two of three beyond two sigma";
        case Signal::FourOfFive:
            return "four of five beyond one sigma";
        case Signal::EightOneSide:
            return "eight in a row on one side";
        case Signal::Ewma:
            return "weighted mean beyond its limit";
        case Signal::Cusum:
            break;
    }
    return "cumulated sum beyond its limit";
}

std::vector<Marked> signals(std::span<const double> values, double centre, double sigma,
                            const ChartRules& rules) {
    base::expect(sigma > 0, "sigma is above 0");
    std::vector<Marked> out;
    // Whether `count` of the last `of` points lie beyond `width` sigma on the side of the last.
    const auto run = [&](std::size_t i, std::size_t of, std::size_t count, double width) {
        if (i + 1 < of) {
            return false;
        }
        const double side = values[i] >= centre ? 1 : -1;
        const auto beyond = [&](double x) { return side * (x - centre) > width * sigma; };
        const auto last = values.subspan(i + 1 - of, of);
        return beyond(values[i]) &&
               static_cast<std::size_t>(std::count_if(last.begin(), last.end(), beyond)) >= count;
    };
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (std::abs(values[i] - centre) > kAction * sigma) {
            out.push_back({i, Signal::BeyondAction});
        }
        if (rules.two_of_three && run(i, 3, 2, 2)) {
            out.push_back({i, Signal::TwoOfThree});
        }
        constexpr std::size_t kFive = 5;
        if (rules.four_of_five && run(i, kFive, 4, 1)) {
            out.push_back({i, Signal::FourOfFive});
        }
        constexpr std::size_t kEight = 8;
        if (rules.eight_one_side && run(i, kEight, kEight, 0)) {
            out.push_back({i, Signal::EightOneSide});
        }
    }
    return out;
}

std::vector<EwmaPoint> ewma(std::span<const double> values, double centre, double sigma,
                            double lambda, double width) {
    base::expect(sigma > 0 && lambda > 0 && lambda <= 1 && width > 0,
                 "sigma, lambda and width are above 0, lambda at most 1");
    std::vector<EwmaPoint> out;
    double z = centre;
    double forgotten = 1;  // (1 - lambda)^(2t)
    for (const double x : values) {
        z = lambda * x + (1 - lambda) * z;
        forgotten *= (1 - lambda) * (1 - lambda);
        const double reach = width * sigma * std::sqrt(lambda / (2 - lambda) * (1 - forgotten));
        out.push_back({z, centre - reach, centre + reach});
    }
    return out;
}

double ewma_run_length(double lambda, double width, double shift) {
    base::expect(lambda > 0 && lambda <= 1 && width > 0, "lambda and width are above 0");
    constexpr int kStates = 201;
    const double reach = width * std::sqrt(lambda / (2 - lambda));
    const double step = 2 * reach / kStates;
    const auto middle = [&](int i) { return -reach + step * (i + 0.5); };
    // The lengths from each state solve L = 1 + P L: by Gauss and Seidel, which takes as many
    // rounds as the runs are long.
    std::vector<std::vector<double>> p(kStates, std::vector<double>(kStates));
    for (int i = 0; i < kStates; ++i) {
        for (int j = 0; j < kStates; ++j) {
            const auto at = [&](double z) {
                return stat::normal_cdf((z - (1 - lambda) * middle(i)) / lambda - shift);
            };
            p[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)] =
                at(middle(j) + step / 2) - at(middle(j) - step / 2);
        }
    }
    std::vector<double> length(kStates, 1);
    constexpr int kRounds = 100'000;
    constexpr double kNear = 1e-8;
    for (int round = 0; round < kRounds; ++round) {
        double moved = 0;
        for (std::size_t i = 0; i < length.size(); ++i) {
            double sum = 1;
            for (std::size_t j = 0; j < length.size(); ++j) {
                sum += j == i ? 0 : p[i][j] * length[j];
            }
            const double next = sum / (1 - p[i][i]);
            moved = std::max(moved, std::abs(next - length[i]) / next);
            length[i] = next;
        }
        if (moved < kNear) {
            break;
        }
    }
    return length[kStates / 2];
}

std::vector<CusumPoint> cusum(std::span<const double> values, double centre, double sigma,
                              double k) {
    base::expect(sigma > 0 && k >= 0, "sigma is above 0 and k not negative");
    std::vector<CusumPoint> out;
    CusumPoint now{0, 0};
    for (const double x : values) {
        now.up = std::max(0.0, now.up + x - centre - k * sigma);
        now.down = std::max(0.0, now.down + centre - x - k * sigma);
        out.push_back(now);
    }
    return out;
}

Result<Capability> capability(double mean, double sd, std::size_t count, double low, double high) {
    constexpr std::size_t kLeast = 20;
    if (!(sd > 0) || !(low < high) || count < kLeast) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("capability needs {} values or more with scatter, and a lower limit "
                        "below the upper one",
                        kLeast));
    }
    constexpr double kSix = 6;
    constexpr double kThree = 3;
    constexpr double kTail = 0.025;
    const auto n = static_cast<double>(count);
    Capability out;
    out.count = count;
    out.cp = (high - low) / (kSix * sd);
    out.cpk = std::min(high - mean, mean - low) / (kThree * sd);
    out.cp_low = out.cp * std::sqrt(stat::chi_squared_quantile(kTail, n - 1) / (n - 1));
    out.cp_high = out.cp * std::sqrt(stat::chi_squared_quantile(1 - kTail, n - 1) / (n - 1));
    constexpr double kNine = 9;
    const double reach = stat::normal_quantile(1 - kTail) *
                         std::sqrt(1 / (kNine * n) + out.cpk * out.cpk / (2 * (n - 1)));
    out.cpk_low = out.cpk - reach;
    out.cpk_high = out.cpk + reach;
    out.outside = 1 - stat::normal_inside(mean, sd, low, high);
    return out;
}

}  // namespace bw::assay
