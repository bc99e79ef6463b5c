// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/end_point.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "assay/calibration_line.hpp"
#include "assay/step_fit.hpp"
#include "num/linear_solve.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr std::size_t kLeastPoints = 8;
constexpr std::size_t kWindow = 5;
constexpr std::size_t kEachSide = kWindow / 2;
constexpr double kStepShare = 0.1;  // of the whole change: less is taken for scatter

Result<void> check(std::span<const CurvePoint> curve, const EndPointOptions& options) {
    constexpr std::size_t kLeastFlank = 3;
    if (options.flank < kLeastFlank || options.most < 1) {
        return fail(ProblemCode::BadInput,
                    "a fit uses three points or more on either side, and one end point is looked "
                    "for at least");
    }
    if (curve.size() < kLeastPoints) {
        return fail(ProblemCode::BadInput,
                    fmt::format("a curve needs {} points or more to show an end point, {} are "
                                "there",
                                kLeastPoints, curve.size()));
    }
    for (std::size_t i = 0; i < curve.size(); ++i) {
        const bool rises = i == 0 || curve[i].volume > curve[i - 1].volume;
        if (!rises || !std::isfinite(curve[i].volume) || !std::isfinite(curve[i].signal)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("point {} of the curve: the volume has to rise from point to "
                                    "point, and the signal to be a number",
                                    i + 1));
        }
    }
    return {};
}

/// Slope and curvature by a parabola through the five points about one.
struct Local {
    double slope = 0, curvature = 0;
};
Local local(std::span<const CurvePoint> curve, std::size_t at) {
    const std::size_t first = std::min(at > kEachSide ? at - kEachSide : 0, curve.size() - kWindow);
    const double from = curve[at].volume;
    const double scale = curve[first + kWindow - 1].volume - curve[first].volume;
    constexpr std::size_t kUnknowns = 3;
    std::array<double, kUnknowns * kUnknowns> normal{};
    std::array<double, kUnknowns> right{};
    for (std::size_t i = first; i < first + kWindow; ++i) {
        const double t = (curve[i].volume - from) / scale;
        const std::array<double, kUnknowns> row{1, t, t * t};
        for (std::size_t a = 0; a < kUnknowns; ++a) {
            right[a] += row[a] * (curve[i].signal - curve[at].signal);
            for (std::size_t b = 0; b < kUnknowns; ++b) {
                normal[a * kUnknowns + b] += row[a] * row[b];
            }
        }
    }
    if (!num::solve_dense(kUnknowns, normal, right)) {
        return {};
    }
    return {right[1] / scale, 2 * right[2] / (scale * scale)};
}

/// The points from where the slope has fallen to half on either side.
struct Candidate {
    std::size_t steepest = 0, left = 0, right = 0;
};

std::vector<Candidate> candidates(std::span<const CurvePoint> curve,
                                  std::span<const double> slope) {
    std::vector<double> steep;
    for (const double s : slope) {
        steep.push_back(std::abs(s));
    }
    const auto [low, high] =
        std::minmax_element(curve.begin(), curve.end(),
                            [](const auto& a, const auto& b) { return a.signal < b.signal; });
    const double range = high->signal - low->signal;
    std::vector<Candidate> out;
    const std::size_t last = curve.size() - 1;
    for (std::size_t i = 1; i < last; ++i) {
        if (!(steep[i] >= steep[i - 1]) || !(steep[i] > steep[i + 1])) {
            continue;
        }
        Candidate c{i, i, i};
        while (c.left > 0 && steep[c.left] > steep[i] / 2 && steep[c.left] <= steep[i]) {
            --c.left;
        }
        while (c.right < last && steep[c.right] > steep[i] / 2 && steep[c.right] <= steep[i]) {
            ++c.right;
        }
        const bool falls = steep[c.left] <= steep[i] / 2 && steep[c.right] <= steep[i] / 2;
        const double step = std::abs(curve[c.right].signal - curve[c.left].signal);
        if (falls && step >= kStepShare * range) {
            out.push_back(c);
        }
    }
    return out;
}

