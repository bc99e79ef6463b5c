// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "brine/salt_law.hpp"
#include "brine/water_properties.hpp"

namespace bw::brine {

/// The waters of one salt, known by its composition.
///
/// Definition   density, conductivity and refractive index of SaltCurve; practical salinity is what
///              its conductivity at 25 degC reads as.
/// Inputs       g per kg of solution, degC (ITS-90).
/// Valid        0 to 50 g/kg, 0 to 40 degC; above salinity 42 and outside 0 to 30 degC the
///              properties are extrapolated as their headers say.
/// Accuracy     formula() of natural seawater; composition() as the models state it at 35 g/kg,
///              25 degC.
/// Errors       OutOfRange.
/// Source       of the three models.
/// Deviates     none.
class CompositionLaw final : public SaltLaw {
public:
    /// Errors   OutOfRange when the water holds no dissolved mass.
    [[nodiscard]] static Result<CompositionLaw> of(const matter::Amounts& mol_per_kg,
                                                   std::string name);
    CompositionLaw(CompositionLaw&& other) noexcept
        : curve_(std::move(other.curve_)),
          name_(std::move(other.name_)),
          composition_(other.composition_) {}

    [[nodiscard]] std::string_view name() const override { return name_; }
    [[nodiscard]] Result<double> density_kg_per_m3(unit::GramPerKg dissolved,
                                                   unit::Celsius temperature) const override;
    [[nodiscard]] Result<double> conductivity_mS_per_cm(unit::GramPerKg dissolved,
                                                        unit::Celsius temperature) const override;
    [[nodiscard]] Result<double> refractive_index(unit::GramPerKg dissolved,
                                                  unit::Celsius temperature) const override;
    [[nodiscard]] Result<unit::PracticalSalinity> practical_salinity_of(
        unit::GramPerKg dissolved) const override;
    [[nodiscard]] unit::GramPerKg highest() const override;
    [[nodiscard]] LawUncertainty formula() const override;
    [[nodiscard]] LawUncertainty composition() const override { return composition_; }

private:
    CompositionLaw(SaltCurve curve, std::string name)
        : curve_(std::move(curve)), name_(std::move(name)) {}
    SaltCurve curve_;
    std::string name_;
    LawUncertainty composition_;
};

}  // namespace bw::brine
