// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/exposure.hpp"

#include <algorithm>
#include <cmath>

#include "brine/saturation.hpp"

namespace bw::path {
namespace {

struct Point {
    double h, ln_omega, formal_strength;
};

/// Part of a stretch at a level or above, its value running straight.
double hours_at_or_above(const Point& a, const Point& b, double level) {
    const double low = std::min(a.ln_omega, b.ln_omega);
    const double high = std::max(a.ln_omega, b.ln_omega);
    const double hours = b.h - a.h;
    return level <= low   ? hours
           : level > high ? 0
           : high == low  ? hours
                          : hours * (high - level) / (high - low);
}

double hours_at_or_above(std::span<const Point> points, double level) {
    double hours = 0;
    for (std::size_t i = 1; i < points.size(); ++i) {
        hours += hours_at_or_above(points[i - 1], points[i], level);
    }
    return hours;
}

Exposure exposure_of(const ref::MineralRow& solid, std::span<const Point> points) {
    const double critical = std::log(critical_omega(solid));
    Exposure out;
    out.solid = &solid;
    const auto peak = std::ranges::max_element(points, {}, &Point::ln_omega);
    out.peak_omega = std::exp(peak->ln_omega);
    out.peak_at_h = peak->h;
    out.trusted = brine::trusted_factor(solid, peak->formal_strength);
    out.soon = soon_at(solid, out.peak_omega, out.trusted);
    out.hours_over = hours_at_or_above(points, critical);
    for (const Point& p : points) {
        if (p.ln_omega > critical) {
            out.score = std::max(out.score,
                                 (p.ln_omega - critical) * hours_at_or_above(points, p.ln_omega));
        }
    }
    return out;
}

/// Whether a solid is to be watched for. Of the carbonates of calcium that wait for hours,
/// aragonite speaks for all: it is the least soluble that starts by itself beside magnesium.
bool may_fall(const ref::MineralRow& solid) {
    const bool waits = solid.formula.starts_with("CaCO3") && solid.forming == ref::Forming::Hours;
    return solid.forming != ref::Forming::Never && solid.forming != ref::Forming::OnSeed &&
           (!waits || solid.key == "aragonite");
}

}  // namespace

double critical_omega(const ref::MineralRow& solid) {
    constexpr double kCarbonate = 5;
    return solid.key == "aragonite" ? kCarbonate : 1;
}

ref::Forming soon_at(const ref::MineralRow& solid, double omega, double trusted) {
    const double times_ten = std::floor(std::log10(std::max(1.0, omega / trusted)));
    const double sooner = static_cast<double>(solid.forming) - times_ten;
    return static_cast<ref::Forming>(static_cast<int>(std::max(0.0, sooner)));
}

std::vector<Exposure> exposures(std::span<const Moment> course) {
    const auto rows = ref::minerals();
    std::vector<Exposure> out;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!may_fall(rows[i])) {
            continue;
        }
        constexpr double kAbsent = -50;  // ln Omega of a solid without one of its ions
        std::vector<Point> points;
        for (const Moment& m : course) {
            if (!m.water.ln_omega.empty()) {
                points.push_back(
                    {m.h, std::max(m.water.ln_omega[i], kAbsent), m.water.formal_strength});
            }
        }
        if (!points.empty()) {
            out.push_back(exposure_of(rows[i], points));
        }
    }
    std::ranges::stable_sort(out, [](const Exposure& a, const Exposure& b) {
        return a.score != b.score ? a.score > b.score : a.peak_omega > b.peak_omega;
    });
    return out;
}

std::vector<Moment> while_mixing(const VatPlan& plan, const Course& course, double after_h) {
    constexpr double kRoundOff = 1e-9;
    double last = 0;
    for (const Addition& a : plan.additions) {
        last = std::max(last, a.at_h);
    }
    std::vector<Moment> out = course.moments;
    std::erase_if(out, [&](const Moment& m) { return m.h > (last + after_h) * (1 + kRoundOff); });
    return out;
}

}  // namespace bw::path
