// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string_view>

namespace bw::http {

/// A file that was built into the program (tools/embed).
struct Asset {
    std::string_view path;    ///< "/index.html", "/assets/app-5f3a.js", "/examples/raised.toml"
    std::string_view type;    ///< of its contents
    std::string_view sha256;  ///< of its plain bytes
    std::string_view plain, gzip;
    bool immutable;  ///< its path changes with its bytes
};

/// Ordered by path.
[[nodiscard]] std::span<const Asset> assets();
[[nodiscard]] const Asset* find_asset(std::string_view path);

}  // namespace bw::http
