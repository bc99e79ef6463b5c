// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/wanted_strength.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/seawater_density.hpp"
#include "brine/water_properties.hpp"
#include "matter/concentration.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

constexpr unit::Celsius kRoom{25};
constexpr double kLeastSalinity = 2;  // to which the practical salinity scale goes down
constexpr double kMostSalinity = 60;
constexpr double kSalinityPerChlorinity = 1.80655;  // [dickson-2007-guide]

Result<void> readable(double salinity, std::string_view way) {
    if (salinity >= kLeastSalinity && salinity <= kMostSalinity) {
        return {};
    }
    return fail(ProblemCode::OutOfRange,
                fmt::format("the wanted water has the practical salinity {:.4g} by {}: test "
                            "portions are brought to one of 2 to 60",
                            salinity, way));
}

/// Relative uncertainty of the salinity that a conductivity shows: by a step of 1 %.
Result<double> u_by_conductivity(const brine::Estimate& kappa, double salinity) {
    constexpr double kStep = 0.01;
    BW_TRY(more, brine::salinity_of_conductivity(kappa.value * (1 + kStep), kRoom));
    return (more.salinity.value() / salinity - 1) / kStep * kappa.standard_uncertainty /
           kappa.value;
}

}  // namespace

Result<WantedStrength> wanted_strength(const matter::Amounts& water, double g_per_kg_water) {
    base::expect(g_per_kg_water > 0, "a dose is above 0");
    constexpr double kNeutral_percent = 1;  // ours: a main ion left out is more, rounding less
    if (std::abs(water.charge_imbalance_percent()) > kNeutral_percent) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the wanted water holds {:.3g} % more of one charge than of the "
                                "other, so not all that is in it is known: plan the batch anew",
                                std::abs(water.charge_imbalance_percent())));
    }
    BW_TRY(seen, brine::water_properties(water, kRoom));
    if (!seen.salinity_by_conductivity || !seen.salinity_by_density) {
        return fail(ProblemCode::OutOfRange,
                    "the wanted water is stronger than any that a practical salinity is known of");
    }
    WantedStrength out;
    out.g_per_kg_water = g_per_kg_water;
    out.by_conductivity = seen.salinity_by_conductivity->value();
    out.by_density = seen.salinity_by_density->value();
    out.by_chlorinity = kSalinityPerChlorinity * matter::chlorinity_g_per_kg(water);
    BW_CHECK(readable(out.by_conductivity, name(StrengthBy::Conductivity)));
    BW_CHECK(readable(out.by_density, name(StrengthBy::Density)));
    BW_CHECK(readable(out.by_chlorinity, name(StrengthBy::Chlorinity)));
    BW_TRY(u_conductivity, u_by_conductivity(seen.conductivity_mS_per_cm, out.by_conductivity));
    out.u_conductivity = u_conductivity;
    BW_TRY(pure, brine::seawater_density(unit::PracticalSalinity(0), kRoom));
    const brine::Estimate& density = seen.density_kg_per_m3;
    out.u_density = density.standard_uncertainty / (density.value - pure.value());
    return out;
}

WantedStrength natural_strength(double practical_salinity, double g_per_kg_water) {
    return {g_per_kg_water, practical_salinity, practical_salinity, practical_salinity, 0, 0};
}

double reading(const WantedStrength& wanted, StrengthBy by) {
    switch (by) {
        case StrengthBy::Conductivity:
            return wanted.by_conductivity;
        case StrengthBy::Chlorinity:
            return wanted.by_chlorinity;
        default:
            return wanted.by_density;
    }
}

std::string shown_words(const WantedStrength& wanted) {
    constexpr int kPlaces = 2;
    return fmt::format("conductivity shows the practical salinity {}, density {} and chlorinity {}",
                       base::format_places(wanted.by_conductivity, kPlaces),
                       base::format_places(wanted.by_density, kPlaces),
                       base::format_places(wanted.by_chlorinity, kPlaces));
}

Strength strength_of(const TestPortion& p, const WantedStrength& wanted) {
    base::expect(wanted.by_density > 0 && wanted.g_per_kg_water > 0, "wanted waters hold salt");
    if (p.strength_by != StrengthBy::DryMass) {
        const double u_model = p.strength_by == StrengthBy::Conductivity ? wanted.u_conductivity
                               : p.strength_by == StrengthBy::Density    ? wanted.u_density
                                                                         : 0;
        return {p.practical_salinity / reading(wanted, p.strength_by),
                std::hypot(p.u_salinity / p.practical_salinity, u_model)};
    }
    const double all = p.salt_g + p.water_g;
    const double share = wanted.g_per_kg_water / (unit::kGramPerKg + wanted.g_per_kg_water);
    // share = s/(s + w): relative derivative w/(s (s + w)) by s, -1/(s + w) by w
    const double u = std::hypot(p.water_g * p.u_salt_g / p.salt_g, p.u_water_g) / all;
    return {p.salt_g / all / share, u};
}

Result<double> density_of(const TestPortion& p, const WantedStrength& wanted) {
    if (p.density_kg_per_L > 0) {
        return p.density_kg_per_L;
    }
    const double ratio = strength_of(p, wanted).ratio;
    BW_TRY(density, brine::seawater_density(unit::PracticalSalinity(ratio * wanted.by_density),
                                            unit::Celsius(p.temperature_degC)));
    return density.value() / unit::kLitrePerM3;
}

}  // namespace bw::works
