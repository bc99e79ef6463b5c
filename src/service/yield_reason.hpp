// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "works/batch.hpp"

namespace bw::service {

/// What is missing beyond a few per cent is no slip of the pen, or has a reason.
[[nodiscard]] inline Result<void> explained(const works::Yield& yield,
                                            const std::vector<works::Weighing>& weighings,
                                            const std::string& why) {
    constexpr int kPlaces = 6;
    constexpr double kUsual = 0.03;  // common practice
    double in_kg = 0;
    for (const works::Weighing& w : weighings) {
        in_kg += w.net_kg;
    }
    const double missing = in_kg - yield.packed_kg - yield.sampled_kg - yield.swept_kg;
    if (missing <= kUsual * in_kg || !base::trim(why).empty()) {
        return {};
    }
    return fail(
        ProblemCode::BadInput,
        fmt::format("{} kg of the {} kg weighed in are not explained: look at the masses, or "
                    "give the reason if they are right",
                    base::format_short(missing, kPlaces), base::format_short(in_kg, kPlaces)),
        {"", 0, "why"});
}

}  // namespace bw::service
