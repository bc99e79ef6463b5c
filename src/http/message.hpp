// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bw::http {

/// A request as it came through the door: its head is whole and its body is within the limit.
struct Request {
    std::string method;  ///< "GET", "HEAD", "POST", "PUT", "PATCH" or "DELETE"
    std::string path;    ///< decoded, begins with '/', without "." and ".." and control characters
    std::vector<std::pair<std::string, std::string>> query;    ///< decoded, in order
    std::vector<std::pair<std::string, std::string>> headers;  ///< names in small letters
    std::string body;
    std::string peer;  ///< address of who asks

    /// The only header of this name; nothing where there is none or more than one.
    [[nodiscard]] std::optional<std::string_view> header(std::string_view name) const;
    /// The first parameter of this name.
    [[nodiscard]] std::optional<std::string_view> parameter(std::string_view name) const;
    /// The cookie of this name; nothing where there is none or more than one.
    [[nodiscard]] std::optional<std::string_view> cookie(std::string_view name) const;
};

struct Response {
    int status = 200;
    std::string type = "application/json";  ///< of the body
    std::string body;
    std::vector<std::pair<std::string, std::string>> headers;
};

/// Answers a request. Called by several threads at once; what it throws becomes an answer 500.
using Handler = std::function<Response(const Request&)>;

/// A target "/a%20b?x=1" in its parts, decoded once.
///
/// Errors   nothing where it is no plain path: not beginning with '/', a broken escape, a control
///          character, '\', "//", or "." and ".." as parts, also written as escapes.
struct Target {
    std::string path;
    std::vector<std::pair<std::string, std::string>> query;
};
[[nodiscard]] std::optional<Target> parse_target(std::string_view target);

}  // namespace bw::http
