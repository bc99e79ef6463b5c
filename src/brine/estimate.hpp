// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/notice.hpp"

namespace bw::brine {

/// A property of a water as a model gives it, with what is known of its truth.
struct Estimate {
    double value = 0;
    double standard_uncertainty = 0;  ///< one standard deviation, in the unit of the value
    bool extrapolated = false;        ///< outside the range in which a source vouches for the model
    base::Notices notices;
};

}  // namespace bw::brine
