// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"

namespace bw::cli {

struct BlendMixingArguments {
    std::string recipe;
    std::vector<std::string> materials, samples, repeatability{"1 %"}, seen;
    std::string batch = "500 kg", wanted = "2 %", confidence = "95 %";
    std::int64_t results = 2, premix_for = 1;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_blend_mixing(Command blend, BlendMixingArguments& arguments);
/// 0 samples of the largest mass prove the promise; 1 they cannot; 2 bad input.
[[nodiscard]] int blend_mixing(const BlendMixingArguments& arguments, const Streams& streams);

}  // namespace bw::cli
