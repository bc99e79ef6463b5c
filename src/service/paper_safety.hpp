// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "base/result.hpp"
#include "report/paper.hpp"
#include "works/recipe_version.hpp"

namespace bw::service {

/// What papers say on safety: hazard and precautionary statements with their phrases, signal word
/// and pictograms of the recipe's materials, as the table of statements has them; own hazards that
/// are no codes, and cautions, each with its material.
///
/// Inputs   who decided on it, "A. Person, 2026-01-04"; empty: nobody yet.
[[nodiscard]] report::SafetyBox safety_of(const works::RecipeVersion& version,
                                          const std::string& decided_by);

/// Errors   BadInput where a text holds a character that the papers cannot print, naming the field.
[[nodiscard]] Result<void> check_printable(const std::string& text, const std::string& field);

}  // namespace bw::service
