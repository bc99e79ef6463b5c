// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::base {

/// A finite number in decimal notation with a point, an optional sign and exponent; nothing else.
///
/// Inputs   text without surrounding blanks. U+2212 is taken for a minus sign.
/// Errors   BadNumber for anything else: empty, comma, group marks, nan, inf, trailing text,
/// overflow.
[[nodiscard]] Result<double> parse_number(std::string_view text);

/// Shortest decimal text that reads back as the same double; plain notation for 1e-5 <= |x| < 1e15.
[[nodiscard]] std::string format_exact(double value);

/// Rounded to `digits` significant digits, half to even in decimal, plain notation for 1e-6 <= |x|
/// < 1e15.
[[nodiscard]] std::string format_significant(double value, int digits);

/// The same without zeros at the end of a fraction: "35", "0.25".
[[nodiscard]] std::string format_short(double value, int digits);

/// Rounded to `places` digits after the point, half to even in decimal.
[[nodiscard]] std::string format_places(double value, int places);

/// A value and its standard uncertainty rounded together: two significant digits on u, the value to
/// match.
///
/// Source   GUM (JCGM 100:2008) 7.2.6. Rounding is half to even on the shortest decimal text of
/// each number,
///          so 2.675 with u = 0.0145 prints as 2.675 and 0.014.
struct ValueWithUncertainty {
    std::string value;
    std::string uncertainty;  ///< empty when u is 0 or not known

    /// "35.165 \u00B1 0.020", or the value alone.
    [[nodiscard]] std::string text() const;
};
[[nodiscard]] ValueWithUncertainty format_with_uncertainty(double value, double u);

}  // namespace bw::base
