// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <optional>

namespace bw::num {

/// Root of a continuous function between two points where its signs differ.
///
/// Inputs     f; low < high; tolerance in x, absolute.
/// Accuracy   |x - root| <= tolerance + 4 eps |x|.
/// Errors     nothing when f(low) and f(high) have one sign or f is not a number on the way.
/// Source     [chandrupatla-1997], bisection or inverse quadratic interpolation by a rule that
///            never loses the bracket.
/// Complexity as bisection at worst, some 8 to 12 evaluations for smooth functions.
[[nodiscard]] std::optional<double> bracketed_root(const std::function<double(double)>& f,
                                                   double low, double high, double tolerance);

}  // namespace bw::num
