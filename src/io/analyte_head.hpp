// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "unit/unit_table.hpp"

namespace bw::io {

/// What "ppm" and "ppb" stand for in a column; a map has to say it.
enum class PpmMeaning { NotSaid, ByMass, ByVolume };

/// A unit of a reading; without dimension for pure numbers such as pH.
struct ReadingUnit {
    std::string symbol;  ///< as printed, "mg/L"; "none" for a pure number
    std::string as;      ///< the form that is counted, "SO4", or empty
    std::optional<unit::Dimension> dimension;

    /// "mg/L as SO4".
    [[nodiscard]] std::string text() const;
    bool operator==(const ReadingUnit& other) const = default;
};

/// The unit of a head, a unit row, a unit column or a map: "mg/L", "mg/l as SO4", "ppm", "none".
///
/// Errors   BadUnit for ppm and ppb where `ppm` does not say by mass or by volume, for ppt, for
///          units of other things than contents, densities, conductivities and temperatures.
[[nodiscard]] Result<ReadingUnit> reading_unit(std::string_view text,
                                               PpmMeaning ppm = PpmMeaning::NotSaid);

/// "Ca 317.933 [mg/L]" in its parts; what is not there is empty.
struct AnalyteHead {
    std::string analyte;     ///< symbol of an element or of a constituent
    std::string wavelength;  ///< digits of nm
    std::string unit;        ///< as typed
};

/// A unit as a row of units has it, without the brackets around it.
[[nodiscard]] std::string_view without_brackets(std::string_view text);

/// Reads a head of a column. Nothing where it does not begin with a symbol that is known, or has
/// more in it than a wavelength, "nm" and a unit in brackets or after a comma. A wavelength with a
/// point may follow the symbol of an element without a blank, "Ca317.9"; "S123" is rather a name.
[[nodiscard]] std::optional<AnalyteHead> analyte_head(std::string_view head);

/// Whether the word is the symbol of an element or of a constituent.
[[nodiscard]] bool is_analyte(std::string_view word);

}  // namespace bw::io
