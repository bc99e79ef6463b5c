// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/decimal.hpp"
#include "io/sheet.hpp"

namespace bw::io {
namespace {

std::string quoted_cell(std::string text) {
    constexpr std::string_view kFormulaStarts = "=+-@\t\r";
    if (!text.empty() && kFormulaStarts.find(text.front()) != std::string_view::npos) {
        text.insert(text.begin(), '\'');
    }
    if (text.find_first_of(",\"\r\n") == std::string::npos) {
        return text;
    }
    std::string out = "\"";
    for (const char c : text) {
        out += c;
        if (c == '"') {
            out += '"';
        }
    }
    return out + "\"";
}

std::string cell_text(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) {
        return base::format_exact(*number);
    }
    if (const auto* text = std::get_if<std::string>(&cell)) {
        return quoted_cell(*text);
    }
    return {};
}

}  // namespace

std::string delimited(const Sheet& sheet) {
    std::string out;
    const auto end_line = [&] {
        out.back() = '\r';  // replaces the last comma
        out += '\n';
    };
    for (const std::string& head : sheet.head) {
        out += quoted_cell(head) + ",";
    }
    end_line();
    for (const auto& row : sheet.rows) {
        for (const Cell& cell : row) {
            out += cell_text(cell) + ",";
        }
        end_line();
    }
    return out;
}

}  // namespace bw::io
