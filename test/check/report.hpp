// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "check/judge.hpp"

namespace bw::check {

/// The result of a case as lines of JSON, one object for each comparison and each fault.
[[nodiscard]] std::string report_lines(const Case& c, const Judgement& judgement);

/// Appends the lines to the file that the environment variable BW_CHECK_REPORT names; does nothing
/// when it is not set. False when the file cannot be written.
[[nodiscard]] bool report(const Case& c, const Judgement& judgement);

}  // namespace bw::check
