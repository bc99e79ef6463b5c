// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace bw::report {

/// A number's text as papers print it: groups of three with a narrow no-break space, none for four
/// digits, U+2212 for minus; text that is no number is left as it is.
///
/// "19350" -> "19 350", "1290" -> "1290", "0.00187" -> "0.001 87", "-0.4" -> "−0.4",
/// "<0.5" -> "< 0.5".
/// Source   SI Brochure 5.4.4.
[[nodiscard]] std::string printed(std::string_view number);

/// A value and its expanded uncertainty as decimal text for a paper.
struct Figure {
    std::string value, expanded;
};

/// Two significant digits on U, the value to match, half to even in decimal; one digit more, up to
/// three, where the rounded value would hide that the value lies beyond a limit, or pretend that it
/// does.
///
/// Inputs   U not negative; 0 or not finite: the value with `digits` significant digits and no U.
[[nodiscard]] Figure figure(double value, double expanded, std::optional<double> low = {},
                            std::optional<double> high = {}, int digits = 4);

}  // namespace bw::report
