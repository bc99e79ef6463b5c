// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/trend.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "stat/univariate.hpp"

namespace bw::service {
namespace {

constexpr double kAction = 3;
constexpr std::size_t kLeastForCapability = 20;

std::string label_of(const TrendRequest& r, std::size_t i) {
    return i < r.labels.size() ? r.labels[i] : fmt::format("{}", i + 1);
}

Result<void> check(const TrendRequest& r) {
    if (r.centre.has_value() != r.sigma.has_value() || (r.sigma && !(*r.sigma > 0))) {
        return fail(ProblemCode::BadInput,
                    "frozen limits are a centre and a sigma above 0, given together");
    }
    if (r.low && r.high && !(*r.low < *r.high)) {
        return fail(ProblemCode::BadInput, "the lower limit is not below the upper one");
    }
    if (r.centre && r.phase_one > 0) {
        return fail(ProblemCode::BadInput,
                    "limits are given, or made by the first values: one of the two");
    }
    const auto& w = r.watch;
    if ((w.ewma && (!(w.ewma->lambda > 0 && w.ewma->lambda <= 1) || !(w.ewma->width > 0))) ||
        (w.cusum && (!(w.cusum->k >= 0) || !(w.cusum->h > 0)))) {
        return fail(ProblemCode::BadInput,
                    "the weighted mean takes lambda above 0 up to 1 and a width above 0; cumulated "
                    "sums take k of 0 or more and h above 0");
    }
    return {};
}

/// Sets limits by sigma about a centre; of ranges of n values.
void set_limits(TrendReport& out, double centre, double sigma, std::size_t n) {
    const auto c = assay::chart_constants(static_cast<int>(n));
    out.sigma = sigma;
    out.point_sigma = sigma / std::sqrt(static_cast<double>(out.group_size));
    out.values_limits = {centre - kAction * out.point_sigma, centre,
                         centre + kAction * out.point_sigma};
    const double mean_range = c.d2 * sigma;
    out.ranges_limits = {c.d_low * mean_range, mean_range, c.d_high * mean_range};
}

std::vector<std::vector<double>> groups_of(const TrendRequest& r, TrendReport& out) {
    std::vector<std::vector<double>> groups;
    for (std::size_t i = 0; i < r.values.size(); ++i) {
        if (i == 0 || r.groups[i] != r.groups[i - 1]) {
            groups.emplace_back();
            out.labels.push_back(r.groups[i]);
        }
        groups.back().push_back(r.values[i]);
    }
    return groups;
}

Result<void> grouped(const TrendRequest& r, TrendReport& out) {
    const auto groups = groups_of(r, out);
    out.grouped = true;
    out.group_size = groups.front().size();
    out.phase_one = r.phase_one > 0 ? r.phase_one : groups.size();
    if (out.phase_one > groups.size()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} groups are to make the limits, {} are there", out.phase_one,
                                groups.size()));
    }
    for (const auto& g : groups) {
        const auto [low, high] = std::minmax_element(g.begin(), g.end());
        out.points.push_back(stat::summarize(g).mean);
        out.ranges.push_back(*high - *low);
    }
    const auto first = std::span(groups).first(out.phase_one);
    BW_TRY(chart, assay::groups_chart(first, assay::Scatter::Range));
    BW_CHECK(assay::groups_chart(groups, assay::Scatter::Range));  // sizes of the later ones
    if (!(chart.sigma > 0)) {
        return fail(ProblemCode::BadInput,
                    "values that are all alike within their groups make no limits: give more "
                    "digits");
    }
    set_limits(out, r.centre.value_or(chart.means.centre), r.sigma.value_or(chart.sigma),
               out.group_size);
    constexpr double kSure = 0.01;
    if (!r.centre && stat::one_way(first).p_value < kSure) {
        out.notices.push_back(
            {"between_groups",
             "The groups differ by more than their own scatter: what is in one group is not all "
             "that makes points differ (two results of one batch, for instance). Chart the groups' "
             "means as single values for that."});
    }
    return {};
}

Result<void> single(const TrendRequest& r, TrendReport& out) {
    out.points = r.values;
    out.phase_one = r.phase_one > 0 ? r.phase_one : r.values.size();
    if (out.phase_one > r.values.size()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} values are to make the limits, {} are there", out.phase_one,
                                r.values.size()));
    }
    for (std::size_t i = 0; i < r.values.size(); ++i) {
        out.labels.push_back(label_of(r, i));
        out.ranges.push_back(i == 0 ? 0 : std::abs(r.values[i] - r.values[i - 1]));
    }
    if (r.centre) {
        set_limits(out, *r.centre, *r.sigma, 2);
        return {};
    }
    BW_TRY(chart, assay::individuals_chart(std::span(r.values).first(out.phase_one)));
    set_limits(out, chart.values.centre, chart.sigma, 2);
    return {};
}

