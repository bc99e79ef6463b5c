// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "cli/commands.hpp"

namespace bw::app {

/// Serves the books until the process is told to stop (SIGINT, SIGTERM); says its address first.
[[nodiscard]] Result<int> serve(const cli::ServeOrder& order, const cli::Streams& streams);

}  // namespace bw::app
