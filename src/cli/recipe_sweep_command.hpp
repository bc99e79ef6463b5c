// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"

namespace bw::cli {

struct RecipeSweepArguments {
    std::vector<std::string> targets, materials, lots, prices;
    std::string into, shard = "1/1", csv;
    std::uint64_t draws = 20000, seed = 1;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_recipe_sweep(Command recipe, RecipeSweepArguments& arguments);
/// 0 every case of the sweep has been answered by a recipe; 1 some have none, or are still to be
/// worked out by other shards; 2 bad input; 3 a file could not be written or read.
[[nodiscard]] int recipe_sweep(const RecipeSweepArguments& arguments, const Streams& streams);

}  // namespace bw::cli
