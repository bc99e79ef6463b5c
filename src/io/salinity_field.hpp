// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string_view>

#include "io/fields.hpp"

namespace bw::io {

/// Reference salinity per practical salinity [g/kg].
///
/// Source   [millero-2008].
[[nodiscard]] double g_per_kg_per_practical();

struct StatedSalinity {
    double g_per_kg = 0;
    std::optional<double> practical;  ///< when it was stated so
};

/// Up to which practical salinity a field is read, and what ends there.
struct SalinityRange {
    double highest_practical;
    std::string_view why;
};

/// Reads "35" or 35 (practical salinity), or "35.165 g/kg"; nothing when the key is absent.
///
/// Errors   BadUnit, BadNumber; OutOfRange for 0 and less, practical salinity below 2, and above
/// the range.
[[nodiscard]] Result<std::optional<StatedSalinity>> salinity_of(const Fields& table,
                                                                std::string_view key,
                                                                const SalinityRange& range);

}  // namespace bw::io
