// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

namespace bw::works {

/// A figure is asked about from so many times what is wanted on, and below this part of it. A
/// decimal point that slipped by one place is off by ten, a wrong unit mostly by a thousand.
inline constexpr double kFarFromWanted = 5;

/// What a figure that is far off makes one think of.
struct FarOff {
    bool little = false;    ///< below what is wanted
    bool by_unit = false;   ///< about a thousand times, either way: that of two units
    bool by_place = false;  ///< about ten times: a decimal point that slipped by one place
};

/// Inputs   a ratio above 0 of the figure to what is wanted.
[[nodiscard]] FarOff far_off(double ratio);

/// "about a tenth of the", "five times or more of the".
[[nodiscard]] std::string_view times_words(const FarOff& off);

}  // namespace bw::works
