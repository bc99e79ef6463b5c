// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "cli/commands.hpp"

namespace bw::cli {

struct RecipeSolveArguments {
    std::string target;
    std::vector<std::string> materials;
    std::string lots, standing, out, csv, xlsx;
    std::vector<std::string> choose;  ///< "MATERIAL=LOT"
    bool split_lots = false;
    std::uint64_t draws = 20000;
    std::uint64_t seed = 1;
    bool json = false, quiet = false, brief = false, free_shares = false;
};
[[nodiscard]] int recipe_solve(const RecipeSolveArguments& arguments, const Streams& streams);

struct RecipeCompareArguments {
    std::string first, second;
    bool json = false, quiet = false;
};
[[nodiscard]] int recipe_compare(const RecipeCompareArguments& arguments, const Streams& streams);

}  // namespace bw::cli
