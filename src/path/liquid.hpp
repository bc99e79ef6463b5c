// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "unit/quantity.hpp"

namespace bw::path {

/// What a grain, a bubble and a thermometer feel of the water.
struct Liquid {
    double t_degC;
    double salinity_g_per_kg;
    double density_kg_per_m3;
    double viscosity_Pa_s;
    double water_viscosity_Pa_s;  ///< of pure water at the same temperature
    double heat_capacity_J_per_kg_K;

    [[nodiscard]] double kinematic_viscosity_m2_per_s() const {
        return viscosity_Pa_s / density_kg_per_m3;
    }
};

/// Flow and heat properties of seawater at one atmosphere.
///
/// Definition   density [feistel-2008]; viscosity of pure water [patek-2009] times 1 + A S + B S^2,
///              A and B quadratic in t, S in kg/kg [sharqawy-2010]; heat capacity cubic in T with
///              coefficients quadratic in the salinity [jamieson-1969].
/// Inputs       dissolved salt in g per kg of solution, taken as sea salt; temperature in degC.
/// Valid        0 to 120 g/kg, 0 to 40 degC.
/// Accuracy     viscosity 1.5 %, heat capacity 0.3 %, density 0.01 kg/m3; a salt unlike sea salt
///              may add some per cent.
/// Errors       OutOfRange.
/// Deviates     salinity and temperature scales within 0.5 % and 0.02 K are taken as one.
[[nodiscard]] Result<Liquid> liquid_of(unit::GramPerKg salinity, unit::Celsius temperature);

}  // namespace bw::path
