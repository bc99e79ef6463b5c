// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "brine/estimate.hpp"
#include "matter/constituent.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Electrolytic conductivity of a water of any composition at one atmosphere [mS/cm].
///
/// Definition   kappa = kappa_PSS78(S, t) * model(composition) / model(natural of S), S that of
///              natural seawater of the same ionic strength (per kg of water), but 0.1 at least
///              (below, the low-salinity term no longer tends to a limiting conductivity) and 60 at
///              most. The ions of water itself (0.00006 mS/cm) are left out.
/// Inputs       mol (eq for alkalinity) per kg of solution; temperature in degC.
/// Valid        dissolved mass 0 to 300 g/kg, 0 to 40 degC; flagged where S is above 42 or the
///              temperature above 35 degC.
/// Accuracy     natural composition: as PSS-78. Else the standard uncertainty is returned: 0.01 %,
///              0.15 % for each g/kg in which the salt differs from natural (0.75 % for pure NaCl
///              of 35 g/kg, where models spread by 2.6 %), 0.02 % for each unit of S above 42,
///              half of what ions without a mobility could carry, and 0.001 mS/cm for the ions of
///              water and carbonic acid (2.5e-6 mol/kg in pure water at the air, 394 S cm2/mol).
/// Errors       OutOfRange.
/// Source       ratio [pawlowicz-2010]; model [appelo-2017]; PSS-78 [unesco-44].
/// Deviates     alkalinity and boron are split as in dissolved_ions.hpp; no ion pairs.
/// Complexity   two passes over the ions.
[[nodiscard]] Result<Estimate> conductivity_mS_per_cm(const matter::Amounts& mol_per_kg,
                                                      unit::Celsius temperature);

/// Conductivity by the model alone [mS/cm].
///
/// Definition   kappa = sum of lambda_i m_i z_i^2 share_i, lambda_i = (lambda0_i - B2 z sqrt(I)/(1
/// +
///              ka)) (1 - B1 sqrt(I)/(1 + ka)^2) (eta0/eta)^v: limiting conductivities from
///              tracer diffusion, slowed by the atmosphere of the other ions (Debye, Onsager) and
///              by the viscosity of the solution (Jones, Dole).
/// Inputs, errors as above. Valid 0 to 300 g/kg, 0 to 40 degC.
/// Accuracy     natural seawater of S 35 at 25 degC 0.7 % low; NaCl 0.5 to 10 % at 20 degC
///              within 1.2 % of the tabulated values; KCl 0.01 to 1 mol/kg at 25 degC within 0.6 %.
/// Source       [appelo-2017], coefficients of data/ions.toml.
/// Deviates     in the viscosity term the ionic-strength weight is left out (0.02 % in seawater).
[[nodiscard]] Result<double> conductivity_by_ions_mS_per_cm(const matter::Amounts& mol_per_kg,
                                                            unit::Celsius temperature);

}  // namespace bw::brine
