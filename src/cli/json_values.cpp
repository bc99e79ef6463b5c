// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/json_values.inl"

template nlohmann::ordered_json::basic_json(initializer_list_t, bool, value_t);
template nlohmann::ordered_json::basic_json(const nlohmann::ordered_json&);
template nlohmann::ordered_json::~basic_json();
template void nlohmann::ordered_json::json_value::destroy(value_t);
template void nlohmann::ordered_json::push_back(nlohmann::ordered_json&&);
template nlohmann::ordered_json& nlohmann::ordered_json::operator[](object_t::key_type);

namespace bw::cli {

std::string json_text(const Json& document) {
    constexpr int kIndent = 2;
    return document.dump(kIndent, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json json_of_text(const std::string& text) { return Json::parse(text); }

}  // namespace bw::cli
