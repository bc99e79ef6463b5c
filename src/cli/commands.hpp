// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdio>
#include <string>
#include <vector>

namespace bw::cli {

/// Where a command writes: answers to out, everything else to err.
struct Streams {
    std::FILE* out;
    std::FILE* err;
};

/// Runs the command line and gives its exit code: 0 done, 1 the answer is no, 2 bad input or wrong
/// use, 3 disk, 4 refused by a rule, 70 a fault of the program.
[[nodiscard]] int run(const std::vector<std::string>& arguments, const Streams& streams);

}  // namespace bw::cli
