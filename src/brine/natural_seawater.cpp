// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/natural_seawater.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/refractive_index.hpp"
#include "brine/seawater_density.hpp"

namespace bw::brine {
namespace {

constexpr double kHighestSalinity = 42;           // [unesco-44]
constexpr double kHighestConductingCelsius = 35;  // [unesco-44]
constexpr double kHighestIndexCelsius = 30;       // [millard-seaver-1990]

Result<void> check_conducting(double celsius) {
    if (!(celsius >= 0 && celsius <= kHighestConductingCelsius)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("practical salinity is defined from 0 to 35 degC here, not at {} "
                                "degC",
                                base::format_exact(celsius)));
    }
    return {};
}

unit::PracticalSalinity practical(unit::GramPerKg dissolved) {
    return unit::PracticalSalinity(dissolved.value() / kGramPerKgPerPracticalSalinity);
}

Result<void> check_salinity(unit::GramPerKg dissolved) {
    const double s = practical(dissolved).value();
    constexpr double kRounding = 1e-9;
    if (!(s >= 0 && s <= kHighestSalinity + kRounding)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("seawater is known from 0 to {} g/kg (practical salinity 42), not "
                                "at {} g/kg",
                                base::format_significant(
                                    kHighestSalinity * kGramPerKgPerPracticalSalinity, 4),
                                base::format_significant(dissolved.value(), 6)));
    }
    return {};
}

}  // namespace

Result<unit::PracticalSalinity> meter_salinity(double conductivity_mS_per_cm,
                                               unit::Celsius temperature) {
    BW_CHECK(check_conducting(temperature.value()));
    const auto found = salinity_of_conductivity(conductivity_mS_per_cm, temperature);
    if (!found || found->salinity.value() > kHighestSalinity) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a conductivity of {} mS/cm at {} degC lies outside practical "
                                "salinity, which ends at 42",
                                base::format_significant(conductivity_mS_per_cm, 5),
                                base::format_exact(temperature.value())));
    }
    return found->salinity;
}

Result<double> meter_conductivity(unit::PracticalSalinity salinity, unit::Celsius temperature) {
    BW_CHECK(check_conducting(temperature.value()));
    constexpr double kRounding = 1e-9;
    if (!(salinity.value() >= 0 && salinity.value() <= kHighestSalinity + kRounding)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("practical salinity is known from 0 to 42, not {}",
                                base::format_significant(salinity.value(), 6)));
    }
    BW_TRY(found, conductivity_of_salinity(salinity, temperature));
    return found.kappa_mS_per_cm;
}

Result<double> NaturalSeawater::density_kg_per_m3(unit::GramPerKg dissolved,
                                                  unit::Celsius temperature) const {
    BW_CHECK(check_salinity(dissolved));
    const double s = std::min(practical(dissolved).value(), kHighestSalinity);
    BW_TRY(rho, seawater_density(unit::PracticalSalinity(s), temperature));
    return rho.value();
}

Result<double> NaturalSeawater::conductivity_mS_per_cm(unit::GramPerKg dissolved,
                                                       unit::Celsius temperature) const {
    BW_CHECK(check_salinity(dissolved));
    return meter_conductivity(practical(dissolved), temperature);
}

Result<double> NaturalSeawater::refractive_index(unit::GramPerKg dissolved,
                                                 unit::Celsius temperature) const {
    BW_CHECK(check_salinity(dissolved));
    const double t = temperature.value();
    if (!(t >= 0 && t <= kHighestIndexCelsius)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the refractive index of seawater is known from 0 to 30 degC, not "
                                "at {} degC",
                                base::format_exact(t)));
    }
    return seawater_refractive_index(practical(dissolved), temperature);
}

Result<unit::PracticalSalinity> NaturalSeawater::practical_salinity_of(
    unit::GramPerKg dissolved) const {
    BW_CHECK(check_salinity(dissolved));
    return practical(dissolved);
}

unit::GramPerKg NaturalSeawater::highest() const {
    return unit::GramPerKg(kHighestSalinity * kGramPerKgPerPracticalSalinity);
}

LawUncertainty NaturalSeawater::formula() const {
    constexpr double kDensity = 0.0036;     // [millero-poisson-1981]
    constexpr double kConductivity = 1e-4;  // 0.003 of salinity [unesco-44]
    constexpr double kIndex = 1.8e-5;       // 0.1 of salinity between two equations
    return {kDensity, kConductivity, kIndex};
}

LawUncertainty NaturalSeawater::composition() const {
    if (composition_ == Composition::Reference) {
        return {};
    }
    // What a salt raised in Ca, Mg and alkalinity at the same dissolved mass does to each property,
    // by transport and volume models of such a mix (estimate): 0.06, 0.10 and 0.12 of salinity.
    constexpr double kDensity = 0.045;
    constexpr double kConductivity = 0.0025;
    constexpr double kIndex = 2.2e-5;
    return {kDensity, kConductivity, kIndex};
}

}  // namespace bw::brine
