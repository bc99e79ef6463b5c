// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "base/notice.hpp"
#include "brine/instrument.hpp"

namespace bw::cli {

using Json = nlohmann::ordered_json;

/// Null where a number is not finite, or not there.
[[nodiscard]] Json json_number(double value);
[[nodiscard]] Json json_number(std::optional<double> value);

/// The sentences of the notices.
[[nodiscard]] Json json_notices(const base::Notices& notices);

/// The parts of a budget by their names: "reading_g_per_kg".
[[nodiscard]] Json json_budget(const std::vector<brine::BudgetPart>& budget);

/// The document as printed. Bytes that are not UTF-8 are replaced.
[[nodiscard]] std::string json_text(const Json& document);

}  // namespace bw::cli
