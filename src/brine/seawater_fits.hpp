// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "brine/physical_constants.hpp"
#include "brine/seawater_constants.hpp"
#include "brine/temperature_scale.hpp"
#include "num/dual.hpp"

/// The printed fits of the stoichiometric constants, for any scalar (double, std::complex<double>,
/// num::Dual<N>), so that derivatives by salinity and temperature are exact. No range is checked
/// here.
namespace bw::brine::fits {

/// sum over rows of x^power (one + per_T/T + ln_T ln T + T T), T in kelvin.
struct Row {
    double power;  ///< of x: 0, 0.5, 1, 1.5 or 2
    double one, per_T, ln_T, T;
};

// log10 K is minus the sum (x = S).
inline constexpr std::array kLueker1 = {  // [lueker-2000]
    Row{0, -61.2172, 3633.86, 9.6777, 0}, Row{1, -0.011555, 0, 0, 0}, Row{2, 0.0001152, 0, 0, 0}};
inline constexpr std::array kLueker2 = {  // [lueker-2000]
    Row{0, 25.929, 471.78, -3.16967, 0}, Row{1, -0.01781, 0, 0, 0}, Row{2, 0.0001122, 0, 0, 0}};
inline constexpr std::array kSulpis1 = {  // [sulpis-2020] table 1
    Row{0, -172.4493, 8510.63, 26.32996, 0}, Row{1, -0.011555, 0, 0, 0},
    Row{2, 0.0001152, 0, 0, 0}};
inline constexpr std::array kSulpis2 = {  // [sulpis-2020] table 1
    Row{0, -59.4636, 4226.23, 9.60817, 0}, Row{1, -0.01781, 0, 0, 0}, Row{2, 0.0001122, 0, 0, 0}};
inline constexpr std::array kWaters1 = {  // [waters-2014], seawater scale
    Row{0, -126.34048, 6320.813, 19.568224, 0}, Row{0.5, 13.409160, -531.3642, -2.0669166, 0},
    Row{1, 0.031646, -5.713, 0, 0}, Row{2, -5.1895e-5, 0, 0, 0}};
inline constexpr std::array kWaters2 = {  // [waters-2014], seawater scale
    Row{0, -90.18333, 5143.692, 14.613358, 0}, Row{0.5, 21.225890, -779.3444, -3.3534679, 0},
    Row{1, 0.12450870, -19.91739, 0, 0}, Row{2, -3.7243e-4, 0, 0, 0}};
// ln K is the sum (x = S).
inline constexpr std::array kBoric = {  // [dickson-1990-boric], total scale
    Row{0, 148.0248, -8966.90, -24.4344, 0}, Row{0.5, 137.1942, -2890.53, -25.085, 0.053105},
    Row{1, 1.62142, -77.942, -0.2474, 0}, Row{1.5, 0, 1.728, 0, 0}, Row{2, 0, -0.0996, 0, 0}};
inline constexpr std::array kWater = {  // [millero-1995], seawater scale
    Row{0, 148.9802, -13847.26, -23.6521, 0}, Row{0.5, -5.977, 118.67, 1.0495, 0},
    Row{1, -0.01615, 0, 0, 0}};
inline constexpr std::array kPhosphoric1 = {  // [yao-millero-1995], seawater scale
    Row{0, 115.54, -4576.752, -18.453, 0}, Row{0.5, 0.69171, -106.736, 0, 0},
    Row{1, -0.01844, -0.65643, 0, 0}};
inline constexpr std::array kPhosphoric2 = {  // [yao-millero-1995], seawater scale
    Row{0, 172.1033, -8814.715, -27.927, 0}, Row{0.5, 1.3566, -160.34, 0, 0},
    Row{1, -0.05778, 0.37335, 0, 0}};
inline constexpr std::array kPhosphoric3 = {  // [yao-millero-1995], seawater scale
    Row{0, -18.126, -3070.75, 0, 0}, Row{0.5, 2.81197, 17.27039, 0, 0},
    Row{1, -0.09984, -44.99486, 0, 0}};
inline constexpr std::array kPerezFraga = {  // [perez-fraga-1987]
    Row{0, -9.68, 874, 0, 0}, Row{0.5, 0.111, 0, 0, 0}};
// ln K per kg of water is the sum (x = ionic strength in mol per kg of water).
inline constexpr std::array kBisulfate = {  // [dickson-1990-bisulfate], free scale
    Row{0, 141.328, -4276.1, -23.093, 0}, Row{0.5, 324.57, -13856, -47.986, 0},
    Row{1, -771.54, 35474, 114.723, 0}, Row{1.5, 0, -2698, 0, 0}, Row{2, 0, 1776, 0, 0}};
inline constexpr std::array kDicksonRiley = {  // [dickson-riley-1979], free scale
    Row{0, -12.641, 1590.2, 0, 0}, Row{0.5, 1.525, 0, 0, 0}};
inline constexpr std::array kSilicic = {  // [yao-millero-1995], seawater scale
    Row{0, 117.40, -8904.2, -19.334, 0}, Row{0.5, 3.5913, -458.79, 0, 0},
    Row{1, -1.5998, 188.74, 0, 0}, Row{2, 0.07871, -12.1652, 0, 0}};
// log10 K less 71.595 log10 T is the sum (x = S).
inline constexpr std::array kCalcite = {  // [mucci-1983]
    Row{0, -171.9065, 2839.319, 0, -0.077993}, Row{0.5, -0.77712, 178.34, 0, 0.0028426},
    Row{1, -0.07711, 0, 0, 0}, Row{1.5, 0.0041249, 0, 0, 0}};
inline constexpr std::array kAragonite = {  // [mucci-1983]
    Row{0, -171.945, 2903.293, 0, -0.077993}, Row{0.5, -0.068393, 88.135, 0, 0.0017276},
    Row{1, -0.10018, 0, 0, 0}, Row{1.5, 0.0059415, 0, 0, 0}};
inline constexpr double kLog10TOfCarbonates = 71.595;  // [mucci-1983]

// ln K0 = a0 + a1 (100/T) + a2 ln(T/100) + S (b0 + b1 (T/100) + b2 (T/100)^2), mol/(kg atm).
inline constexpr std::array kSolubility = {-60.2409, 93.4517,   23.3585,
                                           0.023517, -0.023656, 0.0047036};  // [weiss-1974]
// Virial coefficient of CO2, and of CO2 with air, cm3/mol, powers of T ascending.
inline constexpr std::array kVirial = {-1636.75, 12.0408, -3.27957e-2, 3.16528e-5};  // [weiss-1974]
inline constexpr std::array kVirialWithAir = {57.7, -0.118};                         // [weiss-1974]
inline constexpr double kGasConstant = 83.14462618;  // cm3 bar/(mol K), exact in the SI of 2019

// pK of ammonium, total scale, mol per kg of water; [clegg-whitfield-1995] eq. 18.
inline constexpr double kAmmoniumPure = 9.244605, kAmmoniumSlope = 2729.33, kAmmoniumAt = 298.15;
inline constexpr std::array kAmmoniumQuarter = {0.04203362, -11.24742};  // S^0.25: 1, 1/T
/// Rows by sqrt S, S^1.5, S^2, S^2.5: 1, sqrt T, T, 1/T.
inline constexpr std::array kAmmonium = {
    std::array{-13.6416, 1.176949, -0.02860785, 545.4834},
    std::array{-0.1462507, 0.0090226468, -0.0001471361, 10.5425},
    std::array{0.004669309, -0.0001691742, 0.0, -0.5677934},
    std::array{-2.354039e-05, 0.0, 0.0, 0.009698623}};

// a_H / [H]SWS = c0 + c1 T + (c2 + c3 T) S^2; [takahashi-1982] page 80.
inline constexpr std::array kHydrogenActivity = {1.2948, -2.036e-3, 4.607e-4, -1.475e-6};

inline constexpr double kSaltPerSalinity = 0.001005;   // kg of salt per kg, [dickson-2007-guide]
inline constexpr double kIonicStrengthRatio = 19.924;  // mol per 1000 of S, [dickson-2007-guide]
inline constexpr double kSalinityPerChlorinity = 1.80655;  // [dickson-2007-guide]

// g per g of chlorinity, and the weights by which the sources turn them into mol.
inline constexpr double kSulfatePerChlorinity = 0.1400,
                        kSulfateWeight = 96.062;  // [morris-riley-1966]
inline constexpr double kFluoridePerChlorinity = 6.7e-5, kFluorideWeight = 18.998;  // [riley-1965]
inline constexpr double kCalciumPerChlorinity = 0.02128,
                        kCalciumWeight = 40.087;  // [riley-tongudai-1967]
inline constexpr double kBoronPerChlorinity = 2.32e-4, kBoronWeight = 10.811;  // [uppstrom-1974]
inline constexpr double kBoronAt35 = 432.6e-6;                                 // [lee-2010], mol/kg
inline constexpr double kNormalSalinity = 35;

/// Powers of salinity and temperature that the fits share.
template <class T>
struct Point {
    T s, root_s, kelvin, per_kelvin, ln_kelvin;
    T strength, root_strength;  ///< ionic strength, mol per kg of water
    T water_share;              ///< kg of water per kg of solution
};

template <class T>
[[nodiscard]] Point<T> point(const T& salinity, const T& celsius) {
    using std::log;
    using std::sqrt;
    const T kelvin = celsius + kKelvinAtZeroCelsius;
    const T strength =
        kIonicStrengthRatio * salinity / (1000.0 - 1000.0 * kSaltPerSalinity * salinity);
    return {salinity,    sqrt(salinity), kelvin,         1.0 / kelvin,
            log(kelvin), strength,       sqrt(strength), 1.0 - kSaltPerSalinity * salinity};
}

template <class T, std::size_t N>
[[nodiscard]] T sum(const std::array<Row, N>& rows, const Point<T>& p, const T& x,
                    const T& root_x) {
    T total(0.0);
    for (const Row& row : rows) {
        T of_kelvin(row.one);
        if (row.per_T != 0) {
            of_kelvin += row.per_T * p.per_kelvin;
        }
        if (row.ln_T != 0) {
            of_kelvin += row.ln_T * p.ln_kelvin;
        }
        if (row.T != 0) {
            of_kelvin += row.T * p.kelvin;
        }
        if (row.power == 0.5 || row.power == 1.5) {
            of_kelvin *= root_x;
        }
        if (row.power >= 1) {
            of_kelvin *= x;
        }
        if (row.power == 2) {
            of_kelvin *= x;
        }
        total += of_kelvin;
    }
    return total;
}

template <class T, std::size_t N>
[[nodiscard]] T by_salinity(const std::array<Row, N>& rows, const Point<T>& p) {
    return sum(rows, p, p.s, p.root_s);
}

template <class T, std::size_t N>
[[nodiscard]] T by_strength(const std::array<Row, N>& rows, const Point<T>& p) {
    return sum(rows, p, p.strength, p.root_strength);
}

template <class T>
[[nodiscard]] T ten_to(const T& exponent) {
    using std::exp;
    return exp(std::numbers::ln10 * exponent);
}

template <class T>
[[nodiscard]] T solubility(const Point<T>& p) {
    using std::exp;
    const T h = p.kelvin / 100.0;
    const auto& c = kSolubility;
    return exp(c[0] + c[1] / h + c[2] * (p.ln_kelvin - std::log(100.0)) +
               p.s * (c[3] + c[4] * h + c[5] * h * h));
}

template <class T>
[[nodiscard]] T fugacity_factor(const Point<T>& p) {
    using std::exp;
    const T& t = p.kelvin;
    const T own = kVirial[0] + t * (kVirial[1] + t * (kVirial[2] + t * kVirial[3]));
    const T with_air = kVirialWithAir[0] + kVirialWithAir[1] * t;
    return exp((own + 2.0 * with_air) * kAtmosphere_bar / (kGasConstant * t));
}

template <class T>
[[nodiscard]] T carbonate_product(const std::array<Row, 4>& rows, const Point<T>& p) {
    return ten_to(
        T(by_salinity(rows, p) + kLog10TOfCarbonates * (p.ln_kelvin / std::numbers::ln10)));
}

template <class T>
[[nodiscard]] T ammonium(const Point<T>& p) {
    using std::sqrt;
    const T root_T = sqrt(p.kelvin);
    const auto row = [&](std::size_t i) {
        const auto& c = kAmmonium[i];
        return T(c[0] + c[1] * root_T + c[2] * p.kelvin + c[3] * p.per_kelvin);
    };
    const T pure = kAmmoniumPure - kAmmoniumSlope * (1 / kAmmoniumAt - p.per_kelvin);
    const T quarter = (kAmmoniumQuarter[0] + kAmmoniumQuarter[1] * p.per_kelvin) * sqrt(p.root_s);
    const T pk = pure + quarter +
                 p.root_s * (row(0) + p.s * (row(1) + p.root_s * (row(2) + p.root_s * row(3))));
    return ten_to(T(-pk)) * p.water_share;
}

template <class T>
[[nodiscard]] T fluoride(FluorideFit fit, const Point<T>& p) {
    using std::exp;
    return fit == FluorideFit::PerezFraga1987 ? exp(by_salinity(kPerezFraga, p))
                                              : exp(by_strength(kDicksonRiley, p)) * p.water_share;
}

/// Totals of natural seawater, see natural_totals().
template <class T>
[[nodiscard]] SeawaterTotalsOf<T> natural_totals(const T& salinity, BoronRatio boron) {
    const T chlorinity = salinity / kSalinityPerChlorinity;
    SeawaterTotalsOf<T> out;
    out.boron = boron == BoronRatio::Lee2010 ? kBoronAt35 / kNormalSalinity * salinity
                                             : kBoronPerChlorinity / kBoronWeight * chlorinity;
    out.sulfate = kSulfatePerChlorinity / kSulfateWeight * chlorinity;
    out.fluoride = kFluoridePerChlorinity / kFluorideWeight * chlorinity;
    out.calcium = kCalciumPerChlorinity / kCalciumWeight * chlorinity;
    return out;
}

/// All constants, see seawater_constants().
template <class T>
[[nodiscard]] SeawaterConstantsOf<T> constants(const T& salinity, const T& celsius,
                                               const SeawaterFits& which) {
    using std::exp;
    const Point<T> p = point(salinity, celsius);
    SeawaterConstantsOf<T> k;
    k.ks = exp(by_strength(kBisulfate, p)) * p.water_share;
    k.kf = fluoride(which.fluoride, p);
    const SeawaterTotalsOf<T> natural = natural_totals(salinity, which.boron);
    const T to_total = 1.0 + natural.sulfate / k.ks;
    const T sws_to_total = to_total / (to_total + natural.fluoride / k.kf);
    switch (which.carbonic) {
        case CarbonicFit::Lueker2000:
            k.k1 = ten_to(T(-by_salinity(kLueker1, p)));
            k.k2 = ten_to(T(-by_salinity(kLueker2, p)));
            break;
        case CarbonicFit::Sulpis2020:
            k.k1 = ten_to(T(-by_salinity(kSulpis1, p)));
            k.k2 = ten_to(T(-by_salinity(kSulpis2, p)));
            break;
        case CarbonicFit::Waters2014:
            k.k1 = ten_to(T(-by_salinity(kWaters1, p))) * sws_to_total;
            k.k2 = ten_to(T(-by_salinity(kWaters2, p))) * sws_to_total;
            break;
    }
    k.k0 = solubility(p);
    k.fugacity_factor = fugacity_factor(p);
    k.kb = exp(by_salinity(kBoric, p));
    k.kw = exp(by_salinity(kWater, p)) * sws_to_total;
    k.kp1 = exp(by_salinity(kPhosphoric1, p)) * sws_to_total;
    k.kp2 = exp(by_salinity(kPhosphoric2, p)) * sws_to_total;
    k.kp3 = exp(by_salinity(kPhosphoric3, p)) * sws_to_total;
    k.ksi = exp(by_strength(kSilicic, p)) * p.water_share * sws_to_total;
    k.knh4 = ammonium(p);
    k.ksp_calcite = carbonate_product(kCalcite, p);
    k.ksp_aragonite = carbonate_product(kAragonite, p);
    const auto& a = kHydrogenActivity;
    k.hydrogen_activity = a[0] + a[1] * p.kelvin + (a[2] + a[3] * p.kelvin) * salinity * salinity;
    return k;
}

}  // namespace bw::brine::fits
