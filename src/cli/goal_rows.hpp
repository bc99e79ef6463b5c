// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "cli/json_values.inl"
#include "service/water_against_target.hpp"

namespace bw::cli {

/// Water against target, as a table and as JSON.
[[nodiscard]] std::string goals_text(const std::vector<service::GoalRow>& rows);
[[nodiscard]] Json goals_json(const std::vector<service::GoalRow>& rows);

}  // namespace bw::cli
