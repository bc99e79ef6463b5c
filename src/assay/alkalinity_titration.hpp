// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "base/result.hpp"
#include "unit/quantity.hpp"

namespace bw::assay {

/// One reading of an open-cell titration with acid.
struct TitrationPoint {
    double acid_kg = 0;  ///< added so far
    double emf_V = 0;    ///< rising with acid, or falling: the electrode's sign is found
};

/// A titration of total alkalinity in an open cell, carbon dioxide stripped.
struct AlkalinityTitration {
    std::vector<TitrationPoint> points;
    double sample_kg = 0;
    double acid_mol_per_kg = 0;
    unit::Celsius temperature{25};
    unit::PracticalSalinity salinity{35};  ///< for the constants
    double sulfate_mol_per_kg = 0;         ///< of the sample: of an artificial mix its own
    double fluoride_mol_per_kg = 0;
    double low_ph = 3.0, high_ph = 3.5;  ///< of the points that the fit uses, total scale
};

/// What a curve comes to.
struct AlkalinityFit {
    double alkalinity_mol_per_kg = 0;
    double u_mol_per_kg = 0;     ///< from the scatter of the points alone
    double emf0_V = 0;           ///< standard potential
    double gran_mol_per_kg = 0;  ///< by the straight line, for comparison; it ignores HSO4 and HF
    double modified_gran_mol_per_kg = 0;  ///< by the line through H, HSO4 and HF, at the standard
                                          ///< potential that makes its slope the acid's strength
    double rms_mol_per_kg = 0;            ///< of the residuals
    struct Residual {
        double acid_kg, ph_total, mol_per_kg;
    };
    std::vector<Residual> residuals;  ///< of the points used
};

/// Total alkalinity by non-linear least squares on the curve, Gran's line as start.
///
/// Definition   unknowns A and f with [H] = f H', H' from the start's E0: least squares of
///              A + S_T/(1 + K_S Z/(f H')) + F_T/(1 + K_F Z/(f H')) + ((m0+m)/m0) f H'/Z - (m/m0)
///              C, Z = 1 + S_T/K_S, K_S and K_F on the free scale; E0 = E0' - (R T/F) ln f. Gran:
///              the line through (m0+m) exp(E F/(R T)) against m. Modified: through the free
///              acid with HSO4 and HF against m, f being the one at which the slope is C/m0.
/// Inputs       4 points or more within the pH window; masses above 0; acid rising.
/// Valid        salinity 20 to 45, 5 to 40 degC, as the constants; pH 3.0 to 3.5 is usual.
/// Accuracy     0.1 umol/kg on the worked example of the guide; the choice of K_F moves it by 1.
/// Errors       BadInput (points), OutOfRange (constants), NoConvergence as Refused.
/// Source       [dickson-2007-guide] SOP 3b; K_S Dickson (1990), K_F Dickson and Riley (1979).
[[nodiscard]] Result<AlkalinityFit> fit_alkalinity(const AlkalinityTitration& titration);

}  // namespace bw::assay
