// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Conductivity of seawater of practical salinity 35 at 15 degC (IPTS-68), one atmosphere [mS/cm].
inline constexpr double kConductivityAt35_mS_per_cm = 42.914;  // [culkin-smith-1980]

/// Reference salinity per practical salinity [g/kg], and the inverse.
inline constexpr double kGramPerKgPerPracticalSalinity = 35.16504 / 35;  // [millero-2008]
inline constexpr double kPracticalSalinityPerGramPerKg = 35 / 35.16504;

struct SalinityReading {
    unit::PracticalSalinity salinity;
    bool extrapolated = false;  ///< outside S 0 to 42 or t -2 to 35 degC
};
struct ConductivityReading {
    double kappa_mS_per_cm = 0;
    bool extrapolated = false;
};

/// Practical salinity from conductivity at one atmosphere, PSS-78.
///
/// Definition   S = sum a_i R_t^(i/2) + (t - 15)/(1 + k (t - 15)) sum b_i R_t^(i/2), t on IPTS-68,
///              R_t the ratio to the conductivity at S = 35 and the same temperature. Below S = 2
///              the term of Hill et al. is taken off, and the whole scaled to be 2 where PSS-78
///              is 2, so that there is no step.
/// Inputs       conductivity in mS/cm at the temperature of the water, not compensated to 25 degC;
///              temperature in degC (ITS-90).
/// Valid        S 2 to 42, -2 to 35 degC by PSS-78; S 0 to 2 by [hill-1986], 0 to 35 degC. The
///              same polynomial is run on to S 60 and 40 degC, flagged: good to 0.05 at S 60.
/// Accuracy     0.002 in S within PSS-78.
/// Errors       OutOfRange.
/// Source       [unesco-44]; [hill-1986]; conductivity at S = 35 [culkin-smith-1980].
/// Deviates     pressure is one atmosphere; extrapolation, see above.
/// Complexity   closed form, one root for S < 2.
[[nodiscard]] Result<SalinityReading> salinity_of_conductivity(double conductivity_mS_per_cm,
                                                               unit::Celsius temperature);

/// Conductivity of seawater of a practical salinity: the inverse of the above, to 1e-12 in R_t.
///
/// Definition, range, errors, source, deviations: as above. Complexity: one root.
[[nodiscard]] Result<ConductivityReading> conductivity_of_salinity(unit::PracticalSalinity salinity,
                                                                   unit::Celsius temperature);

/// Practical salinity of a conductivity ratio R(S, t, p), pressure in dbar above one atmosphere.
///
/// Definition   PSS-78 as above with R_t = R / (R_p r_t). For the published check values; without
///              the term of Hill et al.
/// Inputs       ratio to the conductivity of S 35 at 15 degC (IPTS-68), temperature in degC on
///              IPTS-68, pressure in dbar. Valid S 2 to 42, -2 to 35 degC, 0 to 10000 dbar; not
///              checked.
/// Accuracy     as printed. Errors none. Source [unesco-44]. Deviates none.
[[nodiscard]] double salinity_of_ratio(double ratio, double t68_degC, double pressure_dbar);

}  // namespace bw::brine
