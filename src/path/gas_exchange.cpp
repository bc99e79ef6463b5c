// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/gas_exchange.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "brine/physical_constants.hpp"
#include "brine/practical_salinity.hpp"
#include "brine/temperature_scale.hpp"

namespace bw::path {
namespace {

constexpr std::array kCo2Schmidt = {2116.8, -136.25, 4.7353, -0.092307,
                                    0.0007555};  // [wanninkhof-2014]
constexpr double kCo2PerOxygen = 0.90;           // [aitchison-2007]

// ln [O2 in umol/kg] in powers of Ts = ln((298.15 - t)/(273.15 + t)); [garcia-gordon-1992].
constexpr std::array kOxygen = {5.80871, 3.20291, 4.17887, 5.10006, -9.86643e-2, 3.80369};
constexpr std::array kOxygenBySalt = {-7.01577e-3, -7.70028e-3, -1.13864e-2, -9.51519e-3};
constexpr double kOxygenBySaltSquared = -2.75915e-7;
constexpr double kOxygenZero_K = 298.15;
constexpr double kMicro = 1e-6;

constexpr double kOxygenOfAir = 0.2095;  // mole fraction, from memory
constexpr double kPascalPerAtmosphere = 101325;
constexpr double kSecondsPerHour = 3600;

constexpr double kMostFilm_m_per_h = 5;
constexpr double kLeastDepth_m = 0.01;
constexpr double kMostDepth_m = 20;
constexpr double kMostAir_per_h = 1000;
constexpr double kMostSubmergence_m = 10;
constexpr double kMostTaken_per_m = 0.2;

constexpr double kReactionPh = 8.6;
constexpr double kStillFilm_m_per_h = 0.05;

template <class Coefficients>
double horner(const Coefficients& c, double x) {
    double sum = 0;
    for (auto at = c.rbegin(); at != c.rend(); ++at) {
        sum = sum * x + *at;
    }
    return sum;
}

Result<void> within(double value, double low, double high, const char* field, const char* what,
                    const char* unit) {
    if (value >= low && value <= high) {
        return {};
    }
    return fail(
        ProblemCode::OutOfRange,
        fmt::format("{} is {:g}{}; {:g} to {:g}{} can be used", what, value, unit, low, high, unit),
        {"", 0, field});
}

double gas_mol_per_m3(double t_degC) {  // an ideal gas at one atmosphere
    return kPascalPerAtmosphere /
           (brine::kGasConstant_J_per_mol_K * brine::kelvin(unit::Celsius(t_degC)));
}

}  // namespace

Result<double> co2_schmidt_number(unit::Celsius temperature) {
    constexpr double kLow = -2;
    constexpr double kHigh = 40;
    BW_CHECK(within(temperature.value(), kLow, kHigh, "temperature", "the water's temperature",
                    " degC"));
    return horner(kCo2Schmidt, temperature.value());
}

double film_coefficient_at(double film_coefficient, double known_schmidt, double schmidt) {
    return film_coefficient * std::sqrt(known_schmidt / schmidt);
}

Result<double> surface_exchange_per_h(double film_coefficient_m_per_h, double depth_m,
                                      unit::Celsius temperature) {
    BW_TRY(schmidt, co2_schmidt_number(temperature));
    BW_CHECK(within(film_coefficient_m_per_h, 0, kMostFilm_m_per_h, "film",
                    "the film coefficient of the surface", " m/h"));
    BW_CHECK(within(depth_m, kLeastDepth_m, kMostDepth_m, "depth", "the depth of water", " m"));
    return film_coefficient_at(film_coefficient_m_per_h, kUsualSchmidt, schmidt) / depth_m;
}

double co2_gas_liquid_partition(double k0_mol_per_kg_atm, const Liquid& liquid) {
    return gas_mol_per_m3(liquid.t_degC) / (k0_mol_per_kg_atm * liquid.density_kg_per_m3);
}

double oxygen_saturation_mol_per_kg(const Liquid& liquid) {
    const double t = liquid.t_degC;
    const double S = liquid.salinity_g_per_kg / brine::kGramPerKgPerPracticalSalinity;
    const double scaled = std::log((kOxygenZero_K - t) / brine::kelvin(unit::Celsius(t)));
    return kMicro * std::exp(horner(kOxygen, scaled) + S * horner(kOxygenBySalt, scaled) +
                             S * S * kOxygenBySaltSquared);
}

double co2_exchange_of_oxygen(double oxygen_exchange) { return kCo2PerOxygen * oxygen_exchange; }

Result<double> air_stone_exchange_per_h(const AirStone& stone, const Liquid& liquid,
                                        double k0_mol_per_kg_atm) {
    const double Q = stone.air_volumes_per_h;
    BW_CHECK(within(Q, 0, kMostAir_per_h, "stone", "the flow of air", " volumes per hour"));
    BW_CHECK(within(stone.submergence_m, 0, kMostSubmergence_m, "depth",
                    "the depth of the air stone", " m"));
    BW_CHECK(within(stone.oxygen_taken_per_m, 0, kMostTaken_per_m, "stone",
                    "the oxygen that the stone transfers", " per m"));
    BW_CHECK(within(stone.oxygen_taken_per_m * stone.submergence_m, 0, 1, "stone",
                    "the oxygen that the stone transfers", ""));
    const double most = Q * co2_gas_liquid_partition(k0_mol_per_kg_atm, liquid);
    if (most == 0) {
        return 0.0;
    }
    const double oxygen = stone.oxygen_taken_per_m * stone.submergence_m * Q * kOxygenOfAir *
                          gas_mol_per_m3(liquid.t_degC) /
                          (oxygen_saturation_mol_per_kg(liquid) * liquid.density_kg_per_m3);
    return -most * std::expm1(-co2_exchange_of_oxygen(oxygen) / most);
}

double co2_uptake_mol_per_kg_s(double exchange_per_h, double k0_mol_per_kg_atm, double air_co2_atm,
                               double co2_mol_per_kg) {
    return exchange_per_h / kSecondsPerHour * (k0_mol_per_kg_atm * air_co2_atm - co2_mol_per_kg);
}

base::Notices gas_exchange_notices(double highest_ph_total, double film_coefficient_m_per_h) {
    if (highest_ph_total <= kReactionPh || film_coefficient_m_per_h >= kStillFilm_m_per_h) {
        return {};
    }
    return {{"co2_reaction_ignored",
             fmt::format("At pH {:.1f} in still water carbon dioxide also reacts in the surface "
                         "film, which is not reckoned here: it comes in up to three times faster.",
                         highest_ph_total)}};
}

}  // namespace bw::path
