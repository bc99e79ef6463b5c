// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/tested_together.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "unit/factors.hpp"

namespace bw::works {

std::string chance_percent(double probability) {
    constexpr double kNearlyNone = 0.00005;
    constexpr double kNearlyOne = 0.99995;
    constexpr int kPlaces = 2;
    return probability >= kNearlyOne   ? "> 99.99"
           : probability < kNearlyNone ? "< 0.01"
                                       : base::format_places(probability * unit::kPercent, kPlaces);
}

std::string together_of(const Assessment& assessment) {
    const auto tested =
        std::count_if(assessment.elements.begin(), assessment.elements.end(),
                      [](const Tested& t) { return t.verdict != Verdict::NotTested; });
    if (tested == 0) {
        return "nothing is tested yet";
    }
    return fmt::format("{} of {} elements tested; {} with a probability of {} %", tested,
                       assessment.elements.size(),
                       tested == 1 ? "it conforms" : "these conform at once",
                       chance_percent(assessment.probability));
}

}  // namespace bw::works
