// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

/// What a test of a suspect value says. A test only raises the question: a value is set aside for a
/// recorded cause, never for the test alone.
struct OutlierTest {
    std::size_t suspect = 0;  ///< place of the value, or of the group
    double statistic = 0;
    double critical = 0;  ///< the suspect is beyond it when the statistic is larger
    [[nodiscard]] bool beyond() const { return statistic > critical; }
};

enum class Sides : std::uint8_t { Lowest, Highest, Both };

/// Grubbs: the value farthest from the mean, in standard deviations.
///
/// Definition   G = max |x - mean| / s; critical (n-1)/sqrt(n) sqrt(t^2/(n-2+t^2)), t at
///              alpha/n on one side, alpha/(2n) on both.
/// Inputs       3 values or more with scatter; alpha between 0 and 0.5.
/// Valid        one suspect in values that are else normal; three have no power.
/// Errors       BadInput. Source Grubbs (1950); [tietjen-moore-1972] data.
[[nodiscard]] Result<OutlierTest> grubbs(std::span<const double> values, double alpha,
                                         Sides sides = Sides::Both);

/// Cochran: the largest of several variances, over their sum.
///
/// Definition   C = max s^2 / sum s^2; critical 1/(1 + (p-1)/F(1 - alpha/p; n-1, (p-1)(n-1))).
/// Inputs       2 variances or more, none negative, not all 0, each of n values, n at least 2.
/// Errors       BadInput. Source ISO 5725-2's test; the critical value by the F distribution.
[[nodiscard]] Result<OutlierTest> cochran(std::span<const double> variances,
                                          std::size_t values_each, double alpha);
[[nodiscard]] double cochran_critical(std::size_t variances, std::size_t values_each, double alpha);

/// Dixon's ratio of a gap to a range, for 3 to 30 values.
///
/// Definition   r10 for 3 to 7 values, r11 for 8 to 10, r21 for 11 to 13, r22 from 14 on, of the
/// end
///              with the larger ratio. The critical value is that of normal samples, worked out by
///              `draws` simulated ones with a fixed seed, so it is the same every time.
/// Inputs       3 to 30 values with scatter; alpha 0.01 to 0.2.
/// Accuracy     of the critical value 0.003 at alpha 0.05 with 200 000 draws.
/// Errors       BadInput. Source Dixon (1951), ratios; critical values computed.
[[nodiscard]] Result<OutlierTest> dixon(std::span<const double> values, double alpha, Sides sides);
[[nodiscard]] Result<double> dixon_critical(std::size_t values, double alpha, Sides sides);

/// Several suspects at once: generalized extreme studentized deviates.
///
/// Definition   the value farthest from the mean is taken away, up to `most` times, each step with
///              its own critical value; as many are beyond as the last step that is.
/// Inputs       15 values or more are wanted, 2 `most` + 3 needed; alpha two-sided.
/// Errors       BadInput. Source [rosner-1983].
struct ExtremeDeviates {
    std::vector<OutlierTest> steps;  ///< places are those in the values given
    std::size_t beyond = 0;          ///< how many of the first steps
};
[[nodiscard]] Result<ExtremeDeviates> extreme_deviates(std::span<const double> values,
                                                       std::size_t most, double alpha);

}  // namespace bw::assay
