// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <string_view>

#include "assay/uncertainty_budget.hpp"

namespace bw::assay {

/// A model from its formula as a laboratory writes it: "(V - V0) * c / m".
///
/// Definition   + - * / ^, brackets, exp, ln, log10, sqrt, abs, min, max and the names of inputs;
///              numbers with a decimal point. Read and worked out by muParser (BSD licence).
/// Inputs       names of letters, digits and '_', not beginning with a digit; a formula of at most
///              2000 characters.
/// Errors       BadInput, naming what is not understood and where; a name that is not used or
///              there twice.
/// Not safe     to be called by two threads at once: a model holds its inputs' values.
[[nodiscard]] Result<Model> written_model(const std::string& formula,
                                          std::span<const std::string> names);

}  // namespace bw::assay
