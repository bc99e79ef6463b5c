// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/refractive_index.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/dissolved_ions.hpp"
#include "brine/physical_constants.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/reference_density.hpp"
#include "brine/solvent.hpp"
#include "brine/temperature_scale.hpp"
#include "num/polynomial.hpp"
#include "unit/factors.hpp"

namespace bw::brine {
namespace {

// [millard-seaver-1990], terms at one atmosphere; L in um, t in degC.
constexpr double kA0 = 1.3280657;
constexpr double kL2 = -0.0045536802;
constexpr std::array kInverseL2 = {0.0, 0.0025471707, 7.501966e-6, 2.802632e-6};  // of 1/L^2
constexpr std::array kT = {0.0, -5.2883907e-6, -3.0738272e-6, 3.0124687e-8, -2.0883178e-10};
constexpr std::array kTL = {0.0, 1.0508621e-5, 2.1282248e-7, -1.705881e-9};
constexpr std::array kS = {1.9029121e-4, -7.3960297e-7, 8.9818478e-9, 1.2078804e-10};  // of t
constexpr double kSInverseL2 = 2.4239607e-6;
constexpr double kSTL = -3.589495e-7;

// [iapws-r9-97].
constexpr std::array kRefraction = {0.244257733,   9.74634476e-3, -3.73234996e-3, 2.68678472e-4,
                                    1.58920570e-3, 2.45934259e-3, 0.900704920,    -1.66626219e-2};
constexpr double kUltraviolet = 0.2292020;
constexpr double kInfrared = 5.432937;
constexpr double kDensityUnit = 1000;
constexpr double kWavelengthUnit = 0.589;

constexpr double kAirAt15 = 2.77e-4;  // n - 1, [icumsa-sps3]
constexpr double kFifteen_K = 288.15;

constexpr double kHighestSalinity = 120;  // of the polynomial run on
constexpr double kTrustedSalinity = 40;   // [millard-seaver-1990]
constexpr double kTrustedCelsius = 30;
// Standard uncertainties, see the header.
constexpr double kNatural = 1.8e-5;
constexpr double kPerDisplaced = 2.2e-5;
constexpr double kPerStrong = 1e-5;
constexpr double kWarm = 1e-5;
constexpr double kOther_cm3_per_g = 0.16;  // refraction of whole sea salt, own mean

double seawater(double S, double t, double L) {
    const double inverse = 1 / (L * L);
    return kA0 + kL2 * L * L + num::polynomial(kInverseL2, inverse) + num::polynomial(kT, t) +
           L * num::polynomial(kTL, t) +
           S * (num::polynomial(kS, t) + kSInverseL2 * inverse + kSTL * t * L);
}

double index_of(double lorentz) { return std::sqrt((2 * lorentz + 1) / (1 - lorentz)); }
double lorentz_of(double index) { return (index * index - 1) / (index * index + 2); }

/// Lorentz-Lorenz index of the composition, relative to air as far as the water's is.
double by_refractions(const DissolvedIons& ions, const Solvent& water, double t) {
    double volume = kCm3PerM3 / water.density_kg_per_m3 + ions.other_volume_cm3_per_kg;
    double refraction =
        lorentz_of(seawater(0, t, kSodiumLine_um)) * kCm3PerM3 / water.density_kg_per_m3 +
        kOther_cm3_per_g * ions.other_g_per_kg;
    for (std::size_t i = 0; i < kIonCount; ++i) {
        const double m = ions.molality[i];
        if (m != 0) {
            volume += m * ion_volume(ion_table()[i], water, ions.ionic_strength).total;
            refraction += m * ion_table()[i].refraction;
        }
    }
    return index_of(refraction / volume);
}

}  // namespace

Result<double> seawater_refractive_index(unit::PracticalSalinity salinity,
                                         unit::Celsius temperature, double wavelength_um) {
    BW_CHECK(check_temperature(temperature, "the refractive index of seawater"));
    constexpr double kShortest = 0.5;
    constexpr double kLongest = 0.7;  // [millard-seaver-1990]
    if (!(wavelength_um >= kShortest && wavelength_um <= kLongest)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the refractive index of seawater is known for light of 0.5 to 0.7 "
                                "um, not {} um",
                                base::format_exact(wavelength_um)));
    }
    if (!(salinity.value() >= 0 && salinity.value() <= kHighestSalinity)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the refractive index of seawater is known for practical salinity "
                                "0 to 120, not {}",
                                base::format_exact(salinity.value())));
    }
    return seawater(salinity.value(), temperature.value(), wavelength_um);
}

