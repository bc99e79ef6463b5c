// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "blend/layering.hpp"
#include "matter/material.hpp"
#include "stat/sobol.hpp"

namespace bw::blend {

/// What happens to an element on its way from a lot to a reef.
enum class BudgetStep : std::uint8_t {
    Assay,     ///< lots differ from their certificate: assay and impurities
    Moisture,  ///< loss on drying or ignition
    Weighing,
    Premix,    ///< minor parts that their premix does not hold evenly
    Grains,    ///< chance in the user's portion
    Layers,    ///< where in a container that has layered the portion comes from
    Sample,    ///< chance in the sample that was tested
    Salinity,  ///< the user's reading to which the portion is dissolved
    Analysis,
};
inline constexpr std::size_t kBudgetSteps = 9;
[[nodiscard]] std::string_view name(BudgetStep step);

/// One material of the blend.
struct BudgetPart {
    std::string name;
    double share = 0;  ///< of the blend's mass
    matter::MakeUp make_up;
    double weighing_u = 0;  ///< relative standard uncertainty
    double premix_u =
        0;  ///< relative standard deviation of its amount among portions of the premix
    double grain_g =
        0;          ///< mean mass of a grain, weighted by mass; 0: so fine that it does not count
    Thirds layers;  ///< its mass in a container that has layered
};

struct BudgetSetup {
    std::vector<BudgetPart> parts;
    std::vector<matter::Constituent> constituents;  ///< whose contents are followed
    std::vector<double> band;        ///< relative half width of the promise, by constituent
    std::vector<double> analysis_u;  ///< relative standard uncertainty of a result, by constituent
    double batch_g = 0;
    double sample_g = 0;            ///< what the test sample held of the blend
    double portion_g = 0;           ///< what the user dissolves
    bool mixed_before_use = false;  ///< or dissolved whole: layers do not matter
    double layered = 0;             ///< how far towards `layers` the container has come, 0 to 1
    double salinity_u = 0;          ///< of the user's reading, relative
};

/// One constituent at one place.
struct BudgetResult {
    double mean = 0;           ///< relative to the recipe, 0.01: 1 % more
    double u = 0;              ///< standard deviation of it
    double low = 0, high = 0;  ///< 95 % of all lie between
    double inside = 1;         ///< probability of lying within the band
    double inside_standard_error = 0;
    std::array<stat::SobolIndex, kBudgetSteps> steps;
};

/// Results by constituent: what the laboratory finds at release, and what is in the user's water.
struct BudgetOutcome {
    std::vector<BudgetResult> release, vat;
    double all_inside_release = 1, all_inside_vat = 1;
    std::uint64_t draws = 0, seed = 0;
};

/// The way of a blend from lots to water, drawn many times.
///
/// Definition   amounts are share (1 + weighing)(1 + premix)(1 + layers)(grains) times the make-up
/// of
///              the lot drawn, per dissolved salt, and all relative to the recipe. Layers: a third
///              taken by chance. Grains: the mass of a part in a portion is a gamma variable with
///              the variance of its number of grains (by Wilson and Hilferty's cube root): it is
///              never negative. The user dissolves to a reading of salinity, true up to its
///              uncertainty; the laboratory's results are relative to the salt of its own solution.
/// Inputs       shares that sum to 1; masses above 0, portion and sample not above the batch;
///              one band and one uncertainty per constituent.
/// Errors       of create(): BadInput, OutOfRange.
class Budget {
public:
    [[nodiscard]] static Result<Budget> create(BudgetSetup setup);
    ~Budget();
    Budget(Budget&&) noexcept;
    Budget& operator=(Budget&&) noexcept;
    Budget(const Budget&) = delete;
    Budget& operator=(const Budget&) = delete;

    static constexpr std::uint64_t kDrawsPerBlock = 1024;

    /// What a block of draws comes to; blocks are independent of each other and of threads.
    struct Block;
    struct BlockDeleter {
        void operator()(Block* block) const;
    };
    using BlockPointer = std::unique_ptr<Block, BlockDeleter>;
    /// `shares`: with the variance shares of the steps, which takes kBudgetSteps + 2 runs a draw
    /// instead of 2.
    [[nodiscard]] BlockPointer draw_block(std::uint64_t seed, std::uint64_t block,
                                          std::uint64_t draws, bool shares) const;
    /// Merges blocks in the order given.
    [[nodiscard]] BudgetOutcome merge(const std::vector<BlockPointer>& blocks,
                                      std::uint64_t seed) const;

private:
    struct Impl;
    explicit Budget(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

}  // namespace bw::blend
