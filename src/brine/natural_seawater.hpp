// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "brine/salt_law.hpp"

namespace bw::brine {

/// Natural seawater, or a synthetic salt taken for it.
///
/// Definition   practical salinity is dissolved mass times 35/35.16504; density by EOS-80;
///              conductivity by PSS-78 read backwards; refractive index by Millard and Seaver.
/// Inputs       g per kg of solution, degC (ITS-90).
/// Valid        practical salinity 0 to 42; density 0 to 40, conductivity 0 to 35, refractive
///              index 0 to 30 degC.
/// Accuracy     density 0.004 kg/m3; conductivity 0.01 %; refractive index 1.8e-5 (0.1 of
///              salinity), less when the instrument was zeroed in pure water. A synthetic salt
///              of the same dissolved mass differs more, see composition().
/// Errors       OutOfRange.
/// Source       [millero-2008], [millero-poisson-1981], [unesco-44], [hill-1986],
///              [culkin-smith-1980], [millard-seaver-1990].
/// Deviates     the index is stated for salinity up to 40: up to 42 it is run on.
class NaturalSeawater final : public SaltLaw {
public:
    enum class Composition {
        Reference,  ///< the water is seawater
        Synthetic,  ///< a synthetic salt near it, its composition not told
    };
    explicit NaturalSeawater(Composition composition = Composition::Synthetic)
        : composition_(composition) {}
    [[nodiscard]] std::string_view name() const override { return "natural seawater"; }
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
    [[nodiscard]] LawUncertainty composition() const override;

private:
    Composition composition_;
};

/// Practical salinity of a conductivity at one atmosphere, PSS-78.
///
/// Inputs   mS/cm, degC (ITS-90).
/// Valid    0 <= S <= 42, 0 <= t <= 35 degC; below 2 with the term of [hill-1986].
/// Accuracy reproduces the printed check values to their last digit.
/// Errors   OutOfRange.
/// Source   [unesco-44], [hill-1986]; conductivity at 35, 15 degC: [culkin-smith-1980].
[[nodiscard]] Result<unit::PracticalSalinity> meter_salinity(double conductivity_mS_per_cm,
                                                             unit::Celsius temperature);

/// The conductivity that PSS-78 gives a practical salinity for, mS/cm. As meter_salinity.
[[nodiscard]] Result<double> meter_conductivity(unit::PracticalSalinity salinity,
                                                unit::Celsius temperature);

}  // namespace bw::brine