/// Top of the parabola through the three steepest raw slopes about a point.
double by_first_derivative(std::span<const CurvePoint> curve, std::size_t near) {
    const std::size_t begin = near > kEachSide ? near - kEachSide : 0;
    const std::size_t end = std::min(near + kEachSide, curve.size() - 1);
    std::vector<std::pair<double, double>> slopes;  // at the middle of two points
    for (std::size_t i = begin; i < end; ++i) {
        slopes.emplace_back((curve[i].volume + curve[i + 1].volume) / 2,
                            std::abs((curve[i + 1].signal - curve[i].signal) /
                                     (curve[i + 1].volume - curve[i].volume)));
    }
    const auto top =
        std::max_element(slopes.begin(), slopes.end(),
                         [](const auto& a, const auto& b) { return a.second < b.second; });
    if (top == slopes.begin() || top == slopes.end() - 1) {
        return top->first;
    }
    const auto [x0, y0] = *(top - 1);
    const auto [x1, y1] = *top;
    const auto [x2, y2] = *(top + 1);
    const double left = (y1 - y0) * (x1 - x2) * (x1 - x2);
    const double right = (y1 - y2) * (x1 - x0) * (x1 - x0);
    const double below = (y1 - y0) * (x1 - x2) - (y1 - y2) * (x1 - x0);
    return below == 0 ? x1 : x1 - (right - left) / (2 * -below);
}

double by_second_derivative(std::span<const CurvePoint> curve, std::size_t near) {
    const std::size_t begin = near > kEachSide ? near - kEachSide : 0;
    const std::size_t end = std::min(near + kEachSide, curve.size() - 1);
    const double sign = local(curve, near).slope > 0 ? 1 : -1;
    for (std::size_t i = begin; i < end; ++i) {
        const double a = sign * local(curve, i).curvature;
        const double b = sign * local(curve, i + 1).curvature;
        if (a > 0 && b <= 0) {
            return curve[i].volume + (curve[i + 1].volume - curve[i].volume) * a / (a - b);
        }
    }
    return curve[near].volume;
}

Result<EndPoint> fitted(std::span<const CurvePoint> curve, const Candidate& c,
                        std::span<const double> slope, std::size_t from, std::size_t to,
                        const EndPointOptions& options) {
    const std::size_t begin =
        std::max(from, c.steepest > options.flank ? c.steepest - options.flank : 0);
    const std::size_t end = std::min(to, c.steepest + options.flank + 1);
    EndPoint out;
    out.first = begin;
    out.by_first_derivative = by_first_derivative(curve, c.steepest);
    out.by_second_derivative = by_second_derivative(curve, c.steepest);
    out.step = curve[c.right].signal - curve[c.left].signal;
    const double width = (curve[c.right].volume - curve[c.left].volume) / 4;
    const auto part = curve.subspan(begin, end - begin);
    BW_TRY(fit, fit_step(part, options.shape, out.by_first_derivative, width, slope[c.steepest]));
    out.volume = fit.place;
    out.u = fit.u_place;
    out.rms = fit.rms;
    out.residuals = fit.residuals;
    return out;
}

