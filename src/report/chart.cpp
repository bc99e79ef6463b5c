// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/chart.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "report/axis.hpp"
#include "report/figure.hpp"
#include "report/house_style.hpp"
#include "report/pdf.hpp"
#include "report/svg.hpp"
#include "report/text.hpp"

namespace bw::report {
namespace {

constexpr PageSize kSheet{640, 400};
constexpr PlotField kField{76, 66, 560, 330};
constexpr std::size_t kMostPoints = 5000;
constexpr Colour kBlue = colour(0x0072B2), kVermilion = colour(0xD55E00);
constexpr double kFirstLine = 24, kSecondLine = 40;

std::string number(double value) {
    constexpr int kDigits = 6;
    return printed(base::format_short(value, kDigits));
}

Result<void> check(const TrendChart& chart) {
    if (chart.points.empty() || chart.points.size() > kMostPoints) {
        return fail(chart.points.empty() ? ProblemCode::BadInput : ProblemCode::TooLarge,
                    fmt::format("a trend chart holds 1 to {} points, this one {}", kMostPoints,
                                chart.points.size()),
                    {{}, 0, "points"});
    }
    bool finite = std::isfinite(chart.centre);
    for (const TrendPoint& point : chart.points) {
        finite = finite && std::isfinite(point.value);
    }
    const double low = chart.action_low.value_or(chart.warning_low.value_or(chart.centre));
    const double high = chart.action_high.value_or(chart.warning_high.value_or(chart.centre));
    const double inner_low = chart.warning_low.value_or(low);
    const double inner_high = chart.warning_high.value_or(high);
    if (!finite || !std::isfinite(low) || !std::isfinite(high) ||
        !(low <= inner_low && inner_low <= chart.centre && chart.centre <= inner_high &&
          inner_high <= high)) {
        return fail(ProblemCode::BadInput,
                    "values and limits of a trend chart are finite, and the limits stand in order: "
                    "action, warning, centre, warning, action",
                    {{}, 0, "limits"});
    }
    return {};
}

struct Trend {
    const TrendChart& chart;
    Axis y;

    explicit Trend(const TrendChart& of) : chart(of) {
        double least = of.centre, most = of.centre;
        const auto take = [&](double value) {
            least = std::min(least, value);
            most = std::max(most, value);
        };
        for (const auto& limit : {of.warning_low, of.warning_high, of.action_low, of.action_high}) {
            take(limit.value_or(of.centre));
        }
        for (const TrendPoint& point : of.points) {
            take(point.value);
        }
        constexpr int kParts = 6;
        y = axis_about(least, most, kParts, kField.low, kField.top);
    }

    [[nodiscard]] double x(std::size_t i) const {
        constexpr double kMiddle = 0.5;
        const double n = static_cast<double>(chart.points.size());
        return kField.left + (static_cast<double>(i) + kMiddle) / n * (kField.right - kField.left);
    }

    void limit(Drawing& to, std::optional<double> value, const char* name,
               const Stroke& stroke) const {
        if (!value) {
            return;
        }
        constexpr double kOut = 5, kDrop = 0.34;
        const double at = y.at(*value);
        to.emplace_back(line(kField.left, at, kField.right, at, stroke));
        to.emplace_back(TextItem{kField.right + kOut,
                                 at + kDrop * kTickType,
                                 fmt::format("{} {}", name, number(*value)),
                                 {Face::Regular, kTickType, kInk}});
    }

    void limits(Drawing& to) const {
        constexpr double kThick = 1.1, kThin = 0.8, kDash = 5, kGap = 3;
        limit(to, chart.centre, "centre", {kInk, kThick, {}});
        limit(to, chart.warning_low, "warning", {kInk, kThin, {kDash, kGap}});
        limit(to, chart.warning_high, "warning", {kInk, kThin, {kDash, kGap}});
        limit(to, chart.action_low, "action", {kVermilion, kThick, {}});
        limit(to, chart.action_high, "action", {kVermilion, kThick, {}});
    }

    void changes(Drawing& to) const {
        constexpr double kThin = 0.7, kDot = 1.5, kGap = 2.5, kUp = 4;
        for (std::size_t i = 0; i < chart.points.size(); ++i) {
            const std::string& change = chart.points[i].change;
            if (change.empty()) {
                continue;
            }
            const double at = i == 0 ? kField.left : (x(i - 1) + x(i)) / 2;
            to.emplace_back(line(at, kField.top - 2, at, kField.low, {kInk, kThin, {kDot, kGap}}));
            to.emplace_back(TextItem{
                at, kField.top - kUp, change, {Face::Italic, kTickType, kInk}, Anchor::Middle});
        }
    }

    void join(Drawing& to) const {
        constexpr double kThin = 0.9;
        PathItem path;
        for (std::size_t i = 0; i < chart.points.size(); ++i) {
            if (!chart.points[i].set_aside) {
                const auto kind = path.steps.empty() ? PathStep::Kind::Move : PathStep::Kind::Line;
                path.steps.push_back({kind, x(i), y.at(chart.points[i].value)});
            }
        }
        to.emplace_back(stroked(path, {kBlue, kThin, {}}));
    }

