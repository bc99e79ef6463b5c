// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "report/axis.hpp"
#include "report/chart.hpp"
#include "report/figure.hpp"
#include "report/pdf.hpp"
#include "report/svg.hpp"
#include "report/text.hpp"

namespace bw::report {
namespace {

constexpr PageSize kSheet{600, 460};
constexpr PlotField kCurve{80, 50, 570, 300}, kStrip{80, 326, 570, 406};
constexpr std::size_t kMostPoints = 5000;
constexpr Colour kBlue = colour(0x0072B2), kVermilion = colour(0xD55E00);

std::string number(double value) {
    constexpr int kDigits = 4;
    return printed(base::format_short(value, kDigits));
}

Result<void> check(const TitrationChart& chart) {
    const std::size_t most =
        std::max({chart.points.size(), chart.fitted.size(), chart.residuals.size()});
    if (chart.points.empty() || most > kMostPoints) {
        return fail(
            chart.points.empty() ? ProblemCode::BadInput : ProblemCode::TooLarge,
            fmt::format("a titration chart holds 1 to {} points, this one {}", kMostPoints, most),
            {{}, 0, "points"});
    }
    for (const auto* points : {&chart.points, &chart.fitted, &chart.residuals}) {
        for (const CurvePoint& point : *points) {
            if (!std::isfinite(point.x) || !std::isfinite(point.y)) {
                return fail(ProblemCode::BadInput, "points of a titration chart are finite numbers",
                            {{}, 0, "points"});
            }
        }
    }
    if (chart.end_point && !std::isfinite(*chart.end_point)) {
        return fail(ProblemCode::BadInput, "the end point of a titration chart is a finite number",
                    {{}, 0, "end_point"});
    }
    return {};
}

std::pair<double, double> range(const std::vector<const std::vector<CurvePoint>*>& sets,
                                double CurvePoint::*part) {
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (const auto* set : sets) {
        for (const CurvePoint& point : *set) {
            least = std::min(least, point.*part);
            most = std::max(most, point.*part);
        }
    }
    return {least, most};
}

void points(Drawing& to, const std::vector<CurvePoint>& of, const Axis& x, const Axis& y) {
    constexpr double kRadius = 2.2, kThin = 0.9;
    for (const CurvePoint& point : of) {
        const PathItem disc = circle(x.at(point.x), y.at(point.y), kRadius);
        to.emplace_back(point.used ? filled(disc, kBlue)
                                   : stroked(filled(disc, kPaper), {kBlue, kThin, {}}));
    }
}

Drawing residual_strip(const TitrationChart& chart, const Axis& x) {
    constexpr int kParts = 3;
    constexpr double kHeavy = 0.9;
    auto [least, most] = range({&chart.residuals}, &CurvePoint::y);
    // The strip is drawn about 0, so that it shows at once which side the residuals lie on.
    const double reach = std::max(std::abs(least), std::abs(most));
    const Axis y = axis_about(-reach, reach, kParts, kStrip.low, kStrip.top);
    Drawing out = plot_ground(kStrip, y, chart.residual_title);
    out.emplace_back(line(kStrip.left, y.at(0), kStrip.right, y.at(0), {kInk, kHeavy, {}}));
    points(out, chart.residuals, x, y);
    return out;
}

Drawing drawn(const TitrationChart& chart, const Typeface& typeface) {
    constexpr int kParts = 6;
    constexpr double kSmallest = 0.6, kTitleAt = 28, kThin = 0.8, kDash = 4, kGap = 3, kOut = 5,
                     kDown = 8;
    auto [least_x, most_x] = range({&chart.points, &chart.fitted}, &CurvePoint::x);
    if (chart.end_point) {
        least_x = std::min(least_x, *chart.end_point);
        most_x = std::max(most_x, *chart.end_point);
    }
    const auto [least_y, most_y] = range({&chart.points, &chart.fitted}, &CurvePoint::y);
    const Axis x = axis_about(least_x, most_x, kParts, kCurve.left, kCurve.right);
    const Axis y = axis_about(least_y, most_y, kParts, kCurve.low, kCurve.top);
    Drawing out = plot_ground(kCurve, y, chart.y_title);
    const bool strip = !chart.residuals.empty();
    if (strip) {
        append(out, residual_strip(chart, x));
    }
    append(out, x_ticks(strip ? kStrip : kCurve, x, chart.x_title));
    out.emplace_back(
        fitted({kCurve.left, kTitleAt, chart.title, {Face::Bold, kChartTitleType, kInk}},
               kCurve.right - kCurve.left, kSmallest, typeface));
    PathItem curve;
    for (const CurvePoint& point : chart.fitted) {
        const auto kind = curve.steps.empty() ? PathStep::Kind::Move : PathStep::Kind::Line;
        curve.steps.push_back({kind, x.at(point.x), y.at(point.y)});
    }
    if (!curve.steps.empty()) {
        out.emplace_back(stroked(curve, {kInk, kThin, {}}));
    }
    points(out, chart.points, x, y);
    if (chart.end_point) {
        const double at = x.at(*chart.end_point);
        out.emplace_back(line(at, kCurve.top, at, strip ? kStrip.low : kCurve.low,
                              {kVermilion, kThin, {kDash, kGap}}));
        const bool at_right = at > (kCurve.left + kCurve.right) / 2;
        out.emplace_back(TextItem{at + (at_right ? -kOut : kOut),
                                  kCurve.top + kDown,
                                  chart.end_point_label,
                                  {Face::Bold, kTickType, kInk},
                                  at_right ? Anchor::End : Anchor::Start});
    }
    out.emplace_back(TextItem{kCurve.left,
                              kSheet.height - kDown,
                              "disc: used by the fit   ring: not used   line: the fit",
                              {Face::Regular, kTickType, kQuiet}});
    return out;
}

}  // namespace

std::string titration_in_words(const TitrationChart& chart) {
    std::size_t used = 0;
    for (const CurvePoint& point : chart.points) {
        used += point.used ? 1 : 0;
    }
    std::string out = fmt::format("{} against {}: {} points, {} of them used by the fit.",
                                  chart.y_title, chart.x_title, chart.points.size(), used);
    if (chart.end_point) {
        out += fmt::format(" The end point lies at {}.", number(*chart.end_point));
    }
    if (!chart.residuals.empty()) {
        const auto [least, most] = range({&chart.residuals}, &CurvePoint::y);
        out += fmt::format(" {} from {} to {}.", chart.residual_title, number(least), number(most));
    }
    return out;
}

Result<std::string> titration_svg(const TitrationChart& chart) {
    BW_CHECK(check(chart));
    const Typeface typeface;
    const Drawing drawing = drawn(chart, typeface);
    BW_CHECK(looked_over(drawing, kSheet, typeface));
    return svg_text(drawing, kSheet, chart.title, titration_in_words(chart));
}

Result<std::string> titration_pdf(const TitrationChart& chart) {
    BW_CHECK(check(chart));
    const Typeface typeface;
    const std::vector<Drawing> page{tagged("Figure", drawn(chart, typeface))};
    return pdf_bytes(page, kSheet, {chart.title, {}, titration_in_words(chart), {}, chart.created},
                     typeface);
}

}  // namespace bw::report
