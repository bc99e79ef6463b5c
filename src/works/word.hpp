// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace bw::works {

/// Number of values of an enumeration that has words, counted from 0; each says so beside itself.
template <class E>
inline constexpr std::size_t kWords = 0;

/// The value of an enumeration that a word names, as name() writes it.
template <class E>
[[nodiscard]] std::optional<E> from_word(std::string_view word) {
    static_assert(kWords<E> > 0);
    for (std::size_t i = 0; i < kWords<E>; ++i) {
        const E value = static_cast<E>(i);
        if (name(value) == word) {
            return value;
        }
    }
    return std::nullopt;
}

/// All words of an enumeration: "received, on hold or accepted".
template <class E>
[[nodiscard]] std::string all_words() {
    std::string out;
    for (std::size_t i = 0; i < kWords<E>; ++i) {
        if (i > 0) {
            out += i + 1 == kWords<E> ? " or " : ", ";
        }
        out += name(static_cast<E>(i));
    }
    return out;
}

}  // namespace bw::works
