// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/identifier.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::works {
namespace {

constexpr int kModulus = 36;
constexpr int kTen = 10;

int value_of(char c) {
    if (base::is_digit(c)) {
        return c - '0';
    }
    return base::is_upper(c) ? c - 'A' + kTen : -1;
}

char character_of(int value) {
    return static_cast<char>(value < kTen ? '0' + value : 'A' + value - kTen);
}

}  // namespace

Result<char> check_character(std::string_view text) {
    int p = kModulus;
    for (const char c : text) {
        if (c == '-') {
            continue;
        }
        const int v = value_of(c);
        if (v < 0) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} has a character that no identifier has: only 0-9, A-Z and "
                                    "'-' stand in one",
                                    base::quoted(text)));
        }
        p = (p + v) % kModulus;
        if (p == 0) {
            p = kModulus;
        }
        p = p * 2 % (kModulus + 1);
    }
    return character_of((kModulus + 1 - p) % kModulus);
}

std::string identifier(std::string_view letters, int year, std::int64_t& n) {
    constexpr int kCentury = 100;
    while (true) {
        const std::string body = fmt::format("{}{:02}-{:04}", letters, year % kCentury, n);
        const auto check = check_character(body);
        base::expect(check.has_value(), "letters of a series are capitals");
        if (*check != 'I' && *check != 'O') {
            return fmt::format("{}-{}", body, *check);
        }
        ++n;
    }
}

Result<void> check_identifier(std::string_view text) {
    const std::size_t dash = text.rfind('-');
    if (dash == std::string_view::npos || dash + 2 != text.size()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no identifier: it ends in '-' and its check character, as "
                                "B26-0142-K does",
                                base::quoted(text)));
    }
    BW_TRY(check, check_character(text.substr(0, dash)));
    if (check != text.back()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the check character of {} does not fit: a character is wrong, or "
                                "two are swapped; read the label again",
                                base::quoted(text)));
    }
    return {};
}

}  // namespace bw::works
