// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "assay/uncertainty_budget.hpp"

namespace bw::assay {

/// A number with its standard uncertainty.
struct Known {
    double value = 0, u = 0;
};

/// What a titration used up.
struct Consumption {
    Known volume_mL;          ///< at the end point
    Known blank_mL;           ///< of a blank titrated alike
    Known titrant_mol_per_L;  ///< as stated on its bottle
    Known factor{1, 0};       ///< found on the same day: true over stated
    Known sample_g;           ///< of the sample itself; of a dilution, what it holds of it
};

/// An amount found by titration, mmol per kg of sample, with where its uncertainty comes from.
struct TitratedAmount {
    Known mmol_per_kg;
    std::vector<BudgetInput> inputs;
    Budget budget;
};

/// Definition   (V - V_blank) c f/m. Inputs volumes and blank not negative, the volume above the
///              blank, strength, factor and sample above 0. Errors BadInput.
[[nodiscard]] Result<TitratedAmount> titrated_amount(const Consumption& consumption);

/// Calcium by EGTA, which takes a share phi of the strontium as well.
///
/// Definition   c(Ca) = c(EGTA) - phi c(Sr). Inputs strontium in mmol/kg, not negative; phi 0 to 1,
///              found once with known strontium. Errors BadInput, also where nothing is left.
/// Source       mass balance; ISO method of salt analysis (abstract read).
[[nodiscard]] Result<TitratedAmount> calcium_by_egta(const Consumption& egta,
                                                     const Known& strontium, const Known& phi);

/// Calcium by EGTA and magnesium by the difference of EDTA from it.
///
/// Definition   c(Mg) = c(EDTA) - c(Ca) - c(Sr), all from one set of inputs, so that strontium that
///              stands in both counts once. The two results depend on one another: correlation.
struct CalciumMagnesium {
    TitratedAmount calcium, magnesium;
    double correlation = 0;
};
[[nodiscard]] Result<CalciumMagnesium> calcium_and_magnesium(const Consumption& egta,
                                                             const Consumption& edta,
                                                             const Known& strontium,
                                                             const Known& phi);

/// Magnesium by EDTA where calcium was found apart: c(Mg) = c(EDTA) - c(Ca) - c(Sr), u^2 summed.
/// Errors   BadInput, also where nothing is left.
[[nodiscard]] Result<TitratedAmount> magnesium_by_edta(const Consumption& edta,
                                                       const Known& calcium,
                                                       const Known& strontium);

/// Chloride by silver nitrate: bromide and iodide, which silver takes as well, subtracted.
///
/// Definition   c(Cl) = c(Ag) - c(Br) - c(I). Errors BadInput, also where nothing is left.
/// Valid        pH 7 to 10 for the chromate way; a sample of much carbonate is neutralised first.
[[nodiscard]] Result<TitratedAmount> chloride_by_silver(const Consumption& silver,
                                                        const Known& bromide, const Known& iodide);

}  // namespace bw::assay
