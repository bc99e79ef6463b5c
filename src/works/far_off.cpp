// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/far_off.hpp"

#include "unit/factors.hpp"

namespace bw::works {
namespace {

/// A ratio this near to 1000, either way, is that of two units; to 10, of a decimal point that
/// slipped.
constexpr double kNear = 1.25;
constexpr double kOnePlace = 10;

bool is_near(double ratio, double to) { return ratio * kNear >= to && ratio <= to * kNear; }

}  // namespace

FarOff far_off(double ratio) {
    const bool little = ratio < 1;
    const double times = little ? 1 / ratio : ratio;
    return {little, is_near(times, unit::kGramPerKg), is_near(times, kOnePlace)};
}

std::string_view times_words(const FarOff& off) {
    if (off.by_unit) {
        return off.little ? "about a thousandth of the" : "about a thousand times the";
    }
    if (off.by_place) {
        return off.little ? "about a tenth of the" : "about ten times the";
    }
    return off.little ? "less than a fifth of the" : "five times or more of the";
}

}  // namespace bw::works
