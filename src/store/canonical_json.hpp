// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::store {

/// Canonical bytes of a JSON text: one text for one content, so that its digest means something.
///
/// Definition   RFC 8785 restricted: object keys are ASCII and sorted by bytes, no spaces, strings
///              with the shortest escapes, whole numbers within +-(2^53 - 1). Other numbers are
///              kept as text by whoever writes them, with the digits as typed.
/// Errors       BadInput for text that is no JSON, a number that is not whole, a key twice, a key
///              beyond ASCII, more than 64 levels.
[[nodiscard]] Result<std::string> canonical_json(std::string_view text);

/// Whether the text is already canonical; the sentence says what is not.
[[nodiscard]] Result<void> expect_canonical(std::string_view text);

}  // namespace bw::store
