// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/sampling_plan.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/text.hpp"
#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr double kSix = 6;
constexpr double kMmPerCm = 10;
// Moments of a log-normal distribution by mass: the mean of d^3 is d50^3 exp(9/2 ln^2 sg).
constexpr double kThirdMoment = 4.5;

Result<double> sum_of_blend(std::span<const GrainClass> blend) {
    constexpr double kHair = 1e-6;
    double shares = 0;
    double content = 0;
    for (const GrainClass& g : blend) {
        if (!(g.share >= 0) || !(g.grain_g >= 0) || !(g.content >= 0) ||
            !std::isfinite(g.share + g.grain_g + g.content)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{}: share, grain mass and content are 0 or more",
                                    base::quoted(g.name)));
        }
        shares += g.share;
        content += g.share * g.content;
    }
    if (!(std::abs(shares - 1) <= kHair) || !(content > 0)) {
        return fail(ProblemCode::BadInput,
                    "the shares of a blend sum to 1, and one part at least holds the element");
    }
    double sum = 0;
    for (const GrainClass& g : blend) {
        const double off = (g.content - content) / content;
        sum += g.share * g.grain_g * off * off;
    }
    return sum;
}

}  // namespace

Result<double> mean_grain_mass(double d50_mm, double density_g_per_cm3, double sg) {
    if (!(d50_mm > 0) || !(density_g_per_cm3 > 0) || !(sg >= 1)) {
        return fail(ProblemCode::BadInput,
                    "grains have a size and a density above 0 and a spread of 1 or more");
    }
    const double d = d50_mm / kMmPerCm;
    const double spread = std::log(sg);
    return std::numbers::pi / kSix * density_g_per_cm3 * d * d * d *
           std::exp(kThirdMoment * spread * spread);
}

Result<double> fundamental_error(std::span<const GrainClass> blend, double sample_g, double lot_g) {
    BW_TRY(sum, sum_of_blend(blend));
    if (!(sample_g > 0) || !(lot_g >= sample_g)) {
        return fail(ProblemCode::BadInput,
                    "a sample has a mass above 0 and is not heavier than its lot");
    }
    return std::sqrt((1 / sample_g - 1 / lot_g) * sum);
}

Result<double> least_sample_mass(std::span<const GrainClass> blend, double relative_sd) {
    BW_TRY(sum, sum_of_blend(blend));
    if (!(relative_sd > 0)) {
        return fail(ProblemCode::BadInput, "the wanted relative standard deviation is above 0");
    }
    return sum / (relative_sd * relative_sd);
}

Result<double> largest_grain(double relative_sd, double share, double sample_g,
                             double density_g_per_cm3, double sg) {
    if (!(relative_sd > 0) || !(share > 0) || !(share <= 1) || !(sample_g > 0) ||
        !(density_g_per_cm3 > 0) || !(sg >= 1)) {
        return fail(
            ProblemCode::BadInput,
            "standard deviation, share, mass and density are above 0, the spread 1 or more");
    }
    const double spread = std::log(sg);
    return kMmPerCm *
           std::cbrt(kSix * relative_sd * relative_sd * share * sample_g /
                     (std::numbers::pi * density_g_per_cm3)) /
           std::exp(kThirdMoment / 3 * spread * spread);
}

Result<double> gy_constant(const GyMaterial& m) {
    const double a = m.mineral_share;
    if (!(m.top_size_cm > 0) || !(m.liberation_size_cm > 0) || !(a > 0 && a < 1) ||
        !(m.mineral_density > 0) || !(m.rest_density > 0) || !(m.shape > 0) ||
        !(m.size_range > 0)) {
        return fail(
            ProblemCode::BadInput,
            "sizes, densities and factors are above 0, the mineral's share between 0 and 1");
    }
    const double liberation = std::min(1.0, std::sqrt(m.liberation_size_cm / m.top_size_cm));
    const double composition = (1 - a) / a * ((1 - a) * m.mineral_density + a * m.rest_density);
    return m.shape * m.size_range * liberation * composition;
}

Result<double> gy_least_mass(const GyMaterial& material, double relative_sd, int stages,
                             double safety) {
    BW_TRY(constant, gy_constant(material));
    if (!(relative_sd > 0) || stages < 1 || !(safety >= 1)) {
        return fail(ProblemCode::BadInput,
                    "the wanted standard deviation is above 0, stages and safety are 1 or more");
    }
    return safety * stages * constant * std::pow(material.top_size_cm, 3) /
           (relative_sd * relative_sd);
}

Result<int> increments_needed(double increment_sd, double wanted, int least) {
    constexpr double kMost = 1e6;
    if (!(increment_sd >= 0) || !(wanted > 0) || least < 1) {
        return fail(ProblemCode::BadInput,
                    "the scatter of increments is 0 or more, the wanted one above 0");
    }
    const double ratio = increment_sd / wanted;
    constexpr double kHair = 1e-9;
    const double number = std::ceil(ratio * ratio - kHair);
    if (!(number <= kMost)) {
        return fail(ProblemCode::OutOfRange,
                    "more than a million increments would be needed: mix better or mill finer");
    }
    return std::max(least, static_cast<int>(number));
}

bool sample_large_enough(double fundamental_error, double repeatability) {
    constexpr double kThird = 3;
    return fundamental_error <= repeatability / kThird;
}

Result<double> chance_outside(double mean_grains, double share) {
    constexpr double kMost = 1e6;
    if (!(mean_grains > 0) || !(mean_grains <= kMost) || !(share > 0)) {
        return fail(ProblemCode::BadInput,
                    "the mean number of grains lies above 0 and up to 1e6, the share above 0");
    }
    const double low = std::max(0.0, std::ceil(mean_grains * (1 - share)));
    const double high = std::floor(mean_grains * (1 + share));
    if (high < low) {
        return 1.0;
    }
    // P(N <= k) of a Poisson variable is the upper tail of chi squared with 2 (k + 1) at 2 mu.
    const double above = stat::chi_squared_cdf(2 * mean_grains, 2 * (high + 1));
    const double below = low > 0 ? 1 - stat::chi_squared_cdf(2 * mean_grains, 2 * low) : 0.0;
    return std::clamp(above + below, 0.0, 1.0);
}

}  // namespace bw::assay
