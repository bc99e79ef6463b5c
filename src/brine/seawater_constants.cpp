// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/seawater_constants.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/seawater_fits.hpp"

namespace bw::brine {
namespace {

constexpr double kHighestSalinity = 50;
constexpr double kLowestCelsius = -2;
constexpr double kHighestCelsius = 50;

struct FitRow {
    std::string_view source;
    FitRange range;
};

// In the order of SeawaterConstant; carbonic acid and fluoride have tables of their own.
constexpr std::array<FitRow, kSeawaterConstantCount> kFits = {{
    {"weiss-1974", {0, 40, -1, 40}},
    {"weiss-1974", {0, 40, -1, 40}},
    {"", {}},
    {"dickson-1990-boric", {5, 45, 0, 45}},
    {"millero-1995", {0, 45, 0, 45}},
    {"dickson-1990-bisulfate", {5, 45, 0, 45}},
    {"", {}},
    {"yao-millero-1995", {0, 45, 0, 45}},
    {"yao-millero-1995", {0, 45, 0, 45}},
    {"clegg-whitfield-1995", {0, 40, -2, 40}},
    {"mucci-1983", {5, 44, 5, 40}},
    {"mucci-1983", {5, 44, 5, 40}},
    {"takahashi-1982", {20, 40, 0, 35}},
}};

constexpr std::array<FitRow, 3> kCarbonicFits = {{
    {"lueker-2000", {19, 43, 2, 35}},
    {"sulpis-2020", {30.73, 37.57, -1.67, 31.80}},
    {"waters-2014", {1, 50, 0, 50}},
}};

constexpr std::array<FitRow, 2> kFluorideFits = {{
    {"perez-fraga-1987", {10, 40, 9, 33}},
    {"dickson-riley-1979", {0, 45, 0, 45}},
}};

const FitRow& row_of(SeawaterConstant which, const SeawaterFits& fits) {
    if (which == SeawaterConstant::Carbonic) {
        return kCarbonicFits.at(static_cast<std::size_t>(fits.carbonic));
    }
    if (which == SeawaterConstant::Fluoride) {
        return kFluorideFits.at(static_cast<std::size_t>(fits.fluoride));
    }
    return kFits.at(static_cast<std::size_t>(which));
}

/// [H] on the scale per [H] free; for NBS, activity per [H] free.
double factor_of(PhScale scale, const SeawaterTotals& totals, const SeawaterConstants& k) {
    const double total = 1 + totals.sulfate / k.ks;
    const double seawater = total + totals.fluoride / k.kf;
    switch (scale) {
        case PhScale::Free:
            return 1;
        case PhScale::Total:
            return total;
        case PhScale::Seawater:
            return seawater;
        case PhScale::Nbs:
            break;
    }
    return seawater * k.hydrogen_activity;
}

}  // namespace

FitRange fit_range(SeawaterConstant which, const SeawaterFits& fits) {
    return row_of(which, fits).range;
}

std::string_view fit_source(SeawaterConstant which, const SeawaterFits& fits) {
    return row_of(which, fits).source;
}

bool in_range(SeawaterConstant which, unit::PracticalSalinity salinity, unit::Celsius temperature,
              const SeawaterFits& fits) {
    return fit_range(which, fits).contains(salinity, temperature);
}

bool all_in_range(unit::PracticalSalinity salinity, unit::Celsius temperature,
                  const SeawaterFits& fits) {
    for (int i = 0; i < kSeawaterConstantCount; ++i) {
        if (!in_range(static_cast<SeawaterConstant>(i), salinity, temperature, fits)) {
            return false;
        }
    }
    return true;
}

Result<SeawaterConstants> seawater_constants(unit::PracticalSalinity salinity,
                                             unit::Celsius temperature, const SeawaterFits& fits) {
    const double S = salinity.value();
    const double t = temperature.value();
    if (!(S > 0 && S <= kHighestSalinity)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format(
                "the constants of seawater are known for practical salinity above 0 to 50, not {}",
                base::format_exact(S)));
    }
    if (!(t >= kLowestCelsius && t <= kHighestCelsius)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("the constants of seawater are known from -2 to 50 degC, not at {} degC",
                        base::format_exact(t)));
    }
    return fits::constants<double>(S, t, fits);
}

Result<SeawaterTotals> natural_totals(unit::PracticalSalinity salinity, BoronRatio boron) {
    const double S = salinity.value();
    if (!(S >= 0 && S <= kHighestSalinity)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("natural seawater has a practical salinity of 0 to 50, not {}",
                                base::format_exact(S)));
    }
    return fits::natural_totals<double>(S, boron);
}

double ph_on_scale(double ph, PhScale from, PhScale to, const SeawaterTotals& totals,
                   const SeawaterConstants& constants) {
    return ph + std::log10(factor_of(from, totals, constants) / factor_of(to, totals, constants));
}

}  // namespace bw::brine
