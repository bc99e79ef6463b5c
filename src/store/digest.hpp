// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::store {

/// SHA-256 (FIPS 180-4) of the bytes, 64 hexadecimal digits in lower case.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

/// The same of a file, read in pieces. Errors Disk.
[[nodiscard]] Result<std::string> sha256_of_file(const std::string& path);

/// `bytes` random bytes of the system's generator in hexadecimal: request numbers, identities.
[[nodiscard]] std::string random_hex(int bytes);

/// The bytes of base64 text (RFC 4648, with its padding); nothing for any other text.
[[nodiscard]] std::optional<std::string> from_base64(std::string_view text);

}  // namespace bw::store
