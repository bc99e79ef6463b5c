// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "base/result.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Standard uncertainties of what a law says of the three properties, in the property itself.
struct LawUncertainty {
    double density_kg_per_m3 = 0;
    double conductivity_part = 0;  ///< parts of the conductivity
    double refractive_index = 0;
};

/// One salt's waters: properties as functions of the dissolved mass and the temperature.
///
/// Definition   dissolved mass is g of dissolved salt, free of water, per kg of solution;
/// temperature is ITS-90; pressure one atmosphere.
/// Inputs       0 <= dissolved <= highest(); temperatures within the range of each law.
/// Accuracy     formula() for the equations themselves; composition() for how far the salt at hand
///              may differ from the one that the equations describe.
/// Errors       OutOfRange.
/// Source       that of each law.
/// Deviates     none. All properties must grow with the dissolved mass: instruments are read
///              backwards by bracketing.
class SaltLaw {
public:
    SaltLaw() = default;
    SaltLaw(const SaltLaw&) = delete;
    SaltLaw& operator=(const SaltLaw&) = delete;
    virtual ~SaltLaw() = default;

    /// As it reads in a sentence: "natural seawater".
    [[nodiscard]] virtual std::string_view name() const = 0;
    /// kg/m3.
    [[nodiscard]] virtual Result<double> density_kg_per_m3(unit::GramPerKg dissolved,
                                                           unit::Celsius temperature) const = 0;
    /// mS/cm, at the temperature itself.
    [[nodiscard]] virtual Result<double> conductivity_mS_per_cm(
        unit::GramPerKg dissolved, unit::Celsius temperature) const = 0;
    /// At the sodium D line (589.3 nm), relative to air.
    [[nodiscard]] virtual Result<double> refractive_index(unit::GramPerKg dissolved,
                                                          unit::Celsius temperature) const = 0;
    /// The practical salinity that a faultless salinometer shows for this water.
    [[nodiscard]] virtual Result<unit::PracticalSalinity> practical_salinity_of(
        unit::GramPerKg dissolved) const = 0;
    /// The highest dissolved mass that all properties are known for.
    [[nodiscard]] virtual unit::GramPerKg highest() const = 0;
    [[nodiscard]] virtual LawUncertainty formula() const = 0;
    [[nodiscard]] virtual LawUncertainty composition() const = 0;
};

/// The dissolved mass of this salt's water that a faultless salinometer shows the salinity for.
///
/// Inputs   practical salinity of 0 or more.
/// Errors   OutOfRange above what the law knows.
[[nodiscard]] Result<unit::GramPerKg> dissolved_of(const SaltLaw& law,
                                                   unit::PracticalSalinity salinity);

}  // namespace bw::brine
