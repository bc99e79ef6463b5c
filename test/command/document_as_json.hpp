// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "io/document.hpp"

namespace bw::command_test {

inline nlohmann::ordered_json json_of(const io::Node& node) {
    if (const auto* table = node.table()) {
        auto out = nlohmann::ordered_json::object();
        for (const auto& [key, value] : *table) {
            out[key] = json_of(value);
        }
        return out;
    }
    if (const auto* array = node.array()) {
        auto out = nlohmann::ordered_json::array();
        for (const io::Node& item : *array) {
            out.push_back(json_of(item));
        }
        return out;
    }
    if (const auto* text = node.text()) {
        return *text;
    }
    if (const auto* flag = node.flag()) {
        return *flag;
    }
    return *node.number();
}

/// The same document in JSON; nothing when the text is no document.
inline std::optional<std::string> as_json(std::string_view toml) {
    const auto document = io::parse_document(toml, "document");
    if (!document) {
        return std::nullopt;
    }
    constexpr int kIndent = 1;
    return json_of(document->root).dump(kIndent);
}

}  // namespace bw::command_test
