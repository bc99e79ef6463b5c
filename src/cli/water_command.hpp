// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/commands.hpp"

namespace bw::cli {

struct WaterShowArguments {
    std::string water;
    std::vector<std::string> materials;
    std::string temperature;  ///< "20 degC"
    std::string csv;
    bool json = false, quiet = false;
};
[[nodiscard]] int water_show(const WaterShowArguments& arguments, const Streams& streams);

struct WaterCompareArguments {
    std::string first, second;
    std::vector<std::string> materials;
    std::string temperature;
    bool json = false, quiet = false;
};
[[nodiscard]] int water_compare(const WaterCompareArguments& arguments, const Streams& streams);

}  // namespace bw::cli
