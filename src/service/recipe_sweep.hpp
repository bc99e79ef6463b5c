// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "io/document.hpp"
#include "service/solve_recipe.hpp"

namespace bw::service {

/// Factors by which one material's price is multiplied.
struct PriceSteps {
    std::string material;
    std::vector<double> factors;
};

/// Recipes for every target with every list of lots at every combination of prices.
struct SweepRequest {
    std::vector<io::Document> targets;
    std::vector<io::Document> materials;
    std::vector<io::Document> lots;  ///< none: catalogue values
    std::vector<PriceSteps> prices;  ///< none: the catalogue's
    std::uint64_t draws = 20000;
    std::uint64_t seed = 1;
};

struct SweepCase {
    std::string id;  ///< 32 hexadecimal digits of all that goes into its answer
    std::size_t target = 0;
    std::optional<std::size_t> lots;
    std::vector<double> factors;  ///< of the prices, in their order
};

/// One case answered, as far as a comparison needs it.
struct SweepAnswer {
    struct Part {
        std::string material, lot;
        double share = 0;  ///< of the blend
    };
    bool solved = false;
    std::string target, currency;
    std::optional<double> cost_per_t_blend;
    std::optional<double> all_inside;  ///< chance that every band holds for drawn lots
    std::vector<Part> parts;
    std::string why;  ///< where there is no recipe
};

/// All cases of a sweep, targets first, then lots, then prices with the last one quickest. An id is
/// that of the documents, factors, draws, seed, program and data tables: another version of either
/// answers anew.
///
/// Errors   BadInput without a target, a factor that is not above 0, a material named twice or
///          without a price; UnknownName for one that is not in the catalogue; OutOfRange above
///          kMostSweepCases.
inline constexpr std::size_t kMostSweepCases = 1'000'000;
[[nodiscard]] Result<std::vector<SweepCase>> sweep_cases(const SweepRequest& request);

/// Solves one case. Errors   those of solve_recipe().
[[nodiscard]] Result<SweepAnswer> sweep_case(const SweepRequest& request, const SweepCase& of);

/// One share of the work: cases k - 1, k - 1 + n, ... Inputs   1 <= k <= n.
struct Shard {
    std::size_t k = 1, n = 1;
    [[nodiscard]] bool holds(std::size_t at) const { return at % n == k - 1; }
};

}  // namespace bw::service
