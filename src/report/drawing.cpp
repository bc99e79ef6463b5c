// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/drawing.hpp"

#include <iterator>
#include <utility>

namespace bw::report {
namespace {

/// Length of the handles of a quarter circle drawn as one cubic: 4/3 (sqrt 2 - 1).
constexpr double kQuarter = 0.5522847498307936;

PathStep curve(double x1, double y1, double x2, double y2, double x, double y) {
    return {PathStep::Kind::Curve, x, y, x1, y1, x2, y2};
}

}  // namespace

void shift(Drawing& drawing, double dx, double dy) {
    for (Item& item : drawing) {
        if (auto* text = std::get_if<TextItem>(&item)) {
            text->x += dx;
            text->baseline += dy;
        } else if (auto* path = std::get_if<PathItem>(&item)) {
            for (PathStep& step : path->steps) {
                step.x += dx, step.x1 += dx, step.x2 += dx;
                step.y += dy, step.y1 += dy, step.y2 += dy;
            }
        }
    }
}

void append(Drawing& to, Drawing from) {
    to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

Drawing tagged(const std::string& name, Drawing drawing) {
    drawing.insert(drawing.begin(), TagItem{name, true});
    drawing.emplace_back(TagItem{name, false});
    return drawing;
}

PathItem line(double x1, double y1, double x2, double y2, const Stroke& stroke) {
    return {{{PathStep::Kind::Move, x1, y1}, {PathStep::Kind::Line, x2, y2}}, {}, stroke};
}

PathItem rectangle(double x, double y, double width, double height) {
    return polygon({{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}});
}

PathItem rounded(double x, double y, double width, double height, double radius) {
    const double r = radius, c = radius * (1 - kQuarter);
    const double right = x + width, low = y + height;
    using enum PathStep::Kind;
    return {{{Move, x + r, y},
             {Line, right - r, y},
             curve(right - c, y, right, y + c, right, y + r),
             {Line, right, low - r},
             curve(right, low - c, right - c, low, right - r, low),
             {Line, x + r, low},
             curve(x + c, low, x, low - c, x, low - r),
             {Line, x, y + r},
             curve(x, y + c, x + c, y, x + r, y),
             {Close}},
            {},
            {}};
}

PathItem circle(double x, double y, double radius) {
    return rounded(x - radius, y - radius, 2 * radius, 2 * radius, radius);
}

PathItem polygon(const std::vector<std::pair<double, double>>& corners) {
    PathItem out;
    for (const auto& [x, y] : corners) {
        const auto kind = out.steps.empty() ? PathStep::Kind::Move : PathStep::Kind::Line;
        out.steps.push_back({kind, x, y});
    }
    out.steps.push_back({PathStep::Kind::Close});
    return out;
}

PathItem filled(PathItem path, Colour fill) {
    path.fill = fill;
    return path;
}

PathItem stroked(PathItem path, const Stroke& stroke) {
    path.stroke = stroke;
    return path;
}

}  // namespace bw::report
