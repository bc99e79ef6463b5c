// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "service/recipe_trade.hpp"

namespace bw::cli {

struct RecipeTradeArguments {
    std::string target;
    std::vector<std::string> materials, magnesium;
    std::string calcium_from, calcium_to, csv, svg;
    int points = 9;
    bool json = false, quiet = false;
};
Command add_recipe_trade(Command recipe, RecipeTradeArguments& arguments);
[[nodiscard]] int recipe_trade(const RecipeTradeArguments& arguments, const Streams& streams);

/// The curve drawn: one line per magnesium, axes with units. SVG 1.1 without scripts or fonts of
/// its own.
[[nodiscard]] std::string trade_picture(const service::TradeReport& report);

}  // namespace bw::cli
