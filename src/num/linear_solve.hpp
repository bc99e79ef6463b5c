// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstddef>
#include <span>

namespace bw::num {

inline constexpr std::size_t kMostUnknowns = 24;

/// Solves A X = B for a small dense system by elimination with partial pivoting.
///
/// Inputs     n unknowns, 1 <= n <= kMostUnknowns; A row by row, n*n; B row by row, n*columns,
///            replaced by X. A is left as it was.
/// Errors     false when a pivot is 0 or not finite; B is then undefined.
/// Complexity n^3/3 + n^2 columns; allocates nothing for one column.
[[nodiscard]] bool solve_dense(std::size_t n, std::span<const double> a, std::span<double> b,
                               std::size_t columns = 1);

/// The same for one column and a size known beforehand: 8, that of an equilibrium's basis.
template <std::size_t n>
[[nodiscard]] bool solve_dense(const std::array<std::array<double, n>, n>& a,
                               std::array<double, n>& b);

}  // namespace bw::num
