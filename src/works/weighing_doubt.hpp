// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>

#include "works/far_off.hpp"
#include "works/sheet_mass.hpp"
#include "works/weighing.hpp"

namespace bw::works {

/// What is wanted on the scale now: what the addition is still short of, and for a mass above the
/// scale's capacity no more than one of its parts [kg].
[[nodiscard]] double wanted_now_kg(const Addition& addition, std::span<const Weighing> before,
                                   const Scale& scale);

/// The question that a net mass raises before it is recorded: less than a fifth of what is wanted
/// now, or five times and more of it (kFarFromWanted), is more often a wrong unit or a decimal
/// point that slipped than a part, which is seldom below a fifth. Empty: none; nor is one asked
/// where the mass completes the addition, since it then stands as no part. Of a mass that is not
/// far from what is wanted it is asked whether the scale can show it: one between two of its steps
/// was read from another scale, or was never read.
///
/// Inputs   before: the weighings of the batch without this one; an addition that is short.
[[nodiscard]] std::string doubt_about(const Addition& addition, std::span<const Weighing> before,
                                      const Weighing& next, const Scale& scale);

}  // namespace bw::works
