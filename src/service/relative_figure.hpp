// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "matter/constituent.hpp"

namespace bw::service {

/// A relative figure for all constituents, and for single ones by symbol.
struct RelativeFigure {
    double all = 0;
    std::vector<std::pair<std::string, double>> own;
};

/// The figure of each constituent, in their order.
///
/// Inputs       field, named in problems; figures above 0 and below 1.
/// Errors       OutOfRange; UnknownName for a symbol; BadInput for one that is not among them
///              or is given twice.
[[nodiscard]] Result<std::vector<double>> figure_for_each(
    const RelativeFigure& figure, std::span<const matter::Constituent> constituents,
    const char* field);

}  // namespace bw::service
