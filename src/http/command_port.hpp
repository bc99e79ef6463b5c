// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "base/watch.hpp"

namespace bw::http {

/// What a command of the command line answered.
struct CommandAnswer {
    int code = 0;
    std::string out, err;
};

/// Runs one command as the command line would, without a terminal, watched or not (null). Called by
/// several threads.
using CommandPort =
    std::function<CommandAnswer(const std::vector<std::string>& words, base::Watch* watch)>;

}  // namespace bw::http
