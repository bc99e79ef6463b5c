// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <string>

#include "base/result.hpp"

namespace bw::cli {

/// All bytes of a file, at most `most`.
///
/// Errors   BadInput where it cannot be opened; TooLarge; Disk.
[[nodiscard]] Result<std::string> bytes_of(const std::string& file, std::size_t most);

/// What the books keep of a file.
inline constexpr std::size_t kMostAttached = 20U << 20U;

}  // namespace bw::cli
