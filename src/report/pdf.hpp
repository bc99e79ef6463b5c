// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "report/drawing.hpp"
#include "report/typeface.hpp"

namespace bw::report {

struct PageSize {
    double width = 0, height = 0;  ///< points
    bool operator==(const PageSize&) const = default;
};

/// Points in a millimetre.
inline constexpr double kMm = 72.0 / 25.4;
// ISO 216.
inline constexpr PageSize kA4{210 * kMm, 297 * kMm}, kA5{148 * kMm, 210 * kMm},
    kA6{105 * kMm, 148 * kMm};

/// What the file says about itself.
struct FileFacts {
    std::string title, author, subject, keywords;
    std::string created;  ///< "2026-03-09T14:05:00Z"
};

/// The pages as a tagged PDF with the letters used embedded.
///
/// Inputs   pages of one size; every text printable and inside its page.
/// Errors   BadInput: a character that cannot be printed, `created` not of the form shown.
///          Internal: text beyond the edge of a page (a fault of the layout), cairo's own errors.
/// Bytes    the same for the same input and the same version of the libraries: no clock, no locale,
///          no font lookup. Not PDF/A: cairo does not write it.
[[nodiscard]] Result<std::string> pdf_bytes(std::span<const Drawing> pages, PageSize size,
                                            const FileFacts& facts, const Typeface& typeface);

/// Errors of `pdf_bytes` that the drawing alone tells: text that cannot be printed or lies outside.
[[nodiscard]] Result<void> looked_over(const Drawing& page, PageSize size,
                                       const Typeface& typeface);

/// Whether the text is a UTC time of the form "2026-03-09T14:05:00Z". Errors BadInput.
[[nodiscard]] Result<void> check_created(const std::string& created);

}  // namespace bw::report
