// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "base/result.hpp"
#include "report/drawing.hpp"

namespace bw::report {

/// A square code (QR, ISO/IEC 18004) that holds plain text, with the quiet zone of four modules.
///
/// Inputs   UTF-8 text of 1 to 400 bytes, `side` in points over all. Error correction level M: a
///          damage of about 15 % is mended.
/// Errors   BadInput, TooLarge: more text would make modules that a telephone cannot tell apart.
[[nodiscard]] Result<Drawing> square_code(std::string_view text, double x, double y, double side);

/// A bar code (Code 128, set B, ISO/IEC 15417) with quiet zones of ten modules.
///
/// Inputs   1 to 40 printable ASCII characters.
/// Errors   BadInput.
[[nodiscard]] Result<Drawing> bar_code(std::string_view text, double x, double y, double width,
                                       double height);

}  // namespace bw::report
