// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "io/cell_table.hpp"

namespace bw::io {

struct DecodedText {
    std::string utf8;
    Encoding encoding = Encoding::Utf8;
};

/// Bytes of a text file as UTF-8, without byte order mark.
///
/// Definition   A byte order mark decides; without one, well-formed UTF-8 is UTF-8 and anything
/// else
///              Windows-1252, unless it holds UTF-8 as well. `declared` goes before the guess,
///              never before a mark.
/// Errors       TooLarge; BadInput for an empty file, NUL bytes, bytes that the encoding does not
///              have, a mixture, UTF-32, and files that are no text: workbooks, PDF, web pages.
/// Source       Windows-1252 as in the WHATWG index of that name, its five free bytes refused.
[[nodiscard]] Result<DecodedText> decode_text(std::string_view bytes,
                                              std::optional<Encoding> declared = std::nullopt);

}  // namespace bw::io
