// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Included by .cpp files of this folder alone: the library of JSON stays out of headers.
#pragma once
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "base/notice.hpp"
#include "brine/instrument.hpp"

// Compiled in json_values.cpp alone: what weighs most in each file that makes JSON.
extern template nlohmann::basic_json<nlohmann::ordered_map>::basic_json(initializer_list_t, bool, value_t);
extern template nlohmann::basic_json<nlohmann::ordered_map>::basic_json(const nlohmann::ordered_json&);
extern template void nlohmann::basic_json<nlohmann::ordered_map>::json_value::destroy(value_t);
extern template void nlohmann::basic_json<nlohmann::ordered_map>::push_back(nlohmann::ordered_json&&);
extern template nlohmann::ordered_json& nlohmann::basic_json<nlohmann::ordered_map>::operator[](object_t::key_type);

namespace bw::cli {

using Json = nlohmann::ordered_json;

/// Null where a number is not finite, or not there.
[[nodiscard]] inline Json json_number(double value) {
    return std::isfinite(value) ? Json(value) : Json(nullptr);
}
[[nodiscard]] inline Json json_number(std::optional<double> value) {
    return value ? json_number(*value) : Json(nullptr);
}

/// The sentences of the notices.
[[nodiscard]] inline Json json_notices(const base::Notices& notices) {
    Json out = Json::array();
    for (const base::Notice& n : notices) {
        out.push_back(n.text);
    }
    return out;
}
/// With their codes, where a page tells notices apart.
[[nodiscard]] inline Json json_coded_notices(const base::Notices& notices) {
    Json out = Json::array();
    for (const base::Notice& n : notices) {
        out.push_back({{"code", n.code}, {"text", n.text}});
    }
    return out;
}

/// The parts of a budget by their names: "reading_g_per_kg".
[[nodiscard]] inline Json json_budget(const std::vector<brine::BudgetPart>& budget) {
    Json out = Json::object();
    for (const brine::BudgetPart& part : budget) {
        out[std::string(part.name) + "_g_per_kg"] = json_number(part.g_per_kg);
    }
    return out;
}

/// The document as printed. Bytes that are not UTF-8 are replaced.
[[nodiscard]] std::string json_text(const Json& document);

/// A document that the program wrote itself.
[[nodiscard]] Json json_of_text(const std::string& text);

}  // namespace bw::cli
