// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/toml_string.hpp"

#include <fmt/format.h>

namespace bw::io {

std::string toml_string(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (static_cast<unsigned char>(c) < ' ' || c == '\x7f') {
            out += fmt::format("\\u{:04X}", static_cast<unsigned char>(c));
        } else {
            out += c;
        }
    }
    return out + "\"";
}

}  // namespace bw::io
