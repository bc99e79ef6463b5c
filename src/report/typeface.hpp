// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <memory>
#include <span>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "report/drawing.hpp"

namespace bw::report {

/// The bytes of an embedded font file (OFL 1.1, data/notices).
[[nodiscard]] std::span<const unsigned char> font_bytes(Face face);

/// One glyph of a shaped run; lengths in points.
struct Glyph {
    unsigned index = 0;
    double advance = 0, dx = 0, dy = 0;
    std::size_t byte = 0;  ///< where its cluster starts in the text
};

/// The embedded faces, opened: shapes and measures text. Not for two threads at once.
///
/// Widths are the font's own, not rounded to any device, so that lines break alike everywhere.
class Typeface {
public:
    Typeface();
    ~Typeface();
    Typeface(const Typeface&) = delete;
    Typeface& operator=(const Typeface&) = delete;

    [[nodiscard]] std::vector<Glyph> shape(std::string_view text, const Style& style) const;
    [[nodiscard]] double width(std::string_view text, const Style& style) const;
    [[nodiscard]] double ascent(const Style& style) const;
    [[nodiscard]] double descent(const Style& style) const;  ///< below the baseline, positive

    /// Whether each character can be printed. Errors BadInput, naming the text and the character.
    [[nodiscard]] Result<void> printable(std::string_view text, Face face) const;

private:
    struct Opened;
    std::unique_ptr<Opened> opened_;
};

}  // namespace bw::report
