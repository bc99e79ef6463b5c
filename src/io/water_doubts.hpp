// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "matter/constituent.hpp"

namespace bw::io {

/// Refuses a water whose charges are off balance by more than 5 %.
///
/// Definition   the ion whose departure from the natural proportion of the others explains most of
///              the missing charge is named, and a slip of units where it explains the departure.
/// Inputs       amounts with alkalinity; where they stand in the file.
/// Errors       OutOfRange.
[[nodiscard]] Result<void> check_charge(const matter::Amounts& mol_per_kg, const Place& place);

/// Constituents whose amount looks like a slip of units: a thousand times the natural proportion or
/// a thousandth, or a number in mg read as mmol.
[[nodiscard]] base::Notices doubtful_units(const matter::Amounts& mol_per_kg,
                                           const std::vector<matter::Constituent>& named);

}  // namespace bw::io
