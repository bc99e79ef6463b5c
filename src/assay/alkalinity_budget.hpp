// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "assay/alkalinity_titration.hpp"
#include "assay/uncertainty_budget.hpp"

namespace bw::assay {

/// What is not known exactly of an alkalinity titration; standard uncertainties.
struct AlkalinityDoubts {
    double acid_relative = 1e-3;         ///< of the acid's strength
    double sample_relative = 2e-5;       ///< of the sample's mass
    double burette_relative = 5e-4;      ///< of the delivered volumes or masses, all alike
    double celsius = 0.1;                ///< of the temperature
    double sulfate_relative = 0.02;      ///< of the sample's sulfate
    double fluoride_relative = 0.05;     ///< of its fluoride
    double constants_mol_per_kg = 7e-7;  ///< of the choice of K_S, K_F: 0.5 to 1 umol/kg between
                                         ///< published sets (worked out on the guide's example)
};

struct AlkalinityBudget {
    std::vector<BudgetInput> inputs;
    Budget budget;  ///< in umol/kg
};

/// Where the uncertainty of an alkalinity comes from.
///
/// Definition   the whole fit is repeated with each input moved, so that what the fitted standard
///              potential takes up counts; the points are those that the fit used. The scatter of
///              the points and the choice of constants are added as they are.
/// Inputs       a titration and its fit; doubts not negative. The defaults are estimates of a
///              careful plant laboratory, to be replaced by its own.
/// Errors       BadInput; those of fit_alkalinity().
/// Source       [jcgm-100].
[[nodiscard]] Result<AlkalinityBudget> budget_alkalinity(const AlkalinityTitration& titration,
                                                         const AlkalinityFit& fit,
                                                         const AlkalinityDoubts& doubts);

}  // namespace bw::assay
