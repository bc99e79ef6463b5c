// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>

#include "base/result.hpp"

namespace bw::assay {

/// One method's value of a quantity and its standard uncertainty, same unit.
struct MethodValue {
    double value = 0;
    double u = 0;
};

/// Several methods' values of one quantity as one.
struct Combined {
    double value = 0;
    double u = 0;
    double chi_squared = 0;       ///< of the weighted mean
    double chi_squared_most = 0;  ///< its 95 % point
    bool consistent = true;       ///< chi_squared is at most that
    double between_sd = 0;        ///< added to each method where they are not consistent
};

/// Combines methods by their uncertainties.
///
/// Definition   consistent: weighted mean with 1/u^2, u = (sum 1/u^2)^(-1/2). Not consistent, three
///              methods or more: the variance t2 between methods at which
///              sum (x - mean)^2/(u^2 + t2) = k - 1, weights 1/(u^2 + t2). Not consistent, two:
///              their mean, with |x1 - x2|/sqrt(12) beside the mean's own uncertainty.
/// Inputs       one value or more, every u above 0, uncertainties independent of one another.
/// Errors       BadInput. Source [paule-mandel-1982]; two methods: common practice (NIST's "type B
///              on bias", from memory).
[[nodiscard]] Result<Combined> combine(std::span<const MethodValue> values);

}  // namespace bw::assay
