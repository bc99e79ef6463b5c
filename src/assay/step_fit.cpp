// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/step_fit.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "num/linear_solve.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr std::size_t kUnknowns = 4;  // level, height, place, ln width
using Unknowns = std::array<double, kUnknowns>;

struct Value {
    double y;
    Unknowns slope;
};

/// The step at v with its derivatives; the volume is counted in spans from the start.
Value step(const Unknowns& p, double v, CurveShape shape) {
    const double w = std::exp(p[3]);
    const double t = (v - p[2]) / w;
    double g = 0;
    double by_t = 0;
    if (shape == CurveShape::Indicator) {
        g = std::tanh(t);
        by_t = 1 - g * g;
    } else {
        g = std::asinh(t);
        by_t = 1 / std::sqrt(1 + t * t);
    }
    return {p[0] + p[1] * g, {1, g, -p[1] * by_t / w, -p[1] * by_t * t}};
}

struct Normal {
    std::array<double, kUnknowns * kUnknowns> matrix{};
    Unknowns right{};
    double squares = 0;
};

Normal normal_of(std::span<const CurvePoint> points, const Unknowns& p, CurveShape shape) {
    Normal out;
    for (const CurvePoint& point : points) {
        const Value at = step(p, point.volume, shape);
        const double r = point.signal - at.y;
        out.squares += r * r;
        for (std::size_t a = 0; a < kUnknowns; ++a) {
            out.right[a] += at.slope[a] * r;
            for (std::size_t b = 0; b < kUnknowns; ++b) {
                out.matrix[a * kUnknowns + b] += at.slope[a] * at.slope[b];
            }
        }
    }
    return out;
}

/// Damped steps until nothing moves; whether they came to rest.
bool settle(std::span<const CurvePoint> points, CurveShape shape, Unknowns& p) {
    constexpr int kRounds = 400;
    constexpr double kFirst = 1e-3, kTenfold = 10, kMost = 1e12, kNear = 1e-10;
    double damping = kFirst;
    Normal now = normal_of(points, p, shape);
    for (int round = 0; round < kRounds; ++round) {
        auto matrix = now.matrix;
        for (std::size_t a = 0; a < kUnknowns; ++a) {
            matrix[a * kUnknowns + a] *= 1 + damping;
        }
        Unknowns by = now.right;
        if (!num::solve_dense(kUnknowns, matrix, by)) {
            return false;
        }
        Unknowns next = p;
        for (std::size_t a = 0; a < kUnknowns; ++a) {
            next[a] += by[a];
        }
        const Normal then = normal_of(points, next, shape);
        if (std::isfinite(then.squares) && then.squares <= now.squares) {
            const bool rest = std::abs(by[2]) <= kNear * std::exp(p[3]) && std::abs(by[3]) <= kNear;
            p = next;
            now = then;
            damping = std::max(damping / kTenfold, 1 / kMost);
            if (rest) {
                return true;
            }
        } else {
            // No way down any more: at rest, as far as rounding lets it be seen.
            if (damping > kMost) {
                return true;
            }
            damping *= kTenfold;
        }
    }
    return false;
}

}  // namespace

Result<StepFit> fit_step(std::span<const CurvePoint> points, CurveShape shape, double place,
                         double width, double slope) {
    if (points.size() <= kUnknowns) {
        return fail(ProblemCode::BadInput,
                    "a step is fitted to five points or more: take smaller steps about the end "
                    "point");
    }
    // Counted from the middle in widths of the piece, so that the four unknowns are alike in size.
    const double from = points.front().volume;
    const double span = points.back().volume - from;
    std::vector<CurvePoint> scaled;
    double mean = 0;
    for (const CurvePoint& p : points) {
        scaled.push_back({(p.volume - from) / span, p.signal});
        mean += p.signal / static_cast<double>(points.size());
    }
    const double w = width / span;
    Unknowns p{mean, slope * width, (place - from) / span, std::log(w)};
    const bool settled = settle(scaled, shape, p);
    if (!settled || !(p[2] > 0) || !(p[2] < 1) || !(p[3] < 2)) {
        return fail(ProblemCode::Refused,
                    "the points about the steepest place do not make a step: the curve may be too "
                    "coarse there, or not of the shape stated");
    }
    const Normal end = normal_of(scaled, p, shape);
    StepFit out;
    out.level = p[0];
    out.height = p[1];
    out.place = from + p[2] * span;
    out.width = std::exp(p[3]) * span;
    const double freedom = static_cast<double>(points.size() - kUnknowns);
    out.rms = std::sqrt(end.squares / freedom);
    Unknowns unit{0, 0, 1, 0};
    if (!num::solve_dense(kUnknowns, end.matrix, unit) || !(unit[2] > 0)) {
        return fail(ProblemCode::Refused, "the points do not fix the place of the step");
    }
    out.u_place = out.rms * std::sqrt(unit[2]) * span;
    for (const CurvePoint& point : scaled) {
        out.residuals.push_back(point.signal - step(p, point.volume, shape).y);
    }
    return out;
}

}  // namespace bw::assay
