// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "unit/quantity.hpp"

namespace bw::brine {

/// Pure water at one atmosphere, as the laws of electrolytes need it.
///
/// Definition   dielectric constant and its change with pressure [bradley-pitzer-1979]; density as
///              pure_water_density; compressibility from the secant bulk modulus [unesco-44];
///              viscosity [patek-2009]; from these the inverse screening length and the
///              limiting slope of volumes by the law of Debye and Hueckel.
/// Inputs       temperature in degC. Valid 0 to 40 degC, which the caller sees to.
/// Accuracy     dielectric constant 0.1, limiting slope 2 %, viscosity 0.2 %.
/// Errors       aborts outside 0 to 40 degC. Deviates none. Complexity closed form.
struct Solvent {
    double t_K;
    double density_kg_per_m3;
    double dielectric_constant;
    double screening_per_angstrom;  ///< B: times sqrt(I) it is the inverse screening length
    double volume_slope;            ///< A_V [cm3/mol (kg/mol)^0.5]
    double born_per_bar;            ///< Q = (d eps/dp) / eps^2
    double viscosity_mPa_s;
    double viscosity_at_25_mPa_s;
};
[[nodiscard]] Solvent solvent(unit::Celsius temperature);

}  // namespace bw::brine
