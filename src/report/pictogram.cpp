// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/pictogram.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

namespace bw::report {
namespace {

using Point = std::pair<double, double>;

constexpr Colour kFrame = colour(0xD0021B), kSymbol = colour(0x000000);

/// Draws in a square of side 1 that stands at a place of the paper. All numbers below are places in
/// that square, chosen by eye.
class Board {
public:
    Board(double x, double y, double side) : x_(x), y_(y), side_(side) {}

    [[nodiscard]] Drawing done() { return std::move(out_); }

    void disc(Point middle, double radius, Colour ink = kSymbol) {
        out_.emplace_back(filled(
            circle(x_ + middle.first * side_, y_ + middle.second * side_, radius * side_), ink));
    }
    void ring(Point middle, double radius, double width) {
        out_.emplace_back(
            stroked(circle(x_ + middle.first * side_, y_ + middle.second * side_, radius * side_),
                    {kSymbol, width * side_, {}}));
    }
    void area(std::vector<Point> corners, Colour ink = kSymbol) {
        for (Point& p : corners) {
            p = {x_ + p.first * side_, y_ + p.second * side_};
        }
        out_.emplace_back(filled(polygon(corners), ink));
    }
    /// A bar from one point to another.
    void bar(Point from, Point to, double width, Colour ink = kSymbol) {
        out_.emplace_back(line(x_ + from.first * side_, y_ + from.second * side_,
                               x_ + to.first * side_, y_ + to.second * side_,
                               {ink, width * side_, {}}));
    }
    void block(double left, double top, double width, double height, double round,
               Colour ink = kSymbol) {
        out_.emplace_back(filled(rounded(x_ + left * side_, y_ + top * side_, width * side_,
                                         height * side_, round * side_),
                                 ink));
    }
    /// A closed line of cubic curves: two handles and an end each.
    void blob(Point start, const std::vector<std::array<Point, 3>>& curves, Colour ink = kSymbol) {
        PathItem path;
        path.steps.push_back(
            {PathStep::Kind::Move, x_ + start.first * side_, y_ + start.second * side_});
        for (const auto& [a, b, end] : curves) {
            path.steps.push_back({PathStep::Kind::Curve, x_ + end.first * side_,
                                  y_ + end.second * side_, x_ + a.first * side_,
                                  y_ + a.second * side_, x_ + b.first * side_,
                                  y_ + b.second * side_});
        }
        path.steps.push_back({PathStep::Kind::Close});
        out_.emplace_back(filled(path, ink));
    }

private:
    double x_, y_, side_;
    Drawing out_;
};

void diamond(Board& b) {
    constexpr double kWidth = 0.085;  // of the frame, along the axes
    b.area({{0.5, 0}, {1, 0.5}, {0.5, 1}, {0, 0.5}}, kFrame);
    b.area({{0.5, kWidth}, {1 - kWidth, 0.5}, {0.5, 1 - kWidth}, {kWidth, 0.5}}, kPaper);
}

/// A flame that stands on (middle, foot), so high.
void flame(Board& b, double middle, double foot, double height) {
    const auto at = [&](double u, double v) {
        return Point{middle + (u - 0.5) * height, foot + (v - 1) * height};
    };
    b.blob(at(0.55, 0), {{{at(0.72, 0.24), at(0.90, 0.40), at(0.86, 0.68)}},
                         {{at(0.83, 0.88), at(0.69, 1.0), at(0.5, 1.0)}},
                         {{at(0.29, 1.0), at(0.14, 0.86), at(0.16, 0.64)}},
                         {{at(0.18, 0.48), at(0.30, 0.42), at(0.30, 0.24)}},
                         {{at(0.38, 0.30), at(0.42, 0.38), at(0.42, 0.46)}},
                         {{at(0.51, 0.34), at(0.60, 0.20), at(0.55, 0)}}});
    b.blob(at(0.53, 0.56),
           {{{at(0.64, 0.68), at(0.69, 0.76), at(0.65, 0.86)}},
            {{at(0.61, 0.94), at(0.43, 0.94), at(0.39, 0.84)}},
            {{at(0.37, 0.74), at(0.50, 0.70), at(0.53, 0.56)}}},
           kPaper);
}

void burning(Board& b) {
    flame(b, 0.5, 0.70, 0.50);
    b.block(0.37, 0.73, 0.26, 0.035, 0);
}

void oxidising(Board& b) {
    flame(b, 0.5, 0.475, 0.33);
    b.ring({0.5, 0.61}, 0.115, 0.042);
    b.block(0.395, 0.75, 0.21, 0.032, 0);
}

void corrosion(Board& b) {
    for (const double side : {-1.0, 1.0}) {  // two glasses that are poured out
        const auto at = [side](double u, double v) { return Point{0.5 + side * u, v}; };
        b.area({at(0.03, 0.285), at(0.085, 0.23), at(0.235, 0.37), at(0.18, 0.425)});
        b.bar(at(0.24, 0.345), at(0.155, 0.43), 0.024);
        b.disc(at(0.19, 0.468), 0.021);
        b.disc(at(0.185, 0.528), 0.021);
    }
    b.block(0.26, 0.605, 0.205, 0.058, 0);  // a plate that is eaten into
    b.disc({0.315, 0.598}, 0.04, kPaper);
    b.blob({0.535, 0.645}, {{{{0.58, 0.60}, {0.63, 0.588}, {0.68, 0.60}}},  // a hand
                            {{{0.72, 0.608}, {0.76, 0.595}, {0.76, 0.618}}},
                            {{{0.76, 0.636}, {0.73, 0.645}, {0.70, 0.65}}},
                            {{{0.66, 0.695}, {0.63, 0.705}, {0.585, 0.705}}},
                            {{{0.555, 0.705}, {0.525, 0.69}, {0.535, 0.645}}}});
    b.disc({0.685, 0.588}, 0.034, kPaper);
}

void skull(Board& b) {
    for (const double side : {-1.0, 1.0}) {
        const auto at = [side](double u, double v) { return Point{0.5 + side * u, v}; };
        b.bar(at(-0.18, 0.575), at(0.155, 0.70), 0.048);
        for (const Point& end :
             {at(-0.185, 0.55), at(-0.197, 0.592), at(0.148, 0.722), at(0.172, 0.683)}) {
            b.disc(end, 0.029);
        }
    }
    b.disc({0.5, 0.335}, 0.185, kPaper);
    b.block(0.41, 0.42, 0.18, 0.155, 0.03, kPaper);
    b.disc({0.5, 0.33}, 0.155);
    b.block(0.43, 0.42, 0.14, 0.125, 0.03);
    b.disc({0.439, 0.352}, 0.042, kPaper);
    b.disc({0.561, 0.352}, 0.042, kPaper);
    b.area({{0.5, 0.392}, {0.523, 0.442}, {0.477, 0.442}}, kPaper);
    for (const double x : {0.465, 0.5, 0.535}) {
        b.bar({x, 0.475}, {x, 0.545}, 0.012, kPaper);
    }
}

void exclamation(Board& b) {
    b.disc({0.5, 0.265}, 0.07);
    b.area({{0.43, 0.265}, {0.57, 0.265}, {0.535, 0.60}, {0.465, 0.60}});
    b.disc({0.5, 0.60}, 0.035);
    b.disc({0.5, 0.735}, 0.066);
}

void health(Board& b) {
    b.disc({0.5, 0.24}, 0.088);
    b.blob({0.43, 0.335}, {{{{0.47, 0.375}, {0.53, 0.375}, {0.57, 0.335}}},
                           {{{0.66, 0.355}, {0.715, 0.40}, {0.725, 0.50}}},
                           {{{0.73, 0.57}, {0.72, 0.64}, {0.68, 0.68}}},
                           {{{0.62, 0.76}, {0.38, 0.76}, {0.32, 0.68}}},
                           {{{0.28, 0.64}, {0.27, 0.57}, {0.275, 0.50}}},
                           {{{0.285, 0.40}, {0.34, 0.355}, {0.43, 0.335}}}});
    constexpr int kRays = 8;
    std::vector<Point> star;
    for (int i = 0; i < 2 * kRays; ++i) {
        const double radius = i % 2 == 1 ? 0.05 : i % 4 == 0 ? 0.19 : 0.12;
        const double angle = std::numbers::pi * i / kRays;
        star.emplace_back(0.5 + radius * std::sin(angle), 0.545 - radius * std::cos(angle));
    }
    b.area(star, kPaper);
}

void environment(Board& b) {
    b.area({{0.355, 0.62}, {0.375, 0.27}, {0.405, 0.27}, {0.435, 0.62}});  // a bare tree
    for (const auto& [from, to] :
         std::vector<std::pair<Point, Point>>{{{0.385, 0.48}, {0.26, 0.36}},
                                              {{0.31, 0.41}, {0.235, 0.42}},
                                              {{0.39, 0.42}, {0.51, 0.30}},
                                              {{0.455, 0.355}, {0.46, 0.265}},
                                              {{0.385, 0.36}, {0.335, 0.275}},
                                              {{0.39, 0.30}, {0.43, 0.205}}}) {
        b.bar(from, to, 0.024);
    }
    b.blob({0.21, 0.61}, {{{{0.29, 0.585}, {0.40, 0.60}, {0.47, 0.625}}},  // ground and water
                          {{{0.44, 0.655}, {0.50, 0.685}, {0.57, 0.695}}},
                          {{{0.62, 0.705}, {0.66, 0.695}, {0.69, 0.70}}},
                          {{{0.62, 0.75}, {0.43, 0.775}, {0.37, 0.75}}},
                          {{{0.31, 0.72}, {0.25, 0.66}, {0.21, 0.61}}}});
    b.blob({0.51, 0.555}, {{{{0.57, 0.48}, {0.68, 0.48}, {0.735, 0.555}}},  // a fish
                           {{{0.68, 0.63}, {0.57, 0.63}, {0.51, 0.555}}}});
    b.area({{0.715, 0.555}, {0.79, 0.502}, {0.775, 0.555}, {0.79, 0.608}});
    b.disc({0.572, 0.555}, 0.016, kPaper);
}

struct Sign {
    std::string_view code, name;
    void (*symbol)(Board&);
};

const Sign* sign_of(std::string_view code) {
    static constexpr std::array<Sign, 7> kSigns = {{{"GHS02", "flame", burning},
                                                    {"GHS03", "flame over circle", oxidising},
                                                    {"GHS05", "corrosion", corrosion},
                                                    {"GHS06", "skull and crossbones", skull},
                                                    {"GHS07", "exclamation mark", exclamation},
                                                    {"GHS08", "health hazard", health},
                                                    {"GHS09", "environment", environment}}};
    const auto* const found =
        std::find_if(kSigns.begin(), kSigns.end(), [&](const Sign& s) { return s.code == code; });
    return found == kSigns.end() ? nullptr : found;
}

}  // namespace

std::string_view pictogram_name(std::string_view code) {
    const Sign* sign = sign_of(code);
    return sign == nullptr ? std::string_view() : sign->name;
}

Drawing pictogram(std::string_view code, double x, double y, double side) {
    const Sign* sign = sign_of(code);
    if (sign == nullptr) {
        return {};
    }
    Board board(x, y, side);
    diamond(board);
    sign->symbol(board);
    return board.done();
}

}  // namespace bw::report
