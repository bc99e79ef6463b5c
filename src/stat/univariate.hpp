// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

namespace bw::stat {

/// What a row of values comes to.
struct Summary {
    std::size_t count = 0;
    double mean = 0;
    double sd = 0;    ///< with n - 1; 0 for one value
    double lag1 = 0;  ///< autocorrelation of neighbours in the order given; 0 without scatter
};

/// Mean, standard deviation and lag-1 autocorrelation.
///
/// Definition   two passes, sums compensated after Neumaier, the mean corrected by the mean of the
///              residuals; lag1 = sum (x_i - m)(x_(i+1) - m) / sum (x_i - m)^2.
/// Inputs       at least one finite value; none stops the program.
/// Accuracy     all the certified digits of NIST StRD's univariate sets that doubles can hold.
/// Source       [nist-strd]; Neumaier (1974).
[[nodiscard]] Summary summarize(std::span<const double> values);

/// The middle value, or the mean of the two middle ones. At least one value.
[[nodiscard]] double median(std::span<const double> values);

/// One-way analysis of variance.
struct Anova {
    double between = 0, within = 0;  ///< sums of squares
    double freedom_between = 0, freedom_within = 0;
    double mean_between = 0, mean_within = 0;  ///< mean squares
    double f = 0;                              ///< infinite without scatter within
    double p_value = 1;                        ///< chance of an F as large without differences
    double effective_replicates = 0;           ///< n0 for groups of unequal size
    double grand_mean = 0;
};

/// Definition   within: about the groups' own means; between: of the means about the grand mean,
///              times their counts; all sums of differences, so that large means cost no digits.
///              n0 = (N - sum n^2 / N) / (groups - 1).
/// Inputs       two groups or more, none empty, at least one of two values or more; else the
///              program stops.
/// Accuracy     the certified digits of SiRstv and AtmWtAg [nist-strd].
[[nodiscard]] Anova one_way(std::span<const std::vector<double>> groups);

}  // namespace bw::stat
