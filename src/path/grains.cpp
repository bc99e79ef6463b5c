// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/grains.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "brine/temperature_scale.hpp"
#include "num/bracketed_root.hpp"
#include "stat/normal.hpp"

namespace bw::path {
namespace {

// [levins-glastonbury-1972]
constexpr double kStillSherwood = 2;
constexpr double kStirredFactor = 0.47;
constexpr double kReynoldsPower = 0.62;
constexpr double kImpellerPower = 0.17;
constexpr double kSchmidtPower = 0.36;
constexpr double kDiameterPower = kReynoldsPower * 4.0 / 3.0;  // Re_e goes with d^(4/3)
constexpr double kSinkingFactor = 0.44;
constexpr double kSinkingSchmidtPower = 0.38;

constexpr double kTwentyFive_K = 298.15;
constexpr double kTwentyFiveWater_Pa_s = 8.9e-4;  // [patek-2009], 0.8900 mPa s
constexpr double kMostPower_W_per_kg = 100;
constexpr double kFiniteSlope = 1e-4;  // delta of the header
constexpr int kIntervals = 200;
constexpr double kSmallest_m = 1e-6;
constexpr double kLargest_m = 0.05;
constexpr double kWidestSpread = 5;
constexpr int kMostClasses = 50;
constexpr double kFarQuantile = 8;  // beyond it a normal variable does not lie

bool inside(double x, double low, double high) { return x >= low && x <= high; }

double normal_quantile(double p) {
    constexpr double kClose = 1e-12;
    return num::bracketed_root([p](double z) { return stat::normal_cdf(z) - p; }, -kFarQuantile,
                               kFarQuantile, kClose)
        .value();
}

}  // namespace

double Film::sherwood(double diameter_m) const {
    return kStillSherwood + stirred * std::pow(diameter_m, kDiameterPower);
}

double Film::shrinking_m_per_s(double diameter_m, double bulk_kg_per_m3) const {
    const double k = diffusion_m2_per_s * sherwood(diameter_m) / diameter_m;
    return k * std::max(0.0, saturation_kg_per_m3 - bulk_kg_per_m3) /
           (density_kg_per_m3 * crust_slowing);
}

Result<Film> film_of(const DissolvingSolid& solid, const Liquid& liquid, const Stirring& stirring) {
    if (!inside(stirring.power_W_per_kg, 0, kMostPower_W_per_kg)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the stirring power is {:g} W/kg; 0 to {:g} can be used, gentle "
                                "stirring being 0.01 and strong 1",
                                stirring.power_W_per_kg, kMostPower_W_per_kg));
    }
    if (!(stirring.impeller_per_tank > 0 && stirring.impeller_per_tank <= 1)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the impeller is {:g} of the tank's diameter; above 0 to 1 can be "
                                "used, 0.33 being usual",
                                stirring.impeller_per_tank));
    }
    const double nu = liquid.kinematic_viscosity_m2_per_s();
    const double D = solid.diffusion_25_m2_per_s *
                     (brine::kelvin(unit::Celsius(liquid.t_degC)) / kTwentyFive_K) *
                     (kTwentyFiveWater_Pa_s / liquid.water_viscosity_Pa_s);
    const double schmidt = nu / D;
    const double stirred =
        kStirredFactor * std::pow(std::cbrt(stirring.power_W_per_kg) / nu, kReynoldsPower) *
        std::pow(stirring.impeller_per_tank, kImpellerPower) * std::pow(schmidt, kSchmidtPower);
    return Film{D,
                schmidt,
                nu,
                stirred,
                solid.density_kg_per_m3,
                solid.saturation_kg_per_m3,
                solid.crust_slowing};
}

double sinking_sherwood(double reynolds, double schmidt) {
    return kStillSherwood +
           kSinkingFactor * std::sqrt(reynolds) * std::pow(schmidt, kSinkingSchmidtPower);
}

