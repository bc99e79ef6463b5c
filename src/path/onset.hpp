// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>

#include "path/crystals.hpp"
#include "path/growth.hpp"
#include "unit/quantity.hpp"

namespace bw::path {

/// A water as the onset of calcium carbonate without seed sees it.
struct OnsetWater {
    double omega_aragonite = 0;
    unit::Celsius temperature{22};
    /// Molality over that of seawater at salinity 35.
    double magnesium_share = 1, sulfate_share = 1;
    double magnesium_per_calcium = 5.14;  ///< mol/mol
    /// How much foreign particles quicken the onset: 1 in clean water, 10 with fine lime (an
    /// assumption).
    double particles = 1;
    bool particles_known = true;  ///< false: dust that nobody has looked at
};

/// Molalities [mol per kg of water] over those of seawater at salinity 35.
[[nodiscard]] double magnesium_share(double mol_per_kg_water);
[[nodiscard]] double sulfate_share(double mol_per_kg_water);

/// When the first loss can be seen.
struct Onset {
    double hours = 0;   ///< infinite where Omega is at most 1
    double factor = 5;  ///< hours are trusted within a factor of this, at best
    bool within_a_year = false;
    CarbonateSolid solid = CarbonateSolid::Aragonite;
    bool in_evidence = false;  ///< saturation and temperature are among those of the experiments
};
inline constexpr double kHoursPerYear = 8760;

/// Time until calcium carbonate falls out of a water without seed of it.
///
/// Definition   log10 t[h] = -0.89 + 15.85 / (ln Omega)^2 at 22 degC, of aragonite; over
///              quickening() with 71 kJ/mol (assumed), over `particles`, times delay(). Calcite
///              falls where there is less than 2 Mg per Ca.
/// Inputs       see OnsetWater; particles at least 1.
/// Valid        in_evidence: Omega 5 to 30 and 19 to 25 degC. More than a year is said as such: at
///              Omega 5 the law gives nineteen years, which nobody has watched.
/// Accuracy     a factor of 5, of 10 with unknown particles. The law goes through two observations
///              alone: some 600 h at Omega 8 [suessle-2025] and 3 h at Omega 30 [ringham-2024];
///              provisional. docs/validation/kinetics.md scores it. Natural waters hold organic
///              matter and phosphate, which delay; a fresh mix has little, and may be earlier.
///              Brucite and gypsum have no law: they count as falling where they are saturated,
///              and brucite comes first in water above pH 10.
/// Errors       none.
/// Source       form: classical nucleation; 2 Mg per Ca: common practice of sedimentology.
[[nodiscard]] Onset onset(const OnsetWater& water);

/// One over the hours of onset(); 0 where Omega is at most 1. In a water that changes the onset
/// comes when the integral of this over time is 1.
[[nodiscard]] double onset_per_h(const OnsetWater& water);

/// How many times later than in a water with neither, for the shares of magnesium and sulfate.
///
/// Definition   29.2 with magnesium alone, 12.4 with sulfate alone, 39.8 with both; logarithms run
///              straight (both: bilinear) in the shares, which count up to 1.
/// Accuracy     the three ratios of one work, in a concentrate with twice seawater's magnesium;
///              what lies between is an assumption.
/// Source       [waly-2012].
[[nodiscard]] double delay(double magnesium_share, double sulfate_share);

/// The hour at which the integral of a rate over time reaches 1, the rate running straight between
/// the hours given; nothing when it does not.
/// Inputs   hours rising, rates [1/h] at least 0, as many as hours.
[[nodiscard]] std::optional<double> onset_hour(std::span<const double> hours,
                                               std::span<const double> per_h);

/// The crystals with which growth starts at the onset: 0.3 mg/kg, the loss that one work could
/// detect [waly-2012], as fine as seed. An assumption.
[[nodiscard]] Crystals crystals_at_onset(CarbonateSolid solid);

}  // namespace bw::path