    void marks(Drawing& to) const {
        constexpr double kRadius = 2.6, kSignal = 4.6, kThin = 1, kUp = 8, kDrop = 0.34;
        for (std::size_t i = 0; i < chart.points.size(); ++i) {
            const TrendPoint& point = chart.points[i];
            const double px = x(i), py = y.at(point.value);
            if (!point.signal.empty()) {
                to.emplace_back(filled(polygon({{px, py - kSignal},
                                                {px + kSignal, py},
                                                {px, py + kSignal},
                                                {px - kSignal, py}}),
                                       kVermilion));
                const bool at_right = px > (kField.left + kField.right) / 2;
                to.emplace_back(TextItem{px + (at_right ? -kUp : kUp),
                                         py + kDrop * kTickType,
                                         point.signal,
                                         {Face::Bold, kTickType, kInk},
                                         at_right ? Anchor::End : Anchor::Start});
            } else if (point.set_aside) {
                to.emplace_back(
                    stroked(filled(circle(px, py, kRadius), kPaper), {kBlue, kThin, {}}));
            } else {
                to.emplace_back(filled(circle(px, py, kRadius), kBlue));
            }
        }
    }

    /// Labels of points, as many as have room beside each other.
    void labels(Drawing& to, const Typeface& typeface) const {
        constexpr double kBelow = 14, kTitleBelow = 28, kApart = 8, kTick = 4, kThin = 0.7;
        const Style style{Face::Regular, kTickType, kQuiet};
        double widest = 1;
        for (const TrendPoint& point : chart.points) {
            widest = std::max(widest, typeface.width(point.label, style));
        }
        const double room = (kField.right - kField.left) / static_cast<double>(chart.points.size());
        const auto every = static_cast<std::size_t>(std::ceil((widest + kApart) / room));
        for (std::size_t i = 0; i < chart.points.size(); i += every) {
            to.emplace_back(line(x(i), kField.low, x(i), kField.low + kTick, {kInk, kThin, {}}));
            to.emplace_back(
                TextItem{x(i), kField.low + kBelow, chart.points[i].label, style, Anchor::Middle});
        }
        to.emplace_back(TextItem{(kField.left + kField.right) / 2,
                                 kField.low + kTitleBelow,
                                 chart.x_title,
                                 {Face::Regular, kAxisTitleType, kInk},
                                 Anchor::Middle});
    }

    [[nodiscard]] Drawing drawn(const Typeface& typeface) const {
        constexpr double kSmallest = 0.6, kFoot = 380;
        Drawing out = plot_ground(kField, y, chart.y_title);
        const double room = kSheet.width - kField.left - kFirstLine;
        out.emplace_back(
            fitted({kField.left, kFirstLine, chart.title, {Face::Bold, kChartTitleType, kInk}},
                   room, kSmallest, typeface));
        out.emplace_back(fitted(
            {kField.left, kSecondLine, chart.limits_note, {Face::Regular, kAxisTitleType, kQuiet}},
            room, kSmallest, typeface));
        limits(out);
        changes(out);
        join(out);
        marks(out);
        labels(out, typeface);
        const bool aside = std::any_of(chart.points.begin(), chart.points.end(),
                                       [](const TrendPoint& point) { return point.set_aside; });
        out.emplace_back(TextItem{kField.left,
                                  kFoot,
                                  std::string("disc: counted   diamond: breaks the rule named") +
                                      (aside ? "   ring: set aside" : ""),
                                  {Face::Regular, kTickType, kQuiet}});
        return out;
    }
};

Result<std::string> as_pdf(const Drawing& drawing, const std::string& title,
                           const std::string& words, const std::string& created,
                           const Typeface& typeface) {
    const std::vector<Drawing> page{tagged("Figure", drawing)};
    return pdf_bytes(page, kSheet, {title, {}, words, {}, created}, typeface);
}

Result<std::string> as_svg(const Drawing& drawing, const std::string& title,
                           const std::string& words, const Typeface& typeface) {
    BW_CHECK(looked_over(drawing, kSheet, typeface));
    return svg_text(drawing, kSheet, title, words);
}

}  // namespace

std::string trend_in_words(const TrendChart& chart) {
    double least = 0, most = 0;
    std::size_t aside = 0;
    std::string signals;
    for (const TrendPoint& point : chart.points) {
        const bool first = &point == &chart.points.front();
        least = first ? point.value : std::min(least, point.value);
        most = first ? point.value : std::max(most, point.value);
        aside += point.set_aside ? 1 : 0;
        if (!point.signal.empty()) {
            signals +=
                fmt::format(" {} at {}: {}.", number(point.value), point.label, point.signal);
        }
    }
    std::string out =
        fmt::format("{}: {} points from {} to {}, centre {}", chart.y_title, chart.points.size(),
                    number(least), number(most), number(chart.centre));
    const auto pair = [&](const char* name, const std::optional<double>& low,
                          const std::optional<double>& high) {
        if (low && high) {
            out += fmt::format(", {} limits {} and {}", name, number(*low), number(*high));
        }
    };
    pair("warning", chart.warning_low, chart.warning_high);
    pair("action", chart.action_low, chart.action_high);
    out += ".";
    if (aside > 0) {
        out += fmt::format(" Set aside: {}.", aside);
    }
    return out + (signals.empty() ? " No rule is broken." : " Rules broken:" + signals);
}

Result<std::string> trend_svg(const TrendChart& chart) {
    BW_CHECK(check(chart));
    const Typeface typeface;
    return as_svg(Trend(chart).drawn(typeface), chart.title, trend_in_words(chart), typeface);
}

Result<std::string> trend_pdf(const TrendChart& chart) {
    BW_CHECK(check(chart));
    const Typeface typeface;
    return as_pdf(Trend(chart).drawn(typeface), chart.title, trend_in_words(chart), chart.created,
                  typeface);
}

}  // namespace bw::report
