// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "service/blend_budget.hpp"
#include "service/blend_scatter.hpp"

namespace bw::cli {

struct BlendScatterArguments {
    std::string recipe;
    std::vector<std::string> materials;
    std::vector<std::string> portions;
    std::string container = "20 kg", batch = "500 kg", wanted = "2 %";
    bool json = false, quiet = false;
};
Command add_blend_scatter(Command blend, BlendScatterArguments& arguments);
[[nodiscard]] int blend_scatter(const BlendScatterArguments& arguments, const Streams& streams);

struct BlendBudgetArguments {
    std::string recipe;
    std::vector<std::string> materials;
    std::string batch = "500 kg", container = "20 kg", portion = "50 g", sample = "500 g";
    std::string reading = "1 %", premix = "0 %", layered;
    std::vector<std::string> band{"2 %"}, analysis{"1 %"};
    bool mixed = false;
    std::uint64_t draws = 100000, seed = 1;
    bool json = false, quiet = false;
};
Command add_blend_budget(Command blend, BlendBudgetArguments& arguments);
[[nodiscard]] int blend_budget(const BlendBudgetArguments& arguments, const Streams& streams);

[[nodiscard]] std::string scatter_text(const service::BlendScatterReport& report);
[[nodiscard]] std::string scatter_json(const service::BlendScatterReport& report);
[[nodiscard]] std::string lot_to_reef_text(const service::BlendBudgetReport& report);
[[nodiscard]] std::string lot_to_reef_json(const service::BlendBudgetReport& report);

}  // namespace bw::cli
