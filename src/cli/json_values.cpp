// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/json_values.hpp"

#include <cmath>

namespace bw::cli {

Json json_number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json json_number(std::optional<double> value) {
    return value ? json_number(*value) : Json(nullptr);
}

Json json_notices(const base::Notices& notices) {
    Json out = Json::array();
    for (const base::Notice& n : notices) {
        out.push_back(n.text);
    }
    return out;
}

Json json_budget(const std::vector<brine::BudgetPart>& budget) {
    Json out = Json::object();
    for (const brine::BudgetPart& part : budget) {
        out[std::string(part.name) + "_g_per_kg"] = json_number(part.g_per_kg);
    }
    return out;
}

std::string json_text(const Json& document) {
    constexpr int kIndent = 2;
    return document.dump(kIndent, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace bw::cli
