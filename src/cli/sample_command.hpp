// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"

namespace bw::cli {

struct SampleHomogeneityArguments {
    std::string file, goal = "2 %", by_chance, csv;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_sample_homogeneity(Command sample, SampleHomogeneityArguments& arguments);
/// 0 homogeneous; 1 not, or not to be told; 2 bad input; 3 a file could not be written.
[[nodiscard]] int sample_homogeneity(const SampleHomogeneityArguments& arguments,
                                     const Streams& streams);

}  // namespace bw::cli
