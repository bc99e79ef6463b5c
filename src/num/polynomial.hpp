// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>

namespace bw::num {

/// Sum of coefficients[i] * x^i, by Horner's rule.
[[nodiscard]] constexpr double polynomial(std::span<const double> coefficients, double x) {
    double value = 0;
    for (std::size_t i = coefficients.size(); i-- > 0;) {
        value = value * x + coefficients[i];
    }
    return value;
}

}  // namespace bw::num
