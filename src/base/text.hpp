// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace bw::base {

[[nodiscard]] std::string_view trim(std::string_view text);
[[nodiscard]] std::string lower_ascii(std::string_view text);
[[nodiscard]] bool is_digit(char c);
[[nodiscard]] bool is_upper(char c);
[[nodiscard]] bool is_lower(char c);

/// Offset of the first byte that is not part of well-formed UTF-8, or nothing.
[[nodiscard]] std::optional<std::size_t> first_invalid_utf8(std::string_view text);

/// Number of columns a well-formed UTF-8 text takes on a terminal, one per code point.
[[nodiscard]] std::size_t display_width(std::string_view text);

/// The candidate that differs from `word` by the fewest edits, if by no more than a third of its
/// length.
[[nodiscard]] std::optional<std::string> closest(std::string_view word,
                                                 std::span<const std::string_view> candidates);

/// "a", "a and b", "a, b and c".
[[nodiscard]] std::string join_words(std::span<const std::string> words,
                                     std::string_view last = "and");

/// A printable form of a piece of user text for a message: quoted, cut at 60 bytes, control bytes
/// replaced.
[[nodiscard]] std::string quoted(std::string_view text);

/// The text with control bytes (line breaks, escape codes) replaced by '?'.
[[nodiscard]] std::string one_line(std::string_view text);

/// Breaks text into lines no wider than `width`, at spaces.
[[nodiscard]] std::vector<std::string> wrap(std::string_view text, std::size_t width);

}  // namespace bw::base