void mark(const TrendRequest& r, TrendReport& out) {
    const double centre = out.values_limits.centre;
    out.marked = assay::signals(out.points, centre, out.point_sigma, r.watch.rules);
    if (r.watch.ewma) {
        out.ewma = assay::ewma(out.points, centre, out.point_sigma, r.watch.ewma->lambda,
                               r.watch.ewma->width);
        for (std::size_t i = 0; i < out.ewma.size(); ++i) {
            if (out.ewma[i].beyond()) {
                out.marked.push_back({i, assay::Signal::Ewma});
            }
        }
    }
    if (r.watch.cusum) {
        out.cusum = assay::cusum(out.points, centre, out.point_sigma, r.watch.cusum->k);
        out.cusum_limit = r.watch.cusum->h * out.point_sigma;
        for (std::size_t i = 0; i < out.cusum.size(); ++i) {
            if (std::max(out.cusum[i].up, out.cusum[i].down) > out.cusum_limit) {
                out.marked.push_back({i, assay::Signal::Cusum});
            }
        }
    }
    std::stable_sort(out.marked.begin(), out.marked.end(),
                     [](const auto& a, const auto& b) { return a.point < b.point; });
    for (std::size_t i = 0; i < out.ranges.size(); ++i) {
        const bool real = out.grouped || i > 0;
        if (real &&
            (out.ranges[i] > out.ranges_limits.high || out.ranges[i] < out.ranges_limits.low)) {
            out.ranges_beyond.push_back(i);
        }
    }
    out.false_alarm_points = assay::simulated_run_length(r.watch, 0, 2000, r.seed);
    out.shift_seen_points = assay::simulated_run_length(r.watch, 1, 2000, r.seed);
}

void add_capability(const TrendRequest& r, TrendReport& out) {
    if (!r.low || !r.high) {
        out.no_capability = "it needs a lower and an upper limit of what is allowed";
    } else if (r.values.size() < kLeastForCapability) {
        out.no_capability = fmt::format(
            "{} values are too few: below {} its interval is too wide "
            "to mean anything",
            r.values.size(), kLeastForCapability);
    } else if (out.signalled()) {
        out.no_capability = "the chart signals: what is not steady has no capability";
    } else {
        const stat::Summary all = stat::summarize(r.values);
        const auto within = assay::capability(all.mean, out.sigma, all.count, *r.low, *r.high);
        const auto overall = assay::capability(all.mean, all.sd, all.count, *r.low, *r.high);
        if (within && overall) {
            out.within = *within;
            out.overall = *overall;
        } else {
            out.no_capability = (within ? overall : within).error().message;
        }
    }
}

void add_notices(const TrendRequest& r, TrendReport& out) {
    const auto head = std::span(out.points).first(out.phase_one);
    out.lag1 = stat::summarize(head).lag1;
    out.autocorrelated = out.lag1 > 2 / std::sqrt(static_cast<double>(head.size()));
    if (out.autocorrelated) {
        out.notices.push_back(
            {"autocorrelated",
             fmt::format("Neighbouring points are alike (correlation {}): limits by ranges are too "
                         "tight for them, and marks come too often.",
                         base::format_places(out.lag1, 2))});
    }
    constexpr std::size_t kUsual = 20;
    if (!r.centre && out.phase_one < kUsual) {
        out.notices.push_back(
            {"few_for_limits",
             fmt::format("The limits rest on {} points; {} to 25 are usual before they are frozen.",
                         out.phase_one, kUsual)});
    }
    out.limits_from = r.centre          ? "given, frozen"
                      : r.phase_one > 0 ? fmt::format("the first {} points, frozen", out.phase_one)
                                        : fmt::format("all {} points, not frozen", out.phase_one);
}

}  // namespace

Result<TrendReport> trend(const TrendRequest& request) {
    BW_CHECK(check(request));
    TrendReport out;
    if (request.values.empty()) {
        return fail(ProblemCode::BadInput, "a chart needs values");
    }
    if (!request.groups.empty()) {
        BW_CHECK(grouped(request, out));
    } else {
        BW_CHECK(single(request, out));
    }
    add_notices(request, out);
    mark(request, out);
    add_capability(request, out);
    return out;
}

}  // namespace bw::service
