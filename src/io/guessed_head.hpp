// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "io/analyte_head.hpp"

namespace bw::io {

/// The symbol that a word of a table may stand for; nothing where it is none that is known here.
///
/// Definition   A symbol as it is; the name of an element or constituent in English or, the usual
///              ones, in German, in any case of letters; a symbol with its charge, "Ca2+", "Cl-".
///              A guess for a map that somebody looks through: readers of maps do not make it.
[[nodiscard]] std::optional<std::string> guess_analyte(std::string_view word);

/// As analyte_head, and less strict: names and charges as guess_analyte has them, a unit or a
/// wavelength without brackets or in brackets of its own, "Ca mg/L", "Calcium (317.933) [mg/L]",
/// and words that say nothing, "Na line", "Ca conc.". Nothing where a word remains.
[[nodiscard]] std::optional<AnalyteHead> guess_analyte_head(std::string_view head);

}  // namespace bw::io
