// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/status.hpp"

#include <string>

namespace bw::report {
namespace {

// Fills and text of the measured palette: contrast of text to fill 7.5 or more.
constexpr Colour kGreen = colour(0x0A5C48), kYellow = colour(0xFFC533), kRed = colour(0xA61B1B),
                 kViolet = colour(0xB9A7E8), kSky = colour(0xD6ECFA);

struct Look {
    Colour fill, text;
};

Look look(Status status) {
    switch (status) {
        case Status::Within:
            return {kGreen, kPaper};
        case Status::TooClose:
            return {kYellow, kInk};
        case Status::Outside:
            return {kRed, kPaper};
        case Status::OnHold:
            return {kViolet, kInk};
        case Status::Information:
            return {kSky, kInk};
        case Status::NotTested:
            break;
    }
    return {kPaper, kInk};
}

/// The shape in a square of side `d` with its top left corner at (x, y).
Drawing shape(Status status, double x, double y, double d, Colour ink) {
    // Parts of the side, by eye at 7 points.
    constexpr double kLine = 0.11, kCut = 0.29;
    const Stroke stroke{ink, kLine * d, {}};
    const double r = d / 2, cx = x + r, cy = y + r;
    const auto at = [&](double u, double v) { return std::pair{x + u * d, y + v * d}; };
    using Kind = PathStep::Kind;
    const auto open = [&](const std::vector<std::pair<double, double>>& points) {
        PathItem path;
        for (const auto& [px, py] : points) {
            path.steps.push_back({path.steps.empty() ? Kind::Move : Kind::Line, px, py});
        }
        return stroked(path, stroke);
    };
    // The numbers below are places in the square of side 1.
    switch (status) {
        case Status::Within:
            return {stroked(circle(cx, cy, r), stroke),
                    open({at(0.27, 0.52), at(0.44, 0.70), at(0.74, 0.33)})};
        case Status::TooClose:
            return {stroked(polygon({at(0.5, 0), at(1, 0.5), at(0.5, 1), at(0, 0.5)}), stroke),
                    filled(polygon({at(0.5, 0), at(0.5, 1), at(0, 0.5)}), ink)};
        case Status::Outside:
            return {stroked(polygon({at(kCut, 0), at(1 - kCut, 0), at(1, kCut), at(1, 1 - kCut),
                                     at(1 - kCut, 1), at(kCut, 1), at(0, 1 - kCut), at(0, kCut)}),
                            stroke),
                    open({at(0.3, 0.3), at(0.7, 0.7)}), open({at(0.7, 0.3), at(0.3, 0.7)})};
        case Status::OnHold:
            return {filled(rectangle(x + 0.18 * d, y, 0.22 * d, d), ink),
                    filled(rectangle(x + 0.60 * d, y, 0.22 * d, d), ink)};
        case Status::Information:
            return {filled(circle(cx, y + 0.12 * d, 0.12 * d), ink),
                    filled(rectangle(cx - 0.1 * d, y + 0.36 * d, 0.2 * d, 0.64 * d), ink)};
        case Status::NotTested:
            break;
    }
    return {stroked(circle(cx, cy, r - kLine * d / 2), stroke)};
}

constexpr double kShape = 0.78, kGap = 0.42, kPad = 0.48;  // of the type size
constexpr double kAbove = 1.02, kBelow = 0.36;             // of the type size, from the baseline

Style word_style(Status status, double size) { return {Face::Bold, size, look(status).text}; }

}  // namespace

std::string_view name(Status status) {
    switch (status) {
        case Status::Within:
            return "Within limits";
        case Status::TooClose:
            return "Too close to call";
        case Status::Outside:
            return "Outside limits";
        case Status::OnHold:
            return "On hold";
        case Status::Information:
            return "For information";
        case Status::NotTested:
            break;
    }
    return "Not tested";
}

double status_width(Status status, const std::string& word, double size, const Typeface& typeface) {
    return typeface.width(word, word_style(status, size)) + (2 * kPad + kShape + kGap) * size;
}

Drawing status_mark(Status status, const std::string& word, double x, double baseline, double size,
                    const Typeface& typeface) {
    constexpr double kRound = 0.3, kBorder = 0.6, kDash = 2;
    const Look looks = look(status);
    const double width = status_width(status, word, size, typeface);
    PathItem ground =
        filled(rounded(x, baseline - kAbove * size, width, (kAbove + kBelow) * size, kRound * size),
               looks.fill);
    ground.stroke = Stroke{kInk, kBorder, {}};
    if (status == Status::NotTested) {
        ground.stroke->dash = {kDash, kDash};
    }
    Drawing out{ground};
    const double middle = baseline + (kBelow - kAbove) / 2 * size;
    append(out,
           shape(status, x + kPad * size, middle - kShape * size / 2, kShape * size, looks.text));
    out.emplace_back(
        TextItem{x + (kPad + kShape + kGap) * size, baseline, word, word_style(status, size)});
    return out;
}

}  // namespace bw::report
