// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "assay/titrated_amount.hpp"
#include "unit/quantity.hpp"

namespace bw::assay {

/// What the dissolved mix is brought to its goal by.
enum class NormalisedBy : std::uint8_t { Conductivity, Density, Chlorinity, DryMass };
[[nodiscard]] std::string_view name(NormalisedBy by);

/// How strong the tested solution is beside the goal: all elements of the sample are divided by it.
struct Normaliser {
    NormalisedBy by = NormalisedBy::Conductivity;
    double ratio = 1;     ///< found over goal
    double u_ratio = 0;   ///< standard uncertainty of it; shared by every element of the sample
    double salinity = 0;  ///< found, practical; 0 of DryMass
};

/// Practical salinity as found, against the goal. Errors BadInput.
[[nodiscard]] Result<Normaliser> normaliser_of_conductivity(const Known& practical_salinity,
                                                            double goal = 35);
/// The salinity at which seawater has this density.
///
/// Inputs   density in kg/m3 at the temperature. Valid salinity 0 to 42, of seawater's ratios.
/// Errors   BadInput, OutOfRange. Source brine::seawater_density.
[[nodiscard]] Result<Normaliser> normaliser_of_density(const Known& kg_per_m3,
                                                       unit::Celsius temperature, double goal = 35);
/// S = 1.80655 Cl, Cl in g/kg. Errors BadInput. Source [unesco-44].
[[nodiscard]] Result<Normaliser> normaliser_of_chlorinity(const Known& g_per_kg, double goal = 35);
/// The share of dry mix in the solution over that of the wanted dose.
///
/// Inputs   g of mix and of water weighed; the goal in g of mix per kg of water.
[[nodiscard]] Result<Normaliser> normaliser_of_dry_mass(const Known& mix_g, const Known& water_g,
                                                        double goal_g_per_kg_water);

/// How much the tested solution was diluted before the instrument, by mass or by volume alike.
struct Dilution {
    Known taken{1, 0};  ///< of the solution
    Known made{1, 0};   ///< to which it was made up, same unit
};

/// A reading of an instrument on the diluted solution.
struct ElementReading {
    std::string element;
    Known mg_per_L;                 ///< of the diluted solution
    Known blank_mg_per_L;           ///< of the same, without sample
    double limit_mg_per_L = 0;      ///< of determination, of the diluted solution; 0: none stated
    bool below_limit = false;       ///< as the instrument gave it
    double freedom = kManyFreedom;  ///< of the reading's u
};

/// An element of the dissolved mix.
struct DissolvedResult {
    std::string element;
    bool below_limit = false;  ///< then the numbers are upper limits, and no more
    Known mg_per_L;            ///< of the solution
    Known mg_per_kg;
    double at_goal_mg_per_kg = 0;  ///< divided by the normaliser's ratio
    double u_own_relative = 0;     ///< of this element alone: reading and blank
    double u_common_relative = 0;  ///< of dilution, density and normaliser, shared by all
    std::vector<BudgetInput> inputs;
    Budget budget;  ///< of at_goal_mg_per_kg
};

/// From readings to the dissolved mix at its goal.
///
/// Definition   c = (reading - blank) made/taken/density/ratio. Shared by all elements: all but
///              reading and blank, so that the covariance of two elements is c_i c_j u_common^2
///              and a pattern test does not take one salinity for many errors. Below limit: the
///              limit through the same arithmetic, kept as an upper limit, never as a value.
/// Inputs       density of the solution in kg/L as it was taken by volume (given, or of the brine
///              room), above 0; a dilution by mass needs the diluted reading in mg/L with the
///              diluted solution's density: state it as the density.
/// Errors       BadInput.
/// Source       mass balance; propagation [jcgm-100].
[[nodiscard]] Result<std::vector<DissolvedResult>> dissolved_results(
    const std::vector<ElementReading>& readings, const Dilution& dilution,
    const Known& density_kg_per_L, const Normaliser& normaliser);

/// The goal's mg/L: mg/kg times seawater's density at that salinity and temperature.
[[nodiscard]] Result<double> at_goal_mg_per_L(const DissolvedResult& result,
                                              unit::PracticalSalinity goal,
                                              unit::Celsius temperature);

}  // namespace bw::assay
