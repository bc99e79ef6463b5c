// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

namespace bw::stat {

/// Factor k of a two-sided tolerance interval mean -+ k s of a normal sample: with confidence
/// `confidence` at least the share `content` of all units lies inside.
///
/// Definition   k at which 2 integral_0^inf phi(z) P(chi2(n-1) > (n-1) r(z)^2/k^2) dz = confidence,
///              Phi(z/sqrt n + r) - Phi(z/sqrt n - r) = content.
/// Inputs       n from 2 to 10 000; content and confidence strictly between 0 and 1 (0.5 to 0.9999
///              are usual); else the program stops.
/// Accuracy     1e-6 relative.
/// Source       definition, as ISO 16269-6 and [nist-handbook] 7.2.6.3 tabulate it.
[[nodiscard]] double tolerance_factor(int n, double content, double confidence);

/// Variances of a nested plan: bags, positions in a bag, results at a position.
struct NestedVariance {
    double grand_mean = 0;
    double mean_outer = 0, mean_inner = 0, mean_within = 0;  ///< mean squares
    double freedom_outer = 0, freedom_inner = 0, freedom_within = 0;
    double outer = 0, inner = 0, within = 0;  ///< variance components, 0 where negative
    double p_outer = 1, p_inner = 1;          ///< chance of an F as large without differences
};

/// Definition   sums of squares of differences; component inner = (MS_inner - MS_within)/n, outer =
///              (MS_outer - MS_inner)/(n m). F of outer against inner, of inner against within.
/// Inputs       groups[bag][position][result], 2 bags or more, each of as many positions (2 or
///              more), each of as many results (2 or more), with scatter within; else the program
///              stops.
/// Source       definition; balanced nested analysis of variance.
[[nodiscard]] NestedVariance nested_variance(
    std::span<const std::vector<std::vector<double>>> groups);

}  // namespace bw::stat
