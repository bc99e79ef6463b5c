// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <utility>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

/// How far n results on one sample may lie apart, in standard deviations of repeatability.
///
/// Definition   the 95 % point of the range of n normal values; 2.77 for two (2.8 in the standard).
/// Inputs       n from 2 to 100. Accuracy 1e-10. Source ISO 5725-6, critical range; definition.
[[nodiscard]] double critical_range_factor(int n);

enum class DuplicateVerdict : std::uint8_t {
    Accepted,     ///< they agree; the mean is the result
    TwoMore,      ///< they do not: two further results are to be obtained
    MeanOfFour,   ///< the four agree
    MedianOfFour  ///< the four do not: the median is the result, and the method is to be looked at
};

struct DuplicateJudgement {
    DuplicateVerdict verdict = DuplicateVerdict::Accepted;
    double range = 0;
    double limit = 0;   ///< critical range for so many
    double result = 0;  ///< mean or median; of TwoMore the mean so far, which is not to be reported
};

/// Judges two results, or four of which two were obtained because the first two disagreed. There is
/// no way to obtain a third and drop the odd one.
///
/// Inputs   2 or 4 results, the standard deviation of repeatability above 0, same unit.
/// Errors   BadInput. Source ISO 5725-6, acceptability of results under repeatability.
[[nodiscard]] Result<DuplicateJudgement> judge_duplicates(std::span<const double> results,
                                                          double repeatability_sd);

/// Standard deviation of repeatability from past pairs: sqrt(sum d^2 / (2 N)).
///
/// Inputs   one pair or more; `relative`: of d over the pair's mean, which is then a share of the
///          value. Errors BadInput for no pair, or a relative one whose mean is 0.
[[nodiscard]] Result<double> repeatability_of_pairs(
    std::span<const std::pair<double, double>> pairs, bool relative);

}  // namespace bw::assay
