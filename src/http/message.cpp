// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/message.hpp"

#include "base/text.hpp"

namespace bw::http {
namespace {

constexpr unsigned kHexDigits = 16;
constexpr char kSpace = ' ';
constexpr char kDelete = 0x7f;

std::optional<unsigned> hex_digit(char c) {
    constexpr unsigned kTen = 10;
    if (base::is_digit(c)) {
        return static_cast<unsigned>(c - '0');
    }
    if (c >= 'a' && c <= 'f') {
        return static_cast<unsigned>(c - 'a') + kTen;
    }
    if (c >= 'A' && c <= 'F') {
        return static_cast<unsigned>(c - 'A') + kTen;
    }
    return std::nullopt;
}

bool is_control(char c) { return (c >= 0 && c < kSpace) || c == kDelete; }

/// Decodes %xx, and '+' as a blank where it is of a query.
std::optional<std::string> decoded(std::string_view text, bool of_query) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        char c = text[i];
        if (c == '%') {
            if (i + 2 >= text.size()) {
                return std::nullopt;
            }
            const auto high = hex_digit(text[i + 1]);
            const auto low = hex_digit(text[i + 2]);
            if (!high || !low) {
                return std::nullopt;
            }
            c = static_cast<char>(*high * kHexDigits + *low);
            i += 2;
        } else if (c == '+' && of_query) {
            c = kSpace;
        }
        if (is_control(c) && !(of_query && (c == '\n' || c == '\t'))) {
            return std::nullopt;
        }
        out.push_back(c);
    }
    return out;
}

bool is_plain_path(std::string_view path) {
    if (!path.starts_with('/') || path.find('\\') != std::string_view::npos) {
        return false;
    }
    std::size_t begin = 1;
    while (begin <= path.size()) {
        const std::size_t end = std::min(path.find('/', begin), path.size());
        const std::string_view part = path.substr(begin, end - begin);
        const bool empty_inside = part.empty() && end != path.size();
        if (empty_inside || part == "." || part == "..") {
            return false;
        }
        begin = end + 1;
    }
    return true;
}

template <class Pairs>
std::optional<std::string_view> only(const Pairs& pairs, std::string_view name) {
    std::optional<std::string_view> out;
    for (const auto& [key, value] : pairs) {
        if (key == name) {
            if (out) {
                return std::nullopt;
            }
            out = value;
        }
    }
    return out;
}

}  // namespace

std::optional<Target> parse_target(std::string_view target) {
    const std::size_t mark = target.find('?');
    auto path = decoded(target.substr(0, mark), false);
    if (!path || !is_plain_path(*path)) {
        return std::nullopt;
    }
    Target out{std::move(*path), {}};
    std::string_view rest = mark == std::string_view::npos ? "" : target.substr(mark + 1);
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find('&'), rest.size());
        const std::string_view pair = rest.substr(0, end);
        const std::size_t sign = std::min(pair.find('='), pair.size());
        auto key = decoded(pair.substr(0, sign), true);
        auto value = decoded(sign < pair.size() ? pair.substr(sign + 1) : "", true);
        if (!key || !value) {
            return std::nullopt;
        }
        if (!key->empty()) {
            out.query.emplace_back(std::move(*key), std::move(*value));
        }
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return out;
}

std::optional<std::string_view> Request::header(std::string_view name) const {
    return only(headers, name);
}

std::optional<std::string_view> Request::parameter(std::string_view name) const {
    for (const auto& [key, value] : query) {
        if (key == name) {
            return value;
        }
    }
    return std::nullopt;
}

std::optional<std::string_view> Request::cookie(std::string_view name) const {
    const auto all = header("cookie");
    std::string_view rest = all.value_or("");
    std::optional<std::string_view> out;
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find(';'), rest.size());
        const std::string_view pair = base::trim(rest.substr(0, end));
        const std::size_t sign = pair.find('=');
        if (sign != std::string_view::npos && pair.substr(0, sign) == name) {
            if (out) {
                return std::nullopt;
            }
            out = pair.substr(sign + 1);
        }
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return out;
}

}  // namespace bw::http
