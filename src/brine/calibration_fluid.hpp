// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/notice.hpp"
#include "brine/instrument.hpp"

namespace bw::brine {

/// The potassium chloride standard of practical salinity: stands for 35 at 15 degC (IPTS-68).
inline constexpr double kKclStandardGramPerKg = 32.4356;  // [unesco-44]

enum class FluidSalt { SodiumChloride, PotassiumChloride };

/// The salt as weighed: assay of the dried salt, water in it, both by mass.
struct WeighedSalt {
    FluidSalt salt = FluidSalt::SodiumChloride;
    double assay = 1, u_assay = 0;
    double moisture = 0, u_moisture = 0;
};

struct CalibrationFluid {
    unit::GramPerKg strength;  ///< of the pure salt, per kg of fluid
    double salt_g = 0;         ///< as weighed
    double water_g = 0;
    double u_salt_g = 0;  ///< of both, from assay and moisture: which masses make the strength
    double shows = 0;     ///< what the instrument must show in it
    double u_strength_g_per_kg = 0;
    /// Standard uncertainty of the dissolved mass of this salt that the fluid stands for.
    double u_stands_for_g_per_kg = 0;
    std::vector<BudgetPart> budget;  ///< of the latter
    double buoyancy_g_per_kg = 0;    ///< what weighing in air without correction adds to strength
    base::Notices notices;
};

/// What to weigh for a fluid in which one instrument shows what it shows in this salt's water.
///
/// Definition   the strength at which the fluid's index (refractometer), density (hydrometer,
///              density meter) or conductivity (meters) equals that of the water at the
///              temperature.
/// Inputs       the law of the salt, the instrument, g per kg of the water imitated, temperature
///              of both, the weighed salt, g of fluid wanted, relative standard uncertainty of a
///              weighing.
/// Valid        sodium chloride 0 to 55 g/kg; potassium chloride 15 to 30 degC, conductivity only.
/// Accuracy     stated by the budget: conductivity 0.5 % for sodium chloride, 0.15 % for
///              potassium chloride; density 0.02 kg/m3; index 0.3 g/kg.
/// Errors       OutOfRange, BadInput for an instrument that cannot be set so.
/// Source       of NaclBrine; [pratt-2001], [culkin-smith-1980].
/// Deviates     none.
[[nodiscard]] Result<CalibrationFluid> calibration_fluid(
    const SaltLaw& law, const Instrument& instrument, unit::GramPerKg dissolved,
    unit::Celsius temperature, const WeighedSalt& salt, double fluid_g, double u_weighing_part);

/// Conductivity of potassium chloride solutions.
///
/// Definition   conductivity over molality, a quadratic of the molality's root through 0.01, 0.1
///              and 1 mol/kg; between temperatures a cubic; scaled so that
///              32.4356 g/kg has that of seawater of 35 at 15 degC (IPTS-68).
/// Inputs       g per kg of solution, degC.
/// Valid        0.8 to 69 g/kg, 15 to 30 degC. Accuracy 0.15 %.
/// Errors       OutOfRange.
/// Source       [pratt-2001]; [unesco-44].
[[nodiscard]] Result<double> kcl_conductivity_mS_per_cm(unit::GramPerKg dissolved,
                                                        unit::Celsius temperature);

}  // namespace bw::brine
