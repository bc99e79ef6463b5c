// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "base/result.hpp"
#include "path/dissolving_solid.hpp"
#include "path/liquid.hpp"

namespace bw::path {

/// How a vat is stirred.
struct Stirring {
    double power_W_per_kg = 0.1;      ///< mean over the water; 0.01 gentle, 1 strong
    double impeller_per_tank = 0.33;  ///< diameter of the impeller over that of the tank

    bool operator==(const Stirring&) const = default;
};

/// The film of water round a grain of one solid in one vat.
///
/// Definition   Sh = 2 + a d^(0.62 * 4/3) with a = 0.47 (eps^(1/3)/nu)^0.62 (d_s/D_T)^0.17 Sc^0.36
///              [levins-glastonbury-1972]; Sc = nu / D; D by Stokes and Einstein from 25 degC,
///              D T^-1 eta_water constant.
struct Film {
    double diffusion_m2_per_s;
    double schmidt;
    double kinematic_viscosity_m2_per_s;
    double stirred;  ///< a, m^-0.827
    double density_kg_per_m3;
    double saturation_kg_per_m3;
    double crust_slowing;

    /// Sherwood number of a grain that the eddies carry; 2 is a film as thick as the grain allows.
    [[nodiscard]] double sherwood(double diameter_m) const;
    /// How fast the radius shrinks [m/s], k (C_sat - C) / (rho crust_slowing) with k = D Sh / d; 0
    /// where the bulk holds C_sat or more: growth is not of this law.
    [[nodiscard]] double shrinking_m_per_s(double diameter_m, double bulk_kg_per_m3) const;
};

/// Makes the film.
///
/// Inputs       power 0 to 100 W/kg, impeller over tank above 0 to 1.
/// Accuracy     a factor of 2 on the time of a single suspended grain: the law's scatter, shapes
///              that are not spheres, diffusion in strong solution (up to 40 % below the ions' in
///              dilute water), solubility at 25 degC. Stokes and Einstein's rule is within 7 % of
///              the ions' own mobilities from 5 to 40 degC. Piles, lumps and grains that settle are
///              slower, attrition is faster.
/// Errors       OutOfRange. Deviates: the law's slip by settling is left out, which makes heavy
///              grains up to some two times slower than they are. Complexity closed form.
[[nodiscard]] Result<Film> film_of(const DissolvingSolid& solid, const Liquid& liquid,
                                   const Stirring& stirring);

/// Sherwood number of a grain that sinks through still water: 2 + 0.44 Re^0.5 Sc^0.38.
///
/// Inputs   Reynolds number by diameter and speed of sinking; Schmidt number. Valid Re of 0 to some
///          thousand. Source [levins-glastonbury-1972].
[[nodiscard]] double sinking_sherwood(double reynolds, double schmidt);

/// Grains of one size.
struct GrainClass {
    double diameter_m;  ///< as bought
    double mass_share;  ///< of the material; the shares of a material add up to 1

    bool operator==(const GrainClass&) const = default;
};

/// Seconds until a grain of the class is gone in a bulk that stays as it is; infinity in a bulk
/// that is saturated. Integral of d over Sh(d), by Simpson's rule on 200 intervals: within 1e-4
/// to 3 mm, 4e-4 to 1 cm.
[[nodiscard]] double seconds_to_dissolve(const Film& film, double diameter_m,
                                         double bulk_kg_per_m3 = 0);

/// Rate of the remaining mass fraction w = (d/d0)^3 of a class [1/s], never positive for w >= 0.
///
/// Definition   dw/dt = -6 (D Sh(d) / (rho d0^2)) (C_sat - C) w (w^2 + delta^2)^(-1/3) / crust,
///              d = d0 w^(1/3), delta = 1e-4. With delta = 0 this is the shrinking sphere,
///              -3 (k / (rho R0)) (C_sat - C) w^(2/3); its slope is infinite at w = 0, where it has
///              no single solution. With delta it is odd and Lipschitz: below w = delta the rest
///              falls off exponentially, to be taken for gone, and a w that the integrator puts
///              below 0 comes back.
/// Inputs       diameter as bought; w of 0 to 1, a little outside allowed; bulk concentration in kg
///              of the formula per m3.
/// Accuracy     of the film; delta changes the rate by 0.3 % at w = 1e-3, by 3e-5 at 0.01.
/// Errors       none.
[[nodiscard]] double mass_fraction_rate_per_s(const Film& film, double initial_diameter_m, double w,
                                              double bulk_kg_per_m3);

/// Classes of equal mass of a log-normal distribution by mass.
///
/// Definition   the quantiles at (i + 1/2)/n of ln d ~ N(ln d50, ln spread).
/// Inputs       median diameter 1e-6 to 0.05 m; spread = d84/d50, 1 to 5 (1: all alike); 1 to 50
///              classes. Errors OutOfRange.
/// Accuracy     the coarsest class of n = 8 and spread 2 is the 94th per cent: 1/16 of the mass is
///              coarser.
[[nodiscard]] Result<std::vector<GrainClass>> grains_about(double d50_m, double spread,
                                                           int classes = 8);

/// What lies between two sieves.
struct SieveCut {
    double lower_m, upper_m;  ///< openings
    double mass;              ///< any unit, the same for all
};
/// A class for each cut that is not empty, of the geometric mean of the openings (of half the upper
/// one when the lower is 0: the pan).
///
/// Errors   BadInput when a cut is not lower < upper, a mass negative, or all are 0.
[[nodiscard]] Result<std::vector<GrainClass>> grains_of_sieves(std::span<const SieveCut> cuts);

}  // namespace bw::path
