// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "brine/salt_law.hpp"

namespace bw::brine {

/// Solutions of sodium chloride in pure water.
///
/// Definition   density rho_w + A m + B m^1.5 + C m^2 + D m^2.5 with the molality m; refractive
///              index at 20 degC a quadratic of the mass fraction, elsewhere that of water at the
///              temperature plus the same increment, scaled as seawater's increment goes;
///              conductivity a polynomial fitted to a transport model.
/// Inputs       g per kg of solution, degC (ITS-90).
/// Valid        0 to 55 g/kg; density 0 to 40, refractive index 0 to 30, conductivity 10 to 35
///              degC.
/// Accuracy     density 0.02 kg/m3; refractive index 3e-5 at 20 degC (2e-4 of the value's
///              increment more for each kelvin from there, estimated); conductivity 0.5 % from 10
///              to 50 g/kg, 1 % below.
/// Errors       OutOfRange.
/// Source       [losurdo-1982]; [crc-102] for the refractive index; [appelo-2017] computed with
///              [parkhurst-appelo-2013] for the conductivity.
/// Deviates     density is stated for m >= 0.1: below, the equation is run on to 0, where it is
///              exact.
class NaclBrine final : public SaltLaw {
public:
    [[nodiscard]] std::string_view name() const override { return "sodium chloride brine"; }
    [[nodiscard]] Result<double> density_kg_per_m3(unit::GramPerKg dissolved,
                                                   unit::Celsius temperature) const override;
    [[nodiscard]] Result<double> conductivity_mS_per_cm(unit::GramPerKg dissolved,
                                                        unit::Celsius temperature) const override;
    [[nodiscard]] Result<double> refractive_index(unit::GramPerKg dissolved,
                                                  unit::Celsius temperature) const override;
    /// By its conductivity at 25 degC, for that is where salinometers of the trade stand.
    [[nodiscard]] Result<unit::PracticalSalinity> practical_salinity_of(
        unit::GramPerKg dissolved) const override;
    [[nodiscard]] unit::GramPerKg highest() const override;
    [[nodiscard]] LawUncertainty formula() const override;
    [[nodiscard]] LawUncertainty composition() const override { return {}; }
};

/// What the refractive index of a sodium chloride solution exceeds that of water by, at 20 degC.
/// Inputs   g per kg of solution, 0 to 100. Accuracy 3e-5. Source [crc-102].
[[nodiscard]] double nacl_index_increment_20(unit::GramPerKg dissolved);

}  // namespace bw::brine
