// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string_view>

namespace bw::ref {

/// One published rate law of growth at one temperature, from data/growth.toml:
/// R = k (Omega - 1)^order. Rows of one law stand together, coldest first.
struct GrowthRow {
    std::string_view law;      ///< "burton_walter_aragonite"
    std::string_view mineral;  ///< "aragonite" or "calcite", whose Omega it is
    std::string_view water;    ///< what it was measured in
    double celsius;
    double k_umol_per_m2_h;
    double order;
    std::string_view source, at, checked;
};
[[nodiscard]] std::span<const GrowthRow> growth_rates();

}  // namespace bw::ref