double seconds_to_dissolve(const Film& film, double diameter_m, double bulk_kg_per_m3) {
    const double driving = film.saturation_kg_per_m3 - bulk_kg_per_m3;
    if (driving <= 0) {
        return std::numeric_limits<double>::infinity();
    }
    const double step = diameter_m / kIntervals;
    double sum = 0;  // the term at d = 0 is 0
    for (int i = 1; i <= kIntervals; ++i) {
        const double weight = i == kIntervals ? 1 : i % 2 == 1 ? 4 : 2;  // Simpson's
        const double d = step * i;
        sum += weight * d / film.sherwood(d);
    }
    constexpr double kThird = 1.0 / 3.0;
    return film.density_kg_per_m3 * film.crust_slowing / (2 * film.diffusion_m2_per_s * driving) *
           sum * step * kThird;
}

double mass_fraction_rate_per_s(const Film& film, double initial_diameter_m, double w,
                                double bulk_kg_per_m3) {
    const double driving = std::max(0.0, film.saturation_kg_per_m3 - bulk_kg_per_m3);
    const double d = initial_diameter_m * std::cbrt(std::max(0.0, w));
    constexpr double kSix = 6;  // 3 / R0 * 1 / d0, R0 = d0 / 2
    return -kSix * film.diffusion_m2_per_s * film.sherwood(d) * driving /
           (film.density_kg_per_m3 * film.crust_slowing * initial_diameter_m * initial_diameter_m) *
           w / std::cbrt(w * w + kFiniteSlope * kFiniteSlope);
}

Result<std::vector<GrainClass>> grains_about(double d50_m, double spread, int classes) {
    constexpr double kMilli = 1e-3;
    if (!inside(d50_m, kSmallest_m, kLargest_m)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the median grain is {:g} mm; {:g} to {:g} mm can be used",
                                d50_m / kMilli, kSmallest_m / kMilli, kLargest_m / kMilli));
    }
    if (!inside(spread, 1, kWidestSpread)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("the spread of grains, d84 over d50, is {:g}; 1 to {:g} can be used",
                        spread, kWidestSpread));
    }
    if (classes < 1 || classes > kMostClasses) {
        return fail(ProblemCode::OutOfRange, fmt::format("there are {} classes of grains; 1 to {} "
                                                         "can be used",
                                                         classes, kMostClasses));
    }
    std::vector<GrainClass> out;
    for (int i = 0; i < classes; ++i) {
        constexpr double kMiddle = 0.5;
        const double z = normal_quantile((i + kMiddle) / classes);
        out.push_back({d50_m * std::pow(spread, z), 1.0 / classes});
    }
    return out;
}

Result<std::vector<GrainClass>> grains_of_sieves(std::span<const SieveCut> cuts) {
    double total = 0;
    for (const SieveCut& cut : cuts) {
        if (!(cut.lower_m >= 0 && cut.lower_m < cut.upper_m && cut.upper_m <= kLargest_m)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("a sieve cut goes from {:g} to {:g} m; the lower opening must "
                                    "be the smaller and the upper at most {:g} m",
                                    cut.lower_m, cut.upper_m, kLargest_m));
        }
        if (!(cut.mass >= 0 && std::isfinite(cut.mass))) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the mass between the sieves of {:g} and {:g} m is {:g}; it "
                                    "must be 0 or more",
                                    cut.lower_m, cut.upper_m, cut.mass));
        }
        total += cut.mass;
    }
    if (!(total > 0)) {
        return fail(ProblemCode::BadInput, "no sieve cut holds any mass; give at least one");
    }
    std::vector<GrainClass> out;
    for (const SieveCut& cut : cuts) {
        if (cut.mass > 0) {
            const double middle =
                cut.lower_m > 0 ? std::sqrt(cut.lower_m * cut.upper_m) : cut.upper_m / 2;
            out.push_back({middle, cut.mass / total});
        }
    }
    return out;
}

}  // namespace bw::path
