// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/solvent.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "base/result.hpp"
#include "brine/physical_constants.hpp"
#include "brine/reference_density.hpp"
#include "brine/temperature_scale.hpp"
#include "num/polynomial.hpp"

namespace bw::brine {
namespace {

// [bradley-pitzer-1979], U1 to U9; pressures in bar.
constexpr std::array kU = {342.79,  -5.0866e-3, 9.4690e-7, -2.0525, 3115.9,
                           -182.89, -8032.5,    4.2142e6,  2.1417};
constexpr double kReferenceBar = 1000;
// Secant bulk modulus of water at one atmosphere [bar], powers of t68, [unesco-44].
constexpr std::array kBulkModulus = {19652.21, 148.4206, -2.327105, 1.360477e-2, -5.155288e-5};
// Viscosity of water at 0.1 MPa [mPa s]: sum of a (T/300 K)^b, [patek-2009].
struct Power {
    double a, b;
};
constexpr std::array kViscosity = {Power{0.28068, -1.9}, Power{0.51145, -7.7},
                                   Power{0.061131, -19.6}, Power{0.45903e-3, -40}};
constexpr double kViscosityUnit_K = 300;
constexpr double kBarCm3PerJoule = 10;  // exact

double viscosity(double t_K) {
    double sum = 0;
    for (const Power& term : kViscosity) {
        sum += term.a * std::pow(t_K / kViscosityUnit_K, term.b);
    }
    return sum;
}

}  // namespace

Solvent solvent(unit::Celsius temperature) {
    const double T = kelvin(temperature);
    const auto rho = pure_water_density(temperature);
    base::expect(rho.has_value(), "the solvent is asked for outside 0 to 40 degC");
    const double at_1000_bar = kU[0] * std::exp(T * (kU[1] + kU[2] * T));
    const double C = kU[3] + kU[4] / (kU[5] + T);
    const double B = kU[6] + kU[7] / T + kU[8] * T;
    const double eps = at_1000_bar + C * std::log((B + kAtmosphere_bar) / (B + kReferenceBar));
    const double slope = C / (B + kAtmosphere_bar);  // d eps/dp
    const double compressibility = 1 / num::polynomial(kBulkModulus, ipts68(temperature));
    const double permittivity = kVacuumPermittivity_F_per_m * eps;
    const double thermal = kBoltzmann_J_per_K * T;
    const double charge2 = kElementaryCharge_C * kElementaryCharge_C;
    const double screening =
        std::sqrt(2 * kAvogadro_per_mol * charge2 * rho->value() / (permittivity * thermal));
    const double bjerrum = charge2 / (4 * std::numbers::pi * permittivity * thermal);
    const double osmotic_slope = screening * bjerrum / 6;  // A_phi
    return {T,
            rho->value(),
            eps,
            screening / kAngstromPerMetre,
            6 * kGasConstant_J_per_mol_K * T * kBarCm3PerJoule * osmotic_slope *
                (slope / eps - compressibility / 3),
            slope / (eps * eps),
            viscosity(T),
            viscosity(kTwentyFive_K)};
}

}  // namespace bw::brine
