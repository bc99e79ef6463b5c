// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// What the blend commands read and write alike.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "service/relative_figure.hpp"

namespace bw::cli {

/// "50 g" below a kilogram, "20 kg" from there on.
[[nodiscard]] std::string mass_words(double kg);
/// A share as per cent without its sign.
[[nodiscard]] std::string percent_words(double share, int digits = 2);

/// Errors   of both, and of the next: BadUnit, BadInput, with the option's name.
[[nodiscard]] Result<double> kilograms(const char* field, const std::string& text);
/// "2 %" as 0.02.
[[nodiscard]] Result<double> share_in_percent(std::string_view field, std::string_view text);
/// "2 %" for all, "Sr=5 %" for one; `usual` where none is for all.
[[nodiscard]] Result<service::RelativeFigure> figures_of(const std::string& field,
                                                         const std::vector<std::string>& texts,
                                                         double usual);

}  // namespace bw::cli
