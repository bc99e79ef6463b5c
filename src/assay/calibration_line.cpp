// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/calibration_line.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr double kProbability = 0.95;

Result<void> check(std::span<const CalibrationPoint> points, Intercept intercept) {
    const std::size_t least = intercept == Intercept::Fitted ? 3 : 2;
    if (points.size() < least) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a calibration line needs {} points or more, {} are there", least,
                                points.size()));
    }
    bool two_contents = false;
    for (const CalibrationPoint& p : points) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y) || !(p.weight > 0) ||
            !std::isfinite(p.weight)) {
            return fail(ProblemCode::BadInput,
                        "a calibration point is two numbers and a weight above 0");
        }
        two_contents = two_contents || p.x != points.front().x;
    }
    if (!two_contents) {
        return fail(ProblemCode::BadInput,
                    "all calibration points have one content: a line needs two or more");
    }
    return {};
}

/// Mean of differences from the first, which keeps digits of large numbers.
template <class Of>
double weighted_mean(std::span<const CalibrationPoint> points, double weights, Of of) {
    const double start = of(points.front());
    double sum = 0;
    for (const CalibrationPoint& p : points) {
        sum += p.weight * (of(p) - start);
    }
    return start + sum / weights;
}

std::optional<LackOfFit> lack_of_fit(std::span<const CalibrationPoint> points,
                                     const CalibrationLine& line, double squares) {
    struct Group {
        double weights = 0, sum = 0;
        std::size_t count = 0;
    };
    std::map<double, Group> groups;
    for (const CalibrationPoint& p : points) {
        Group& g = groups[p.x];
        g.weights += p.weight;
        g.sum += p.weight * p.y;
        ++g.count;
    }
    const double parameters = line.kind == Intercept::Fitted ? 2 : 1;
    LackOfFit out;
    out.freedom_bend = static_cast<double>(groups.size()) - parameters;
    out.freedom_scatter = static_cast<double>(points.size() - groups.size());
    if (!(out.freedom_bend > 0) || !(out.freedom_scatter > 0)) {
        return std::nullopt;
    }
    double scatter = 0;
    for (const CalibrationPoint& p : points) {
        const Group& g = groups[p.x];
        const double off = p.y - g.sum / g.weights;
        scatter += p.weight * off * off;
    }
    if (!(scatter > 0)) {
        return std::nullopt;
    }
    out.f = std::max(0.0, squares - scatter) / out.freedom_bend / (scatter / out.freedom_scatter);
    out.critical = stat::f_quantile(kProbability, out.freedom_bend, out.freedom_scatter);
    out.p_value = 1 - stat::f_cdf(out.f, out.freedom_bend, out.freedom_scatter);
    return out;
}

Result<void> has_slope(const CalibrationLine& line) {
    if (!(std::abs(line.slope) > 2 * line.u_slope)) {
        return fail(ProblemCode::BadInput,
                    "the line's slope is not above twice its uncertainty: the signal does not tell "
                    "the content");
    }
    return {};
}

}  // namespace

Result<CalibrationLine> fit_line(std::span<const CalibrationPoint> points, Intercept intercept) {
    BW_CHECK(check(points, intercept));
    CalibrationLine out;
    out.kind = intercept;
    out.count = points.size();
    out.least_x = out.most_x = points.front().x;
    for (const CalibrationPoint& p : points) {
        out.weights += p.weight;
        out.least_x = std::min(out.least_x, p.x);
        out.most_x = std::max(out.most_x, p.x);
    }
    const bool fitted = intercept == Intercept::Fitted;
    out.mean_x = weighted_mean(points, out.weights, [](const auto& p) { return p.x; });
    out.mean_y = weighted_mean(points, out.weights, [](const auto& p) { return p.y; });
    const double from_x = fitted ? out.mean_x : 0;
    const double from_y = fitted ? out.mean_y : 0;
    double sxy = 0;
    double syy = 0;
    for (const CalibrationPoint& p : points) {
        out.sxx += p.weight * (p.x - from_x) * (p.x - from_x);
        sxy += p.weight * (p.x - from_x) * (p.y - from_y);
        syy += p.weight * (p.y - from_y) * (p.y - from_y);
    }
    out.slope = sxy / out.sxx;
    out.intercept = fitted ? out.mean_y - out.slope * out.mean_x : 0;
    double squares = 0;
    for (const CalibrationPoint& p : points) {
        const double r = (p.y - from_y) - out.slope * (p.x - from_x);
        out.residuals.push_back(r);
        squares += p.weight * r * r;
    }
    out.freedom = static_cast<double>(points.size()) - (fitted ? 2 : 1);
    const double variance = squares / out.freedom;
    out.residual_sd = std::sqrt(variance);
    out.u_slope = std::sqrt(variance / out.sxx);
    if (fitted) {
        out.u_intercept =
            std::sqrt(variance * (1 / out.weights + out.mean_x * out.mean_x / out.sxx));
        out.covariance = -variance * out.mean_x / out.sxx;
    }
    out.r_squared = syy > 0 ? 1 - squares / syy : 1;
    out.lack_of_fit = lack_of_fit(points, out, squares);
    return out;
}

LineReading value_at(const CalibrationLine& line, double x) {
    const double variance = line.u_intercept * line.u_intercept +
                            x * x * line.u_slope * line.u_slope + 2 * x * line.covariance;
    return {line.intercept + line.slope * x, std::sqrt(std::max(0.0, variance)),
            x >= line.least_x && x <= line.most_x};
}

Result<LineReading> content_of(const CalibrationLine& line, double signal, int readings,
                               double weight) {
    BW_CHECK(has_slope(line));
    if (readings < 1 || !(weight > 0) || !std::isfinite(signal)) {
        return fail(ProblemCode::BadInput,
                    "a signal is the mean of one reading or more, with a weight above 0");
    }
    LineReading out;
    out.value = (signal - line.intercept) / line.slope;
    const double off = out.value - (line.kind == Intercept::Fitted ? line.mean_x : 0);
    const double of_line = line.kind == Intercept::Fitted ? 1 / line.weights : 0;
    out.u = line.residual_sd / std::abs(line.slope) *
            std::sqrt(1 / (readings * weight) + of_line + off * off / line.sxx);
    out.inside = out.value >= line.least_x && out.value <= line.most_x;
    return out;
}

Result<LineReading> standard_addition(const CalibrationLine& line) {
    BW_CHECK(has_slope(line));
    if (line.kind == Intercept::Zero) {
        return fail(ProblemCode::BadInput, "a line forced through zero has no standard addition");
    }
    LineReading out;
    out.value = line.intercept / line.slope;
    if (!(out.value >= 0)) {
        return fail(ProblemCode::BadInput,
                    "the additions lead to a content below 0: look at the blank and the additions");
    }
    const double off = out.value + line.mean_x;
    out.u = line.residual_sd / std::abs(line.slope) *
            std::sqrt(1 / line.weights + off * off / line.sxx);
    // Usual advice: additions up to one to two times the content.
    out.inside = out.value <= line.most_x;
    return out;
}

}  // namespace bw::assay
