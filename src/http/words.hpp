// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/result.hpp"
#include "base/text.hpp"
#include "works/word.hpp"

namespace bw::http {

/// An enumeration's word. Errors UnknownName naming the field and all words.
template <class E>
[[nodiscard]] Result<E> word_of(const std::string& text, std::string_view field) {
    const auto known = works::from_word<E>(text);
    if (!known) {
        return fail(
            ProblemCode::UnknownName,
            fmt::format("{} is not known: write {}", base::quoted(text), works::all_words<E>()),
            {"", 0, std::string(field)});
    }
    return *known;
}

/// Errors   BadInput for what is neither empty nor a day of the calendar.
[[nodiscard]] Result<void> check_day(const std::string& day, std::string_view field);

}  // namespace bw::http
