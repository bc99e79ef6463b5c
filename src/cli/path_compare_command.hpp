// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "cli/command_line.hpp"
#include "cli/path_command.hpp"
#include "service/path_compare.hpp"

namespace bw::cli {

struct PathCompareArguments {
    VatArguments vat;
    std::string step = "30 min", pour = "20 min", tank = "28 degC";
    std::string csv;
    bool json = false, quiet = false;
};
Command add_path_compare(Command path, PathCompareArguments& arguments);
[[nodiscard]] int path_compare(const PathCompareArguments& arguments, const Streams& streams);

}  // namespace bw::cli