Result<EndPoints> stepped(std::span<const CurvePoint> curve, const EndPointOptions& options) {
    EndPoints out;
    for (std::size_t i = 0; i < curve.size(); ++i) {
        out.slope.push_back(local(curve, i).slope);
    }
    std::vector<Candidate> found = candidates(curve, out.slope);
    if (found.empty()) {
        return fail(ProblemCode::BadInput,
                    "the curve has no inflection that stands out: titrate further past the end "
                    "point, with smaller steps near it");
    }
    std::stable_sort(found.begin(), found.end(), [&](const Candidate& a, const Candidate& b) {
        return std::abs(out.slope[a.steepest]) > std::abs(out.slope[b.steepest]);
    });
    found.resize(std::min(found.size(), options.most));
    std::sort(found.begin(), found.end(),
              [](const Candidate& a, const Candidate& b) { return a.steepest < b.steepest; });
    constexpr std::size_t kLeastBeside = 3;
    for (std::size_t i = 0; i < found.size(); ++i) {
        // Between two end points each fit keeps to its own side of the flattest point.
        const auto flattest = [&](std::size_t a, std::size_t b) {
            const auto least =
                std::min_element(out.slope.begin() + static_cast<std::ptrdiff_t>(a),
                                 out.slope.begin() + static_cast<std::ptrdiff_t>(b) + 1,
                                 [](double x, double y) { return std::abs(x) < std::abs(y); });
            return static_cast<std::size_t>(least - out.slope.begin());
        };
        const std::size_t from = i == 0 ? 0 : flattest(found[i - 1].steepest, found[i].steepest);
        const std::size_t to = i + 1 == found.size()
                                   ? curve.size()
                                   : flattest(found[i].steepest, found[i + 1].steepest) + 1;
        if (found[i].steepest - from < kLeastBeside || to - found[i].steepest <= kLeastBeside) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the end point near {:g} has fewer than {} points on one side: "
                                    "take smaller steps about it",
                                    curve[found[i].steepest].volume, kLeastBeside));
        }
        BW_TRY(point, fitted(curve, found[i], out.slope, from, to, options));
        out.points.push_back(std::move(point));
    }
    return out;
}

Result<CalibrationLine> line_of(std::span<const CurvePoint> curve) {
    std::vector<CalibrationPoint> points;
    for (const CurvePoint& p : curve) {
        points.push_back({p.volume, p.signal, 1});
    }
    return fit_line(points);
}

Result<EndPoints> crossed(std::span<const CurvePoint> curve) {
    constexpr std::size_t kLeastEach = 3;
    double best = std::numeric_limits<double>::infinity();
    std::size_t split = 0;
    const auto squares = [](const CalibrationLine& l) {
        return l.residual_sd * l.residual_sd * l.freedom;
    };
    for (std::size_t k = kLeastEach; k + kLeastEach <= curve.size(); ++k) {
        BW_TRY(left, line_of(curve.first(k)));
        BW_TRY(right, line_of(curve.subspan(k)));
        if (squares(left) + squares(right) < best) {
            best = squares(left) + squares(right);
            split = k;
        }
    }
    BW_TRY(left, line_of(curve.first(split)));
    BW_TRY(right, line_of(curve.subspan(split)));
    const double bend = right.slope - left.slope;
    constexpr double kSure = 4;  // standard uncertainties of the bend
    if (!(std::abs(bend) > kSure * std::hypot(left.u_slope, right.u_slope))) {
        return fail(ProblemCode::BadInput,
                    "the curve is one straight line as far as its scatter shows: no end point");
    }
    EndPoint p;
    p.volume = (left.intercept - right.intercept) / bend;
    if (p.volume < curve.front().volume || p.volume > curve.back().volume) {
        return fail(ProblemCode::BadInput,
                    "the two lines of the curve cross outside it: titrate further past the end "
                    "point");
    }
    const double u_left = value_at(left, p.volume).u;
    const double u_right = value_at(right, p.volume).u;
    p.u = std::hypot(u_left, u_right) / std::abs(bend);
    p.by_first_derivative = p.by_second_derivative = p.volume;
    p.step = curve.back().signal - curve.front().signal;
    p.rms = std::sqrt(best / (static_cast<double>(curve.size()) - 4));
    p.residuals = left.residuals;
    p.residuals.insert(p.residuals.end(), right.residuals.begin(), right.residuals.end());
    EndPoints out;
    out.points.push_back(std::move(p));
    return out;
}

}  // namespace

std::string_view name(CurveShape shape) {
    return shape == CurveShape::Potential   ? "potential"
           : shape == CurveShape::Indicator ? "indicator"
                                            : "two lines";
}

Result<EndPoints> find_end_points(std::span<const CurvePoint> curve,
                                  const EndPointOptions& options) {
    BW_CHECK(check(curve, options));
    return options.shape == CurveShape::TwoLines ? crossed(curve) : stepped(curve, options);
}

}  // namespace bw::assay
