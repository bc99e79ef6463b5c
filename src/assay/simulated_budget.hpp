// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "assay/uncertainty_budget.hpp"

namespace bw::assay {

struct SimulationOptions {
    std::uint64_t seed = 1;
    std::size_t trials = 1'000'000;  ///< of the fixed way; of the adaptive one the most
    bool adaptive = false;  ///< go on until everything is settled to half of u's last digit
    double fineness = 1;    ///< of that half digit: 0.2 where draws are to validate derivatives
    int digits = 2;         ///< significant digits of u that are wanted, 1 or 2
    double coverage = 0.95;
};

/// An interval that holds the result with a probability.
struct CoverageInterval {
    double low = 0, high = 0;
};

/// A result by drawn values of its inputs.
struct SimulatedBudget {
    double mean = 0;
    double u = 0;
    CoverageInterval symmetric;  ///< as much probability on either side
    CoverageInterval shortest;
    std::size_t trials = 0;
    double tolerance = 0;  ///< half of the last wanted digit of u
    bool settled = true;   ///< of the adaptive way: before the trials ran out
};

/// Propagates distributions by random draws.
///
/// Definition   draws each input from its shape, inputs with correlations from the joint normal
///              distribution (by Cholesky's root); mean, standard deviation and both intervals of
///              the sorted results. Adaptive: sequences of max(100/(1 - p), 10 000) trials until
///              twice the standard deviation of the averages of y, u and both ends is at most the
///              tolerance times the fineness.
/// Inputs       as propagate(); correlated inputs must be Normal; trials 1000 to 20 000 000.
/// Valid        any model, also one that bends; the same numbers for the same seed.
/// Errors       BadInput.
/// Source       [jcgm-101] 7, 7.9.4.
[[nodiscard]] Result<SimulatedBudget> simulate(const Model& model,
                                               std::span<const BudgetInput> inputs,
                                               std::span<const Correlation> correlations = {},
                                               const SimulationOptions& options = {});

/// Whether the budget by derivatives does as well as the simulation.
struct BudgetValidation {
    double tolerance = 0;          ///< half of the last wanted digit of u
    double d_low = 0, d_high = 0;  ///< how far the ends of y -+ U lie from the simulation's
    bool valid = false;            ///< both at most the tolerance
};

/// Inputs   a budget and a simulation of the same model, inputs and coverage; digits 1 or 2.
/// Source   [jcgm-101] 8, against the interval symmetric in probability.
[[nodiscard]] BudgetValidation validate(const Budget& budget, const SimulatedBudget& simulated,
                                        int digits = 2);

}  // namespace bw::assay
