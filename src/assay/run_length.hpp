// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>

#include "assay/trend_chart.hpp"

namespace bw::assay {

/// Everything that is switched on together for one chart.
struct ChartWatch {
    ChartRules rules;  ///< beside one point beyond three sigma, which is always on
    struct Ewma {
        double lambda = 0.2, width = 2.7;
    };
    struct Cusum {
        double k = 0.5, h = 5;
    };
    std::optional<Ewma> ewma;
    std::optional<Cusum> cusum;
};

/// Points on average until the first mark.
///
/// Definition   simulated: `runs` series of independent normal values shifted by `shift` sigma,
///              each until its first mark.
/// Inputs       shift in sigma; runs 100 to 100 000. Accuracy relative 1/sqrt(runs): 2 % of 2000.
/// Valid        independent values with known centre and sigma; estimated limits and
///              autocorrelation change it.
[[nodiscard]] double simulated_run_length(const ChartWatch& watch, double shift = 0,
                                          std::size_t runs = 2000, std::uint64_t seed = 1);

}  // namespace bw::assay
