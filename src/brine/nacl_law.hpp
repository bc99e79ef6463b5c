// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "brine/salt_law.hpp"

namespace bw::brine {

/// Up to which NaclBrine is known, and dials and fluids of it go [g/kg].
inline constexpr double kHighestBrineGramPerKg = 55;

/// Solutions of sodium chloride in pure water.
///
/// Definition   the functions of nacl_brine.hpp.
/// Inputs       g per kg of solution, degC (ITS-90).
/// Valid        0 to 55 g/kg; density 0 to 40, refractive index 0 to 30, conductivity 10 to 35
///              degC.
/// Accuracy     density 0.02 kg/m3; refractive index 3e-5 at 20 degC; conductivity 0.5 %
///              (nacl_conductivity_0p5_percent_at_20 in test/check says why a table is lower).
/// Errors       OutOfRange.
/// Source       as nacl_brine.hpp.
/// Deviates     none.
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
/// Inputs   g per kg of solution, 0 to 100. Accuracy 3e-5. Source [crc-brine-index].
[[nodiscard]] Result<double> nacl_index_increment_20(unit::GramPerKg dissolved);

}  // namespace bw::brine
