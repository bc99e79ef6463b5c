// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/document_text.hpp"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "base/decimal.hpp"

namespace bw::io {
namespace {

std::string json_string(const std::string& text) { return nlohmann::json(text).dump(); }

template <class List, class Each>
std::string joined(const List& list, char open, char close, const Each& each) {
    std::string out(1, open);
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (i > 0) {
            out += ',';
        }
        out += each(list[i]);
    }
    out += close;
    return out;
}

}  // namespace

std::string json_text(const Node& node) {
    if (const auto* text = node.text()) {
        return json_string(*text);
    }
    if (const auto* number = node.number()) {
        return base::format_exact(*number);
    }
    if (const auto* flag = node.flag()) {
        return *flag ? "true" : "false";
    }
    if (const auto* array = node.array()) {
        return joined(*array, '[', ']', [](const Node& n) { return json_text(n); });
    }
    return joined(*node.table(), '{', '}', [](const Node::Entry& e) {
        return json_string(e.key) + ":" + json_text(e.value);
    });
}

Node without(const Node& table, const std::vector<std::string_view>& keys) {
    Node::Table out;
    for (const Node::Entry& e : *table.table()) {
        if (std::find(keys.begin(), keys.end(), e.key) == keys.end()) {
            out.push_back(e);
        }
    }
    return {std::move(out), table.line};
}

void add_text(Node& table, std::string_view key, std::string text) {
    std::get<Node::Table>(table.value).push_back({std::string(key), {std::move(text), 0}});
}

Document document_of(std::string_view kind, std::string_view list, std::vector<Node> tables,
                     std::string name) {
    Node root{Node::Table{}, 0};
    add_text(root, "format", "brinewright/1");
    add_text(root, "kind", std::string(kind));
    std::get<Node::Table>(root.value).push_back({std::string(list), {std::move(tables), 0}});
    return {std::move(name), std::move(root)};
}

}  // namespace bw::io
