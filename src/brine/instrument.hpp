// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.hpp"
#include "brine/salt_law.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Linear compensation of a conductivity meter: shown = conductivity / (1 + a (t - reference)).
struct Compensation {
    unit::Celsius reference{25};
    double per_kelvin = 0.02;  ///< a, parts per kelvin
};

/// Shows mS/cm: at the temperature of the water, or brought to a reference temperature.
struct ConductivityMeter {
    std::optional<Compensation> compensation;
};
/// Works out practical salinity by PSS-78 from its own conductivity and temperature.
struct SalinityMeter {};

/// Zeroed in pure water. With compensation it shows what it would at 20 degC; without, the water
/// was zeroed at `zeroed_at` and is read at its own temperature.
struct Refractometer {
    enum class Dial { NaclGramPerKg, NaclGramPerLitre, NaclSpecificGravity, Seawater, Index };
    Dial dial = Dial::NaclGramPerKg;
    bool compensated = true;
    unit::Celsius zeroed_at{20};
};

/// Shows density at t over density of water at `over`; without `over`, kg/m3. Its glass has its
/// right volume at `marked_at`.
struct Hydrometer {
    unit::Celsius marked_at{20};
    std::optional<unit::Celsius> over = unit::Celsius(20);
    double glass_expansion_per_kelvin = 25e-6;  ///< cubic; [iso-1768]
};
/// Shows kg/m3 at the temperature of the water.
struct DensityMeter {};
/// Shows the dissolved g per kg that was weighed in, see weighed_in().
struct WeighedIn {};

using Instrument = std::variant<ConductivityMeter, SalinityMeter, Refractometer, Hydrometer,
                                DensityMeter, WeighedIn>;

[[nodiscard]] std::string_view kind_of(const Instrument& instrument);  ///< "hydrometer"
[[nodiscard]] std::string_view unit_of(const Instrument& instrument);  ///< "mS/cm", or empty
/// "hydrometer marked 20/20".
[[nodiscard]] std::string describe(const Instrument& instrument);

/// Standard uncertainties of one reading, in the unit shown (relative ones: parts of it).
struct ReadingUncertainty {
    double shown = 0;        ///< reading the scale, repeatability
    double standard = 0;     ///< of the fluid or the zero that the instrument was set with
    double temperature = 0;  ///< degC
};
/// What an ordinary instrument of the kind has when nothing is known of the one at hand.
///
/// Inputs   the instrument and what it shows.
/// Accuracy estimates: limits of trade instruments taken as even distributions.
/// Source   common practice; [jcgm-100] 4.3.7 for limits.
[[nodiscard]] ReadingUncertainty usual_uncertainty(const Instrument& instrument, double shown);

struct Reading {
    Instrument instrument;
    double shown = 0;
    unit::Celsius temperature{25};  ///< of the water
    ReadingUncertainty u;
};

/// The dissolved mass that weighing in gives, with the uncertainty in Reading::u.shown.
///
/// Definition   w = f salt / (salt + water).
/// Inputs       masses in one unit; f = share of the blend that is salt free of water, 0 to 1;
///              relative standard uncertainty of each mass, absolute one of f.
/// Errors       OutOfRange for a mass or share that is not above 0.
[[nodiscard]] Result<Reading> weighed_in(double salt, double water, double anhydrous_fraction,
                                         double u_mass_part, double u_fraction);

/// What the instrument shows in water of this salt, without any fault of its own.
///
/// Definition   conductivity meter: kappa / (1 + a (t - t_ref)). Hydrometer:
///              rho (1 + beta (t - t1)) / rho_w(t2). Refractometer on a dial of sodium chloride:
///              the brine whose index exceeds water's by as much as this water's does.
/// Inputs       g per kg of solution, degC.
/// Valid        where the law is.
/// Accuracy     of the law; dials of sodium chloride 0.3 g/kg more, for two laboratories' data are
///              set against one another.
/// Errors       OutOfRange.
/// Source       [iso-1768] for glass; [crc-brine-index] for the dials.
/// Deviates     compensated refractometers are taken at 20 degC, as if compensation were perfect.
/// Complexity   one to three evaluations of the law.
[[nodiscard]] Result<double> expected_reading(const SaltLaw& law, const Instrument& instrument,
                                              unit::GramPerKg dissolved, unit::Celsius temperature);

/// One cause of uncertainty of a converted reading.
struct BudgetPart {
    std::string_view name;  ///< "reading", "standard", "temperature", "formula", "composition"
    double g_per_kg = 0;    ///< standard uncertainty
};
struct Converted {
    unit::GramPerKg dissolved;
    unit::PracticalSalinity practical_salinity;
    double u_g_per_kg = 0;  ///< standard uncertainty, root of the sum of squares of the parts
    std::vector<BudgetPart> budget;
};

/// From what an instrument shows to the dissolved mass.
///
/// Definition   the dissolved mass whose expected_reading is the one shown; u by the law of
///              propagation, parts taken as independent.
/// Valid        0 to the highest dissolved mass of the law.
/// Accuracy     root found to 1e-9 g/kg; u as stated by the budget.
/// Errors       OutOfRange, with what the instrument would show at both ends.
/// Source       [jcgm-100] 5.1.2.
/// Deviates     none.
/// Complexity   some twenty evaluations of the law.
[[nodiscard]] Result<Converted> convert(const SaltLaw& law, const Reading& reading);

/// The dissolved mass at which a property of the law takes a value, by bracketing; for waters that
/// must imitate another.
/// Errors   OutOfRange.
[[nodiscard]] Result<unit::GramPerKg> dissolved_showing(const SaltLaw& law,
                                                        const Instrument& instrument, double shown,
                                                        unit::Celsius temperature);

}  // namespace bw::brine
