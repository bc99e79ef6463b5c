// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "assay/uncertainty_budget.hpp"
#include "io/document.hpp"

namespace bw::io {

/// A measurement model with what is known of its inputs, from a file of kind "budget".
struct BudgetFile {
    std::string name, unit, formula;
    bool invented = false;
    double coverage = 0.95;
    assay::Model model;
    std::vector<assay::BudgetInput> inputs;  ///< numbers in the units below
    std::vector<std::string> units;          ///< as typed with each input's value; empty: none
    std::vector<assay::Correlation> correlations;
};

/// Reads it. Each number enters the formula in the unit that its value is typed in; u and
/// half_width may be in another unit of the same kind, or in per cent of the value. An input with u
/// of few readings (freedom) is drawn from Student's t, unless its shape is "normal".
///
/// Errors   BadInput, BadUnit, BadNumber, UnknownName with file, line and field.
[[nodiscard]] Result<BudgetFile> read_budget(const Document& document);

}  // namespace bw::io
