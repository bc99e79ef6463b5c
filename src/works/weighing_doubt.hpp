// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>

#include "works/sheet_mass.hpp"
#include "works/weighing.hpp"

namespace bw::works {

/// A net mass is asked about below this part of what is wanted, or above so many times of it.
inline constexpr double kFarFromWanted = 10;

/// What is wanted on the scale now: what the addition is still short of, and for a mass above the
/// scale's capacity no more than one of its parts [kg].
[[nodiscard]] double wanted_now_kg(const Addition& addition, std::span<const Weighing> before,
                                   const Scale& scale);

/// The question that a net mass raises before it is recorded: less than a tenth or more than ten
/// times of what is wanted now is more often a wrong unit than a part. Empty: none.
///
/// Inputs   before: the weighings of the batch without this one; an addition that is short.
[[nodiscard]] std::string doubt_about(const Addition& addition, std::span<const Weighing> before,
                                      const Weighing& next, const Scale& scale);

}  // namespace bw::works
