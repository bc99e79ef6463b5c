// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <span>
#include <vector>

namespace bw::stat {

/// Shares of a result's variance that come from groups of its inputs.
struct SobolIndex {
    double first = 0, first_standard_error = 0;  ///< of the group alone
    double total = 0, total_standard_error = 0;  ///< with all that it does together with others
};

/// Sums from which the indices are estimated. Sums of separate blocks merge, in a fixed order, to
/// the same numbers whatever drew them.
///
/// Definition   of draws A and B and, for each group, A with that group's inputs from B:
///              V_i = mean(f(B) (f(AB_i) - f(A))) and VT_i = mean((f(A) - f(AB_i))^2)/2, both over
///              the variance of all f(A) and f(B).
/// Inputs       results of the same function; about 0 they lose the fewest digits: give them less
///              their expectation.
/// Source       [saltelli-2010] table 2, (b) and (f); (f) is Jansen's.
class SobolSums {
public:
    explicit SobolSums(std::size_t groups) : first_(groups), total_(groups) {}

    /// Adds one draw: f(A), f(B), and f(AB_i) of every group.
    void add(double a, double b, std::span<const double> ab);
    void merge(const SobolSums& other);

    [[nodiscard]] double mean() const;
    [[nodiscard]] double variance() const;
    /// All 0 where the result does not vary.
    [[nodiscard]] std::vector<SobolIndex> indices() const;

private:
    struct Term {
        double sum = 0, sum_of_squares = 0;
    };
    std::uint64_t draws_ = 0;
    double sum_ = 0, sum_of_squares_ = 0;  ///< of f(A) and f(B)
    std::vector<Term> first_, total_;
};

}  // namespace bw::stat
