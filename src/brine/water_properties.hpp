// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "brine/estimate.hpp"
#include "matter/constituent.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// A salt by its composition, at any strength: what pure water added or taken makes of one water.
///
/// Definition   amounts(w) = direction * w, direction the amounts per g of dissolved mass.
/// Inputs       strength w in g of dissolved mass per kg of solution, temperature in degC.
/// Valid        0 to 300 g/kg, 0 to 40 degC; 0 gives pure water.
/// Accuracy, sources, deviations: of density, conductivity_mS_per_cm and refractive_index.
/// Errors       OutOfRange.
class SaltCurve {
public:
    /// From any water of the salt.
    ///
    /// Errors   OutOfRange when it holds no dissolved mass or is no water (see dissolved_ions).
    [[nodiscard]] static Result<SaltCurve> of(const matter::Amounts& mol_per_kg);
    /// Natural sea salt: Reference-Composition Seawater.
    [[nodiscard]] static SaltCurve natural();

    [[nodiscard]] matter::Amounts amounts(unit::GramPerKg strength) const;
    [[nodiscard]] Result<Estimate> density(unit::GramPerKg strength, unit::Celsius t) const;
    [[nodiscard]] Result<Estimate> conductivity_mS_per_cm(unit::GramPerKg strength,
                                                          unit::Celsius t) const;
    [[nodiscard]] Result<Estimate> refractive_index(unit::GramPerKg strength,
                                                    unit::Celsius t) const;

    // Inverses: strength at which the water has the property at t, to 1e-9 g/kg.
    // Errors: OutOfRange when no strength from 0 to the highest has it. A conductivity is sought
    // from 0 to 200 g/kg, where it still rises for sea salts; with two solutions the lower.
    [[nodiscard]] Result<unit::GramPerKg> strength_of_density(unit::KgPerM3 density,
                                                              unit::Celsius t) const;
    [[nodiscard]] Result<unit::GramPerKg> strength_of_conductivity(double kappa_mS_per_cm,
                                                                   unit::Celsius t) const;
    [[nodiscard]] Result<unit::GramPerKg> strength_of_refractive_index(double index,
                                                                       unit::Celsius t) const;

private:
    explicit SaltCurve(matter::Amounts per_gram) : per_gram_(std::move(per_gram)) {}
    matter::Amounts per_gram_;  ///< mol per g of dissolved mass
};

/// All that instruments see of one water, and the practical salinity of the natural seawater that
/// would show each of them the same.
struct WaterProperties {
    unit::GramPerKg dissolved;
    double ionic_strength_mol_per_kg_water = 0;
    Estimate density_kg_per_m3;
    Estimate conductivity_mS_per_cm;
    Estimate refractive_index;
    double thermal_expansion_per_K = 0;
    unit::PracticalSalinity salinity_by_mass;  ///< dissolved mass / (35.16504/35 g/kg)
    std::optional<unit::PracticalSalinity> salinity_by_density;
    std::optional<unit::PracticalSalinity> salinity_by_conductivity;  ///< to 60
    std::optional<unit::PracticalSalinity> salinity_by_refractive_index;
    double gram_per_kg_by_conductivity = 0;  ///< g/kg for each unit of the former, 0 when unknown
};

/// Definition   see the struct. Equivalents by inverting the natural SaltCurve, by PSS-78 for
///              conductivity.
/// Inputs       mol (eq) per kg of solution, temperature in degC. Valid 0 to 300 g/kg, 0 to 40
/// degC. Accuracy     of the properties, divided by the slopes 0.755 kg/m3, 1.35 mS/cm, 1.81e-4 per
/// S. Errors       OutOfRange. Source of each property. Deviates none. Complexity some 30
/// evaluations.
[[nodiscard]] Result<WaterProperties> water_properties(const matter::Amounts& mol_per_kg,
                                                       unit::Celsius temperature);

}  // namespace bw::brine
