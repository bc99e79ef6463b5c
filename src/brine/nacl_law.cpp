// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/nacl_law.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/nacl_brine.hpp"
#include "brine/natural_seawater.hpp"

namespace bw::brine {
namespace {

Result<void> check(unit::GramPerKg dissolved, unit::Celsius temperature, double lowest,
                   double highest, std::string_view what) {
    const double w = dissolved.value();
    const double t = temperature.value();
    if (!(w >= 0 && w <= kHighestBrineGramPerKg)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("sodium chloride brine is known from 0 to 55 g/kg, not at {} g/kg",
                                base::format_significant(w, 6)));
    }
    if (!(t >= lowest && t <= highest)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the {} of sodium chloride brine is known from {} to {} degC, not "
                                "at {} degC",
                                what, base::format_exact(lowest), base::format_exact(highest),
                                base::format_exact(t)));
    }
    return {};
}

}  // namespace

Result<double> nacl_index_increment_20(unit::GramPerKg dissolved) {
    constexpr unit::Celsius kTwenty{20};
    BW_TRY(brine, nacl_refractive_index(dissolved, kTwenty));
    BW_TRY(water, nacl_refractive_index(unit::GramPerKg(0), kTwenty));
    return brine.value - water.value;
}

Result<double> NaclBrine::density_kg_per_m3(unit::GramPerKg dissolved,
                                            unit::Celsius temperature) const {
    constexpr double kHighestCelsius = 40;
    BW_CHECK(check(dissolved, temperature, 0, kHighestCelsius, "density"));
    BW_TRY(found, nacl_density(dissolved, temperature));
    return found.value;
}

Result<double> NaclBrine::conductivity_mS_per_cm(unit::GramPerKg dissolved,
                                                 unit::Celsius temperature) const {
    constexpr double kLowestCelsius = 10;
    constexpr double kHighestCelsius = 35;
    BW_CHECK(check(dissolved, temperature, kLowestCelsius, kHighestCelsius, "conductivity"));
    BW_TRY(found, nacl_conductivity_mS_per_cm(dissolved, temperature));
    return found.value;
}

Result<double> NaclBrine::refractive_index(unit::GramPerKg dissolved,
                                           unit::Celsius temperature) const {
    constexpr double kHighestCelsius = 30;
    BW_CHECK(check(dissolved, temperature, 0, kHighestCelsius, "refractive index"));
    BW_TRY(found, nacl_refractive_index(dissolved, temperature));
    return found.value;
}

Result<unit::PracticalSalinity> NaclBrine::practical_salinity_of(unit::GramPerKg dissolved) const {
    const unit::Celsius usual(25);
    BW_TRY(kappa, conductivity_mS_per_cm(dissolved, usual));
    return meter_salinity(kappa, usual);
}

unit::GramPerKg NaclBrine::highest() const {
    constexpr double kSalinity42 = 39;  // g/kg; above, practical salinity ends
    return unit::GramPerKg(kSalinity42);
}

LawUncertainty NaclBrine::formula() const {
    constexpr double kDensity = 0.02;
    constexpr double kConductivityPart = 0.005;
    constexpr double kIndex = 3e-5;
    return {kDensity, kConductivityPart, kIndex};
}

}  // namespace bw::brine
