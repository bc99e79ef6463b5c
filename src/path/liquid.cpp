// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/liquid.hpp"

#include <array>

#include "brine/reference_density.hpp"
#include "brine/solvent.hpp"
#include "brine/temperature_scale.hpp"

namespace bw::path {
namespace {

using Quadratic = std::array<double, 3>;  // constant first

// Viscosity over that of water, powers of t [degC]: equation 22 of [sharqawy-2010].
constexpr Quadratic kViscosityBySalt = {1.541, 1.998e-2, -9.52e-5};
constexpr Quadratic kViscosityBySaltSquared = {7.974, -7.561e-2, 4.724e-4};

// Heat capacity [kJ/kg/K], powers of S [g/kg], one row for each power of T [K]: [jamieson-1969].
constexpr std::array<Quadratic, 4> kHeatCapacity = {{{5.328, -9.76e-2, 4.04e-4},
                                                     {-6.913e-3, 7.351e-4, -3.15e-6},
                                                     {9.6e-6, -1.927e-6, 8.23e-9},
                                                     {2.5e-9, 1.666e-9, -7.125e-12}}};
constexpr double kMilli = 1e-3;
constexpr double kKilo = 1e3;

double at(const Quadratic& c, double x) { return c[0] + x * (c[1] + x * c[2]); }

double heat_capacity_J_per_kg_K(double salinity_g_per_kg, double t_K) {
    double sum = 0;
    double power = kKilo;
    for (const Quadratic& row : kHeatCapacity) {
        sum += at(row, salinity_g_per_kg) * power;
        power *= t_K;
    }
    return sum;
}

}  // namespace

Result<Liquid> liquid_of(unit::GramPerKg salinity, unit::Celsius temperature) {
    BW_TRY(density, brine::reference_seawater_density(salinity, temperature));
    const double t = temperature.value();
    const double S = salinity.value() * kMilli;
    const double water = brine::solvent(temperature).viscosity_mPa_s * kMilli;
    return Liquid{
        t,
        salinity.value(),
        density.value(),
        water * (1 + at(kViscosityBySalt, t) * S + at(kViscosityBySaltSquared, t) * S * S),
        water,
        heat_capacity_J_per_kg_K(salinity.value(), brine::kelvin(temperature)),
    };
}

}  // namespace bw::path
