// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "works/assessment.hpp"

namespace bw::works {

/// A probability in per cent; never 0.00 nor 100.00, for none is certain.
[[nodiscard]] std::string chance_percent(double probability);

/// "2 of 5 elements tested; these conform at once with a probability of 98.12 %", or that
/// nothing is tested yet: then there is no probability to speak of.
[[nodiscard]] std::string together_of(const Assessment& assessment);

}  // namespace bw::works
