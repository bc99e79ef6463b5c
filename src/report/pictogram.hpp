// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "report/drawing.hpp"

namespace bw::report {

/// What a hazard pictogram is called: "GHS07" is "exclamation mark". Empty: none of ours.
[[nodiscard]] std::string_view pictogram_name(std::string_view code);

/// The pictogram in a square of side `side` with its top left corner at (x, y): a diamond with a
/// red frame and a black symbol, drawn for this program after the description of the system's
/// signs.
///
/// Inputs   GHS02, 03 and 05 to 09; an empty drawing for others. Meant for 9 mm and more.
[[nodiscard]] Drawing pictogram(std::string_view code, double x, double y, double side);

}  // namespace bw::report
