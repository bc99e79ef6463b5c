// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "report/drawing.hpp"
#include "report/paper.hpp"
#include "report/typeface.hpp"

namespace bw::report {

/// A status as fill, shape and word: tick in circle, half-filled diamond, cross in octagon, two
/// bars, letter i, empty circle with a dashed border. It reads without colour.
///
/// Inputs   `size` of the word in points; `word` as name(Status) or the paper's own.
[[nodiscard]] Drawing status_mark(Status status, const std::string& word, double x, double baseline,
                                  double size, const Typeface& typeface);
[[nodiscard]] double status_width(Status status, const std::string& word, double size,
                                  const Typeface& typeface);

}  // namespace bw::report
