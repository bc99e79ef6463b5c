// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/text.hpp"

#include <algorithm>
#include <cstdint>

namespace bw::base {

std::string_view trim(std::string_view text) {
    constexpr std::string_view kBlank = " \t\r\n";
    const auto first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }
bool is_lower(char c) { return c >= 'a' && c <= 'z'; }

std::string lower_ascii(std::string_view text) {
    std::string out(text);
    for (char& c : out) {
        if (is_upper(c)) {
            c = static_cast<char>(c - 'A' + 'a');
        }
    }
    return out;
}

namespace {

/// Length of the well-formed sequence that starts at `at`, or 0. Table 3-7 of the Unicode standard.
std::size_t utf8_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<std::uint8_t>(text[i]) : std::uint8_t{0};
    };
    const auto tail = [&](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
    const std::uint8_t b0 = byte(at);
    const std::uint8_t b1 = byte(at + 1);
    if (b0 < 0x80) {
        return 1;
    }
    if (b0 >= 0xC2 && b0 <= 0xDF) {
        return tail(at + 1) ? 2 : 0;
    }
    if (b0 >= 0xE0 && b0 <= 0xEF) {
        const bool second =
            tail(at + 1) && !(b0 == 0xE0 && b1 < 0xA0) && !(b0 == 0xED && b1 > 0x9F);
        return second && tail(at + 2) ? 3 : 0;
    }
    if (b0 >= 0xF0 && b0 <= 0xF4) {
        const bool second =
            tail(at + 1) && !(b0 == 0xF0 && b1 < 0x90) && !(b0 == 0xF4 && b1 > 0x8F);
        return second && tail(at + 2) && tail(at + 3) ? 4 : 0;
    }
    return 0;
}

/// Fewest insertions, deletions, exchanges and swaps of neighbours that turn one word into the
/// other.
std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) {
        for (std::size_t j = 0; j <= b.size(); ++j) {
            if (i == 0 || j == 0) {
                d[i][j] = i + j;
                continue;
            }
            const std::size_t exchange = d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, exchange});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
            }
        }
    }
    return d[a.size()][b.size()];
}

}  // namespace

std::optional<std::size_t> first_invalid_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = utf8_length(text, i);
        if (length == 0) {
            return i;
        }
        i += length;
    }
    return std::nullopt;
}

std::size_t display_width(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<std::uint8_t>(c) & 0xC0U) != 0x80U;
    }));
}

std::optional<std::string> closest(std::string_view word,
                                   std::span<const std::string_view> candidates) {
    constexpr std::size_t kLongest = 64;  // beyond this a typing slip is no longer the question
    if (word.empty() || word.size() > kLongest) {
        return std::nullopt;
    }
    const std::string wanted = lower_ascii(word);
    std::size_t best = std::max<std::size_t>(1, word.size() / 3) + 1;
    std::optional<std::string> found;
    for (const std::string_view candidate : candidates) {
        const std::size_t distance = edit_distance(wanted, lower_ascii(candidate));
        if (distance < best) {
            best = distance;
            found = std::string(candidate);
        }
    }
    return found;
}

std::string join_words(std::span<const std::string> words, std::string_view last) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) {
            out += i + 1 == words.size() ? " " + std::string(last) + " " : std::string(", ");
        }
        out += words[i];
    }
    return out;
}

std::string quoted(std::string_view text) {
    constexpr std::size_t kLongest = 60;
    std::string out = "'";
    std::size_t i = 0;
    while (i < text.size() && i < kLongest) {
        const std::size_t length = utf8_length(text, i);
        const bool printable = length > 1 || (length == 1 && text[i] >= ' ' && text[i] != '\x7f');
        if (printable) {
            out += text.substr(i, length);
        } else {
            out += '?';
        }
        i += std::max<std::size_t>(length, 1);
    }
    return out + (i < text.size() ? "...'" : "'");
}

std::string one_line(std::string_view text) {
    std::string out(text);
    std::replace_if(
        out.begin(), out.end(), [](char c) { return (c >= 0 && c < ' ') || c == '\x7f'; }, '?');
    return out;
}

std::vector<std::string> wrap(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    std::string line;
    for (std::size_t i = 0; i < text.size();) {
        std::size_t end = std::min(text.find(' ', i), text.size());
        if (end + 1 < text.size() && text[end + 1] == '%') {  // a number stays with its per cent
            end = std::min(text.find(' ', end + 1), text.size());
        }
        const std::string_view word = text.substr(i, end - i);
        if (!line.empty() && display_width(line) + 1 + display_width(word) > width) {
            lines.push_back(std::move(line));
            line.clear();
        }
        if (!line.empty()) {
            line += ' ';
        }
        line += word;
        i = end + 1;
    }
    if (!line.empty()) {
        lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace bw::base