Result<double> refractive_index_of_water(double density_kg_per_m3, double t_K,
                                         double wavelength_um) {
    constexpr double kDensest = 1060;
    constexpr double kColdest_K = 261.15;
    constexpr double kHottest_K = 773.15;
    constexpr double kShortest_um = 0.2;
    constexpr double kLongest_um = 1.1;  // ranges of [iapws-r9-97]
    const bool sound = density_kg_per_m3 >= 0 && density_kg_per_m3 <= kDensest &&
                       t_K >= kColdest_K && t_K <= kHottest_K && wavelength_um >= kShortest_um &&
                       wavelength_um <= kLongest_um;
    if (!sound) {
        return fail(
            ProblemCode::OutOfRange,
            "the refractive index of water is known for 0 to 1060 kg/m3, 261.15 to 773.15 K "
            "and 0.2 to 1.1 um");
    }
    const double d = density_kg_per_m3 / kDensityUnit;
    const double T = t_K / kKelvinAtZeroCelsius;
    const double L2 = std::pow(wavelength_um / kWavelengthUnit, 2);
    const auto& a = kRefraction;
    return index_of(d * (a[0] + a[1] * d + a[2] * T + a[3] * L2 * T + a[4] / L2 +
                         a[5] / (L2 - kUltraviolet * kUltraviolet) +
                         a[6] / (L2 - kInfrared * kInfrared) + a[7] * d * d));
}

double refractive_index_of_air(unit::Celsius temperature) {
    return 1 + kAirAt15 * kFifteen_K / kelvin(temperature);
}

Result<Estimate> refractive_index(const matter::Amounts& mol_per_kg, unit::Celsius temperature) {
    BW_CHECK(check_temperature(temperature, "the refractive index of a water"));
    BW_TRY(ions, dissolved_ions(mol_per_kg));
    const double t = temperature.value();
    const Solvent water = solvent(temperature);
    const double S = ions.dissolved_g_per_kg / kGramPerKgPerPracticalSalinity;
    const double base = std::min(S, kHighestSalinity);
    Estimate out;
    out.value = seawater(base, t, kSodiumLine_um) +
                (by_refractions(ions, water, t) -
                 by_refractions(natural_ions(base * kGramPerKgPerPracticalSalinity), water, t));
    const double displaced = kPerDisplaced * displaced_g_per_kg(mol_per_kg);
    const double strong = kPerStrong * std::max(0.0, S - kTrustedSalinity);
    const double warm = t > kTrustedCelsius ? kWarm : 0;
    const double other = kOther_cm3_per_g * ions.other_g_per_kg / unit::kGramPerKg;
    out.standard_uncertainty = std::sqrt(kNatural * kNatural + displaced * displaced +
                                         strong * strong + warm * warm + other * other);
    note_unknown(ions, out.notices);
    if (S > kTrustedSalinity * (1 + kRoundedWeights) || t > kTrustedCelsius) {
        out.extrapolated = true;
        out.notices.push_back(
            {"refractive_index_extrapolated",
             fmt::format("The refractive index of seawater was measured to practical salinity 40 "
                         "and 30 degC; the value carries {:.1g}.",
                         out.standard_uncertainty)});
    }
    return out;
}

}  // namespace bw::brine
