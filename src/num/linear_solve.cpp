// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "num/linear_solve.hpp"

#include <cmath>
#include <utility>

#include <Eigen/LU>

#include "base/result.hpp"

namespace bw::num {

bool solve_dense(std::size_t n, std::span<const double> a, std::span<double> b,
                 std::size_t columns) {
    base::expect(n >= 1 && n <= kMostUnknowns && a.size() >= n * n && b.size() >= n * columns,
                 "the system has the stated size");
    constexpr auto kMost = static_cast<int>(kMostUnknowns);
    using Square =
        Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor, kMost, kMost>;
    using Sides = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    const auto rows = static_cast<Eigen::Index>(n);
    const Eigen::PartialPivLU<Square> lu(
        Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>>(
            a.data(), rows, rows));
    for (Eigen::Index i = 0; i < rows; ++i) {
        const double pivot = lu.matrixLU()(i, i);
        if (pivot == 0 || !std::isfinite(pivot)) {
            return false;
        }
    }
    if (columns == 1) {
        Eigen::Map<Eigen::VectorXd> side(b.data(), rows);
        const Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kMost, 1> x = lu.solve(side);
        side = x;
    } else {
        Eigen::Map<Sides> sides(b.data(), rows, static_cast<Eigen::Index>(columns));
        const Sides x = lu.solve(sides);
        sides = x;
    }
    return true;
}

template <std::size_t n>
bool solve_dense(const std::array<std::array<double, n>, n>& a, std::array<double, n>& b) {
    auto left = a;
    for (std::size_t k = 0; k < n; ++k) {
        std::size_t best = k;
        for (std::size_t i = k + 1; i < n; ++i) {
            best = std::abs(left[i][k]) > std::abs(left[best][k]) ? i : best;
        }
        std::swap(left[best], left[k]);
        std::swap(b[best], b[k]);
        const double pivot = left[k][k];
        if (pivot == 0 || !std::isfinite(pivot)) {
            return false;
        }
        for (std::size_t i = k + 1; i < n; ++i) {
            const double factor = left[i][k] / pivot;
            if (factor == 0) {  // balances share few of their terms
                continue;
            }
            for (std::size_t j = k + 1; j < n; ++j) {
                left[i][j] -= factor * left[k][j];
            }
            b[i] -= factor * b[k];
        }
    }
    for (std::size_t k = n; k-- > 0;) {
        for (std::size_t j = k + 1; j < n; ++j) {
            b[k] -= left[k][j] * b[j];
        }
        b[k] /= left[k][k];
    }
    return true;
}
template bool solve_dense<8>(const std::array<std::array<double, 8>, 8>&, std::array<double, 8>&);

}  // namespace bw::num
