// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "store/record.hpp"

namespace bw::store {

/// Limits stated in docs/reference/store.md.
inline constexpr std::size_t kMostNameBytes = 200;        // kinds, ids, keys, names
inline constexpr std::size_t kMostLineBytes = 2000;       // titles
inline constexpr std::size_t kMostTextBytes = 65536;      // reasons
inline constexpr std::size_t kMostBodyBytes = 16777216;   // bodies and answers: 16 MiB
inline constexpr std::size_t kMostFileBytes = 20971520;   // attachments: 20 MiB
inline constexpr std::size_t kMostMeasurements = 200000;  // of one record

/// Whether a change may be written as it stands, before anything is looked up. Errors BadInput,
/// which names the field; TooLarge.
[[nodiscard]] Result<void> expect_allowed(const Change& change);
[[nodiscard]] Result<void> expect_name(std::string_view value, const char* field);
/// Whether words can be looked for. Errors BadInput.
[[nodiscard]] Result<void> expect_utf8(std::string_view words, const char* field);
/// Whether a page may have so many rows. Errors OutOfRange.
[[nodiscard]] Result<void> expect_limit(std::int64_t limit, std::int64_t most);

}  // namespace bw::store
