// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/notice.hpp"
#include "base/result.hpp"
#include "path/liquid.hpp"
#include "unit/quantity.hpp"

namespace bw::path {

/// Schmidt number nu/D of carbon dioxide in seawater of salinity 35.
///
/// Definition   polynomial of the fourth degree in t; 668 at 20 degC. Valid -2 to 40 degC.
/// Accuracy     not stated by the source. Errors OutOfRange. Source [wanninkhof-2014].
[[nodiscard]] Result<double> co2_schmidt_number(unit::Celsius temperature);

/// A film coefficient k_L known at one Schmidt number, at another: k_L (Sc / Sc_known)^(-1/2), the
/// power of a moving surface [wanninkhof-2014].
[[nodiscard]] double film_coefficient_at(double film_coefficient, double known_schmidt,
                                         double schmidt);

inline constexpr double kUsualSchmidt = 660;  ///< CO2 at 20 degC, to which k_L is often given

/// Exchange coefficient k_L a of the water's surface for CO2 [1/h]: k_L over depth.
///
/// Inputs       k_L for Sc = 660 in m/h: still water 0.01 to 0.03, gently stirred 0.03 to 0.1,
///              strong pump 0.1 to 0.5 (orders of magnitude, from memory); mean depth in m;
///              temperature in degC.
/// Valid        k_L 0 to 5 m/h, depth 0.01 to 20 m, 0 to 40 degC. Accuracy a factor of 2 to 3,
///              that of k_L. Errors OutOfRange.
[[nodiscard]] Result<double> surface_exchange_per_h(double film_coefficient_m_per_h, double depth_m,
                                                    unit::Celsius temperature);

/// Air blown through the water.
struct AirStone {
    double air_volumes_per_h;          ///< air at the vat's temperature, per volume of water
    double submergence_m = 1;          ///< depth of the stone
    double oxygen_taken_per_m = 0.03;  ///< SOTE per m: coarse 0.03, fine 0.04 to 0.06, from memory
};

/// Exchange coefficient k_L a of an air stone for CO2 [1/h].
///
/// Definition   O2: kLa = SOTE (Q/V) rho_O2 / C_sat, rho_O2 = mass of oxygen in air. CO2, whose
///              bubbles fill up while they rise: kLa = (Q H/V) (1 - exp(-0.90 kLa_O2 V/(Q H))), H
///              the gas-liquid partition 1/(K0 rho R T). 0.90 is the ratio of the coefficients of
///              CO2 and O2 [aitchison-2007]. So Q H/V is the most that air can carry away.
/// Inputs       the stone; the water; K0 of CO2 in mol/(kg atm).
/// Valid        0 to 1000 volumes per hour, 0 to 10 m, SOTE of 0 to 0.2 per m and below 1 in all.
/// Accuracy     a factor of 1.5 to 2, that of SOTE (which is stated for pure water at 20 degC).
/// Errors       OutOfRange.
/// Source       oxygen saturation [garcia-gordon-1992].
[[nodiscard]] Result<double> air_stone_exchange_per_h(const AirStone& stone, const Liquid& liquid,
                                                      double k0_mol_per_kg_atm);

/// k_L a of CO2 from one measured with oxygen: times 0.90 [aitchison-2007].
///
/// Deviates   where bubbles do the work, oxygen's own does not show how they fill with CO2; use
///            air_stone_exchange_per_h.
[[nodiscard]] double co2_exchange_of_oxygen(double oxygen_exchange);

/// Partition of CO2 between gas and liquid, concentration over concentration: 1.31 at 22 degC,
/// S 35.
[[nodiscard]] double co2_gas_liquid_partition(double k0_mol_per_kg_atm, const Liquid& liquid);

/// Oxygen in water in equilibrium with air of one atmosphere [mol/kg].
///
/// Valid   salinity 0 to 42, 0 to 40 degC; used beyond 42 as it is. Accuracy 0.3 %, from memory.
/// Source  [garcia-gordon-1992].
[[nodiscard]] double oxygen_saturation_mol_per_kg(const Liquid& liquid);

/// How fast the water takes up CO2 [mol/kg/s]: k_L a (K0 pCO2 - [CO2]); negative where it gives
/// off.
///
/// Inputs   k_L a in 1/h, K0 in mol/(kg atm), pCO2 of the air in atm (less what fugacity takes off,
///          0.3 %), [CO2] in mol/kg, of solution or of water as K0 is. Errors none.
/// Deviates the reaction of CO2 with water and hydroxide in the film is left out: 3 to 4 % at 0.1
///          m/h and pH 7.6 to 8.2, 14 % at pH 9.0, but a factor of 1.6 to 3.3 in still water.
[[nodiscard]] double co2_uptake_mol_per_kg_s(double exchange_per_h, double k0_mol_per_kg_atm,
                                             double air_co2_atm, double co2_mol_per_kg);

/// Says when that reaction counts: pH above 8.6 and a k_L below 0.05 m/h.
[[nodiscard]] base::Notices gas_exchange_notices(double highest_ph_total,
                                                 double film_coefficient_m_per_h);

}  // namespace bw::path
