// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace bw::stat {

/// Quantiles: the value below which a variable lies with a probability.
///
/// Inputs   probability strictly between 0 and 1; degrees of freedom above 0 (need not be whole);
///          other inputs are programming errors and stop the program.
/// Accuracy of the library, better than 1e-13 relative.
/// Source   definitions; Boost.Math.
[[nodiscard]] double normal_quantile(double probability);
[[nodiscard]] double student_t_quantile(double probability, double freedom);
[[nodiscard]] double chi_squared_quantile(double probability, double freedom);
[[nodiscard]] double f_quantile(double probability, double freedom_above, double freedom_below);

/// Probabilities of being at most x, same inputs; x not negative for chi squared and F.
[[nodiscard]] double student_t_cdf(double t, double freedom);
[[nodiscard]] double chi_squared_cdf(double x, double freedom);
[[nodiscard]] double f_cdf(double x, double freedom_above, double freedom_below);

/// Probability that the range of n standard normal values is at most w.
///
/// Definition   n times the integral over z of phi(z) (Phi(z) - Phi(z - w))^(n-1).
/// Inputs       w at least 0, n from 2 to 1000.
/// Accuracy     1e-12 absolute: the trapezoidal rule on a smooth integrand that dies out.
/// Source       definition; the studentized range with infinite degrees of freedom.
[[nodiscard]] double normal_range_cdf(double w, int n);
/// Its quantile, by halving to 1e-12.
[[nodiscard]] double normal_range_quantile(double probability, int n);

}  // namespace bw::stat
