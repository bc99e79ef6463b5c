// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/notice.hpp"
#include "brine/speciation.hpp"
#include "brine/water.hpp"

namespace bw::brine {

/// Beyond it the brine set was not tested [mol/kg-water].
inline constexpr double kHighestStrength = 8;

/// What a reader of the state must know: approximations, ranges left, doubts.
[[nodiscard]] base::Notices water_notices(const WaterInput& input, const matter::Amounts& amounts,
                                          const Speciation<double>& s, const WaterState& state);

}  // namespace bw::brine
