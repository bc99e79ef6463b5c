// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cells.hpp"

#include <charconv>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <limits>

namespace datac {

void refuse(const std::string& where, const std::string& what) {
    std::cerr << "datac: " << where << ": " << what << '\n';
    std::exit(1);
}

std::string place(const std::string& file, const toml::node& node) {
    return "data/" + file + ".toml:" + std::to_string(node.source().begin.line);
}

double number_of(const std::string& where, const std::string& key, const toml::node& node) {
    double value = std::numeric_limits<double>::quiet_NaN();
    if (const auto text = node.value<std::string>()) {
        const auto end = text->data() + text->size();
        if (std::from_chars(text->data(), end, value).ptr != end) {
            refuse(where, key + " is not a number");
        }
    } else if (const auto number = node.value<double>()) {
        value = *number;
    }
    if (!std::isfinite(value)) {
        refuse(where, key + " is not a finite number");
    }
    return value;
}

std::string literal(const std::string& where, const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c < ' ' || c > '~') {
            refuse(where, "text is not printable ASCII: " + text);
        }
        if (c == '"' || c == '\\') {
            out += '\\';
        }
        out += c;
    }
    return out + "\"";
}

std::string number_text(double value) {
    char buffer[64];
    const auto end =
        std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::scientific).ptr;
    return {buffer, end};
}

toml::table load(const std::string& folder, const std::string& file) {
    try {
        toml::table doc = toml::parse_file(folder + "/" + file + ".toml");
        if (doc["table"]["id"].value_or(std::string()) != file) {
            refuse("data/" + file + ".toml", "[table] id must be \"" + file + "\"");
        }
        return doc;
    } catch (const toml::parse_error& e) {
        refuse("data/" + file + ".toml:" + std::to_string(e.source().begin.line),
               std::string(e.description()));
    }
}

double number_in(const std::string& where, const toml::table& row, const char* key) {
    const toml::node* node = row.get(key);
    if (node == nullptr) {
        refuse(where, std::string("the row has no ") + key);
    }
    return number_of(where, key, *node);
}

std::string text_in(const std::string& where, const toml::table& row, const char* key) {
    const auto text = row[key].value<std::string>();
    if (!text || text->empty()) {
        refuse(where, std::string(key) + " must be text that is not empty");
    }
    return *text;
}

}  // namespace datac
