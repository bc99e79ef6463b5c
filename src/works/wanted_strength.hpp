// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "base/result.hpp"
#include "matter/constituent.hpp"
#include "works/test_portion.hpp"

namespace bw::works {

/// How strong the finished water is to be: its dose, and the practical salinity that each way of
/// measuring shows of it. A salt that is not natural sea salt shows another one by each.
struct WantedStrength {
    double g_per_kg_water = 0;  ///< of blend per kg of purified water
    double by_conductivity = 0, by_density = 0, by_chlorinity = 0;
    double u_conductivity = 0, u_density = 0;  ///< relative, of the models behind the readings

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("g_per_kg_water", x.g_per_kg_water);
        v("by_conductivity", x.by_conductivity);
        v("by_density", x.by_density);
        v("by_chlorinity", x.by_chlorinity);
        v("u_conductivity", x.u_conductivity);
        v("u_density", x.u_density);
    }
};

/// That of a water, by its amounts.
///
/// Definition   at 25 degC. Conductivity: PSS-78 of the water's conductivity. Density: salinity of
///              the natural seawater that is as dense. Chlorinity: 1.80655 times it.
/// Inputs       mol (eq) per kg of finished water; the dose, above 0.
/// Valid        practical salinity 2 to 60 by each.
/// Accuracy     u_conductivity and u_density, from brine::conductivity_mS_per_cm and
///              brine::density; a chlorinity has none of its own.
/// Errors       OutOfRange, also for charges that differ by more than 1 %: something is missing.
/// Source       brine::water_properties, matter::chlorinity_g_per_kg; [dickson-2007-guide] for the
///              factor.
[[nodiscard]] Result<WantedStrength> wanted_strength(const matter::Amounts& water,
                                                     double g_per_kg_water);

/// Of a water that every way shows the same practical salinity of.
[[nodiscard]] WantedStrength natural_strength(double practical_salinity, double g_per_kg_water);

/// The practical salinity that the way shows of the wanted water; with dry mass, density's.
[[nodiscard]] double reading(const WantedStrength& wanted, StrengthBy by);

/// "conductivity shows the practical salinity 34.90, density 35.06 and chlorinity 34.98".
[[nodiscard]] std::string shown_words(const WantedStrength& wanted);

/// How strong a portion is beside the wanted water.
struct Strength {
    double ratio = 1;       ///< found over wanted: every element of the portion is divided by it
    double u_relative = 0;  ///< shared by every element of the portion
};

/// Definition   practical salinity found over that which the same way shows of the wanted water; or
///              the share of dry mix in the solution over that of the wanted dose. u holds that of
///              the reading and of the model behind it.
/// Accuracy     a reading's ratio stands for that of the strengths within 0.05 % from 0.8 to 1.2
///              (measured for raised salts, WantedStrengths tests).
/// Source       mass balance; propagation [jcgm-100].
[[nodiscard]] Strength strength_of(const TestPortion& portion, const WantedStrength& wanted);

/// Density of the portion's solution in kg/L at its temperature.
///
/// Definition   as measured, or that of the natural seawater that is as dense as the wanted water,
///              times the ratio of strengths. Errors OutOfRange.
[[nodiscard]] Result<double> density_of(const TestPortion& portion, const WantedStrength& wanted);

}  // namespace bw::works
