// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/natural_seawater.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/seawater_density.hpp"

namespace bw::brine {
namespace {

constexpr double kReferencePerPractical = 35.16504 / 35;  // [millero-2008]
constexpr double kHighestSalinity = 42;                   // [unesco-44]
constexpr double kHighestConductingCelsius = 35;          // [unesco-44]
constexpr double kHighestIndexCelsius = 30;               // [quan-fry-1995]
constexpr double kIpts68PerIts90 = 1.00024;               // [unesco-44] users' convention

// PSS-78, [unesco-44]: powers of t68, and of the root of the conductivity ratio.
constexpr std::array kRatioOfTemperature = {.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7,
                                            1.0031e-9};
constexpr std::array kA = {.0080, -.1692, 25.3851, 14.0941, -7.0261, 2.7081};
constexpr std::array kB = {.0005, -.0056, -.0066, -.0375, .0636, -.0144};
constexpr double kK = .0162;
constexpr double kReferenceT68 = 15;
constexpr double kConductivity35 = 42.914;  // mS/cm at 35, t68 = 15 degC [culkin-smith-1980]

constexpr double kSodiumLine = 589.26;  // nm, mean of the D lines

template <std::size_t N>
double polynomial(const std::array<double, N>& coefficients, double x) {
    double value = 0;
    for (std::size_t i = N; i-- > 0;) {
        value = value * x + coefficients[i];
    }
    return value;
}

double salinity_of_ratio(double root, double t68) {
    const double d = t68 - kReferenceT68;
    return polynomial(kA, root) + d / (1 + kK * d) * polynomial(kB, root);
}

Result<void> check_conducting(double celsius) {
    if (!(celsius >= 0 && celsius <= kHighestConductingCelsius)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("practical salinity is defined from 0 to 35 degC here, not at {} "
                                "degC",
                                base::format_exact(celsius)));
    }
    return {};
}

// [quan-fry-1995]; linear in the salinity.
double quan_fry(double salinity, double t) {
    const double l = kSodiumLine;
    return 1.31405 + (1.779e-4 - 1.05e-6 * t + 1.6e-8 * t * t) * salinity - 2.02e-6 * t * t +
           (15.868 + .01155 * salinity - .00423 * t) / l - 4382 / (l * l) + 1.1455e6 / (l * l * l);
}

unit::PracticalSalinity practical(unit::GramPerKg dissolved) {
    return unit::PracticalSalinity(dissolved.value() / kReferencePerPractical);
}

Result<void> check_salinity(unit::GramPerKg dissolved) {
    const double s = practical(dissolved).value();
    constexpr double kRounding = 1e-9;
    if (!(s >= 0 && s <= kHighestSalinity + kRounding)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("seawater is known from 0 to {} g/kg (practical salinity 42), not "
                        "at {} g/kg",
                        base::format_significant(kHighestSalinity * kReferencePerPractical, 4),
                        base::format_significant(dissolved.value(), 6)));
    }
    return {};
}

}  // namespace

Result<unit::PracticalSalinity> meter_salinity(double conductivity_mS_per_cm,
                                               unit::Celsius temperature) {
    BW_CHECK(check_conducting(temperature.value()));
    const double t68 = kIpts68PerIts90 * temperature.value();
    const double ratio =
        conductivity_mS_per_cm / (kConductivity35 * polynomial(kRatioOfTemperature, t68));
    constexpr double kBeyond = 1.3;  // ratio; 42 lies at 1.18
    const double s =
        ratio >= 0 && ratio <= kBeyond ? salinity_of_ratio(std::sqrt(ratio), t68) : HUGE_VAL;
    if (!(s <= kHighestSalinity)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a conductivity of {} mS/cm at {} degC lies outside practical "
                                "salinity, which ends at 42",
                                base::format_significant(conductivity_mS_per_cm, 5),
                                base::format_exact(temperature.value())));
    }
    return unit::PracticalSalinity(s);
}

Result<double> meter_conductivity(unit::PracticalSalinity salinity, unit::Celsius temperature) {
    BW_CHECK(check_conducting(temperature.value()));
    constexpr double kRounding = 1e-9;
    if (!(salinity.value() >= 0 && salinity.value() <= kHighestSalinity + kRounding)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("practical salinity is known from 0 to 42, not {}",
                                base::format_significant(salinity.value(), 6)));
    }
    const double t68 = kIpts68PerIts90 * temperature.value();
    const double pure = salinity_of_ratio(0, t68);  // the scale's own offset at no conductivity
    if (salinity.value() <= pure) {
        return 0.0;
    }
    // Newton on the root of the ratio; the salinity grows evenly in it.
    double root = std::sqrt(salinity.value() / 35);
    constexpr int kMost = 50;
    constexpr double kStep = 1e-7;
    for (int i = 0; i < kMost; ++i) {
        const double value = salinity_of_ratio(root, t68) - salinity.value();
        const double slope =
            (salinity_of_ratio(root + kStep, t68) - salinity_of_ratio(root - kStep, t68)) /
            (2 * kStep);
        const double next = std::max(root - value / slope, root / 4);
        const bool done = std::abs(next - root) < 1e-14;
        root = next;
        if (done) {
            break;
        }
    }
    return kConductivity35 * polynomial(kRatioOfTemperature, t68) * root * root;
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
    return quan_fry(practical(dissolved).value(), t);
}

Result<unit::PracticalSalinity> NaturalSeawater::practical_salinity_of(
    unit::GramPerKg dissolved) const {
    BW_CHECK(check_salinity(dissolved));
    return practical(dissolved);
}

unit::GramPerKg NaturalSeawater::highest() const {
    return unit::GramPerKg(kHighestSalinity * kReferencePerPractical);
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
