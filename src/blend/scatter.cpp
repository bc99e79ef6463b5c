// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/scatter.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/text.hpp"
#include "stat/normal.hpp"
#include "stat/quantiles.hpp"

namespace bw::blend {
namespace {

constexpr double kGramPerKg = 1000;
constexpr double kPiSixth = std::numbers::pi / 6;

Result<void> check_parts(std::span<const GrainPart> parts) {
    constexpr double kHair = 1e-6;
    double shares = 0;
    for (const GrainPart& p : parts) {
        const bool masses = p.grain_g.low >= 0 && p.grain_g.expected >= p.grain_g.low &&
                            p.grain_g.high >= p.grain_g.expected;
        if (!(p.share >= 0) || !masses || !std::isfinite(p.share + p.grain_g.high)) {
            return fail(ProblemCode::BadInput, fmt::format("{}: share and grain mass are 0 or more",
                                                           base::quoted(p.name)));
        }
        if (p.content.size() != parts.front().content.size()) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{}: one content is needed for each constituent",
                                    base::quoted(p.name)));
        }
        shares += p.share;
    }
    if (!(std::abs(shares - 1) <= kHair)) {
        return fail(ProblemCode::BadInput, "the shares of a blend sum to 1");
    }
    return {};
}

}  // namespace

Bounded grain_mass_g(const Bounded& mean_cube_m3, const Bounded& density_kg_per_m3) {
    constexpr double kFactor = kPiSixth * kGramPerKg;
    return {kFactor * mean_cube_m3.expected * density_kg_per_m3.expected,
            kFactor * mean_cube_m3.low * density_kg_per_m3.low,
            kFactor * mean_cube_m3.high * density_kg_per_m3.high};
}

Bounded Scatter::relative_sd(double portion_g, double lot_g) const {
    const double per_mass = 1 / portion_g - 1 / lot_g;
    return {std::sqrt(relative_variance_g.expected * per_mass),
            std::sqrt(relative_variance_g.low * per_mass),
            std::sqrt(relative_variance_g.high * per_mass)};
}

double Scatter::least_portion_g(double relative_sd) const {
    return relative_variance_g.expected / (relative_sd * relative_sd);
}

Result<std::vector<Scatter>> scatter_of(std::span<const GrainPart> parts) {
    if (parts.empty()) {
        return fail(ProblemCode::BadInput, "a blend has one part at least");
    }
    BW_CHECK(check_parts(parts));
    std::vector<Scatter> out(parts.front().content.size());
    for (std::size_t e = 0; e < out.size(); ++e) {
        Scatter& s = out[e];
        for (const GrainPart& p : parts) {
            s.content += p.share * p.content[e];
        }
        s.variance_g_of.assign(parts.size(), 0.0);
        if (s.content == 0) {
            continue;
        }
        for (std::size_t k = 0; k < parts.size(); ++k) {
            const GrainPart& p = parts[k];
            const double off = (p.content[e] - s.content) / s.content;
            const double weight = p.share * off * off;
            s.variance_g_of[k] = weight * p.grain_g.expected;
            s.relative_variance_g.expected += s.variance_g_of[k];
            s.relative_variance_g.low += weight * p.grain_g.low;
            s.relative_variance_g.high += weight * p.grain_g.high;
        }
    }
    return out;
}

Result<void> check_portion(double portion_g, double lot_g) {
    if (!(portion_g > 0)) {
        return fail(ProblemCode::BadInput, "a portion has a mass above 0");
    }
    if (!(portion_g <= lot_g)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a portion of {:g} g is more than the {:g} g it is taken from",
                                portion_g, lot_g));
    }
    return {};
}

std::optional<double> size_factor_for(const Scatter& scatter, std::size_t part, double relative_sd,
                                      double portion_g, double lot_g) {
    const double allowed = relative_sd * relative_sd / (1 / portion_g - 1 / lot_g);
    const double own = scatter.variance_g_of[part];
    const double others = scatter.relative_variance_g.expected - own;
    if (!(own > 0) || !(allowed > others)) {
        return std::nullopt;
    }
    return std::cbrt((allowed - others) / own);
}

std::vector<GrainPart> bound_to(std::span<const GrainPart> parts, std::size_t part,
                                std::size_t carrier) {
    std::vector<GrainPart> out(parts.begin(), parts.end());
    GrainPart& c = out[carrier];
    const GrainPart& p = parts[part];
    const double share = c.share + p.share;
    for (std::size_t e = 0; e < c.content.size(); ++e) {
        c.content[e] = (c.share * c.content[e] + p.share * p.content[e]) / share;
    }
    const double heavier = share / c.share;
    c.grain_g = {c.grain_g.expected * heavier, c.grain_g.low * heavier, c.grain_g.high * heavier};
    c.share = share;
    out.erase(out.begin() + static_cast<std::ptrdiff_t>(part));
    return out;
}

double chance_outside(double relative_sd, double share) {
    constexpr double kMostCounted = 1e6;
    if (!(relative_sd > 0)) {
        return 0;
    }
    const double grains = 1 / (relative_sd * relative_sd);
    if (grains > kMostCounted) {
        return 2 * stat::normal_cdf(-share / relative_sd);
    }
    const double low = std::max(0.0, std::ceil(grains * (1 - share)));
    const double high = std::floor(grains * (1 + share));
    if (high < low) {
        return 1;
    }
    // P(N <= k) of a Poisson variable is the upper tail of chi squared with 2 (k + 1) at 2 mu.
    const double above = stat::chi_squared_cdf(2 * grains, 2 * (high + 1));
    const double below = low > 0 ? 1 - stat::chi_squared_cdf(2 * grains, 2 * low) : 0.0;
    return std::clamp(above + below, 0.0, 1.0);
}

}  // namespace bw::blend
