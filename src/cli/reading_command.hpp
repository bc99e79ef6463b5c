// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "cli/salt_options.hpp"

namespace bw::cli {

struct ReadingConvertArguments {
    std::vector<std::string> readings;
    std::string at, salinity;
    SaltOptions salt;
    bool json = false, quiet = false;
};
[[nodiscard]] Command add_reading_convert(Command reading, ReadingConvertArguments& arguments);
/// 0 done; 1 the readings contradict one another; 2 bad input.
[[nodiscard]] int reading_convert(const ReadingConvertArguments& arguments, const Streams& streams);

}  // namespace bw::cli
