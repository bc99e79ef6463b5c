// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

namespace bw::io {

/// The text as a basic string of TOML, in quotes, on one line.
[[nodiscard]] std::string toml_string(std::string_view text);

}  // namespace bw::io
