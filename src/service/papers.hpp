// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <string>

#include "base/result.hpp"
#include "store/books.hpp"

namespace bw::service {

/// Media types of the papers that the books keep.
inline constexpr const char* kPdf = "application/pdf";
inline constexpr const char* kJson = "application/json";

/// So much of a content mark is printed, and asked for where one is typed.
inline constexpr std::size_t kShortMark = 16;

/// SHA-256 of the newest version of a record as the books keep it. Errors NotFound.
[[nodiscard]] Result<std::string> content_mark(const store::Books& books, const std::string& kind,
                                               const std::string& id);

/// What somebody looked at before they sign.
struct Shown {
    std::string typed;  ///< a content mark, or its beginning
    std::string what;   ///< that is signed: "what batch B26-0001-K rests on now"
};

/// Errors   Refused where what was shown is not what has this content mark.
[[nodiscard]] Result<void> check_shown(const Shown& shown, const std::string& mark);

}  // namespace bw::service
