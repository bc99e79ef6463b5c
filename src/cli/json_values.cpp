// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/json_values.inl"

template nlohmann::basic_json<nlohmann::ordered_map>::basic_json(initializer_list_t, bool, value_t);
template nlohmann::basic_json<nlohmann::ordered_map>::basic_json(const nlohmann::ordered_json&);
template void nlohmann::basic_json<nlohmann::ordered_map>::json_value::destroy(value_t);
template void nlohmann::basic_json<nlohmann::ordered_map>::push_back(nlohmann::ordered_json&&);
template nlohmann::ordered_json& nlohmann::basic_json<nlohmann::ordered_map>::operator[](
    object_t::key_type);

namespace bw::cli {

std::string json_text(const Json& document) {
    constexpr int kIndent = 2;
    return document.dump(kIndent, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json json_of_text(const std::string& text) { return Json::parse(text); }

}  // namespace bw::cli
