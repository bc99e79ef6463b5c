// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "recipe/solve.hpp"

namespace bw::recipe {

/// How much of a constituent's uncertainty one input makes.
struct Driver {
    std::string input;          ///< "calcium chloride dihydrate: assay"
    double variance_share = 0;  ///< of one
};

/// What lot-to-lot and certificate uncertainty make of one goal.
struct GoalSpread {
    double u = 0;  ///< standard uncertainty by first order [mol/kg, g/kg for salinity, ratio]
    double inside_first_order = 1;  ///< probability inside the band, normal
    double mean = 0;                ///< Monte Carlo
    double u_monte_carlo = 0;
    double inside_monte_carlo = 1;
    double inside_standard_error = 0;  ///< of the Monte Carlo probability
    std::vector<Driver> drivers;       ///< largest first, at most 5
};

struct Robustness {
    std::vector<GoalSpread> constituents;  ///< in the order of the target's goals
    std::vector<GoalSpread> ratios;
    std::vector<GoalSpread> ceilings;  ///< chance that the true amount is below the ceiling
    GoalSpread salinity;
    double all_inside = 1;  ///< every band, ratio, ceiling and the salinity at once
    std::uint64_t draws = 0;
    std::uint64_t seed = 0;
};

/// An uncertain input as the draws see it, with its linear effect on every tracked quantity.
///
/// Tracked are all constituents and the dissolved mass. The main salt goes with assay * (1 - loss),
/// a product; all other effects add.
class SpreadModel {
public:
    SpreadModel(const Target& target, const std::vector<Supply>& supplies,
                const Solution& solution);
    ~SpreadModel();
    SpreadModel(const SpreadModel&) = delete;
    SpreadModel& operator=(const SpreadModel&) = delete;

    /// First-order propagation (JCGM 100, 5.1.2) with independent inputs.
    [[nodiscard]] Robustness first_order() const;

    /// Sums of one block of draws; blocks are independent of each other and of threads.
    struct BlockSums {
        std::vector<double> sum, sum_of_squares;  ///< about the expectation
        std::vector<std::uint64_t> inside;
        std::uint64_t all_inside = 0;
        std::uint64_t draws = 0;
    };
    [[nodiscard]] BlockSums draw_block(std::uint64_t seed, std::uint64_t block,
                                       std::uint64_t draws) const;

    /// Merges blocks, in the order given, into the Monte Carlo part of a result (JCGM 101).
    void merge(std::span<const BlockSums> blocks, std::uint64_t seed, Robustness& into) const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// Below this chance of lying inside its band a value is too close to call.
inline constexpr double kCloseCall = 0.95;

inline constexpr std::uint64_t kDrawsPerBlock = 2048;

}  // namespace bw::recipe
