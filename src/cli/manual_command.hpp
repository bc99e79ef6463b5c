// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "cli/command_line.hpp"
#include "cli/commands.hpp"

namespace bw::cli {

struct ManualArguments {
    std::string completions;
};
[[nodiscard]] Command add_manual(Command app, ManualArguments& arguments);
/// Prints the manual page of all commands, or the completions of a shell. 0 always.
[[nodiscard]] int manual(Command app, const ManualArguments& arguments, const Streams& streams);

}  // namespace bw::cli
