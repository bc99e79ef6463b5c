// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "http/message.hpp"

namespace bw::http {

inline constexpr int kOk = 200;
inline constexpr int kNoContent = 204;
inline constexpr int kNotModified = 304;
inline constexpr int kBadRequest = 400;
inline constexpr int kNotSignedIn = 401;
inline constexpr int kForbidden = 403;
inline constexpr int kNotFound = 404;
inline constexpr int kMethodNotAllowed = 405;
inline constexpr int kConflict = 409;
inline constexpr int kTooLarge = 413;
inline constexpr int kOtherType = 415;
inline constexpr int kTooMany = 429;
inline constexpr int kFault = 500;
inline constexpr int kBusy = 503;

[[nodiscard]] Response json_answer(std::string body, int status = kOk);

/// A problem as application/problem+json: its sentence, status, code and place.
[[nodiscard]] Response problem_answer(const Problem& problem);
[[nodiscard]] Response problem_answer(const Problem& problem, int status);

/// Text as a JSON string, with its quotation marks. Bytes that are not UTF-8 are replaced.
[[nodiscard]] std::string json_string(std::string_view text);

/// A file for download, by a name of plain characters.
[[nodiscard]] Response download(std::string bytes, std::string type, std::string_view name);

}  // namespace bw::http
