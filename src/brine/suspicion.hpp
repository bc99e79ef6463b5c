// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "brine/instrument.hpp"

namespace bw::brine {

/// A reading as it would have to be taken if something about it were not as stated.
struct Suspicion {
    std::string code;
    std::string text;
    std::size_t reading = 0;
    Reading instead;
    double unlikely = 0;  ///< added to chi-square for what is improbable in itself
};

/// What may be wrong with a reading of its kind: the dial, g/kg read for g/L, the temperatures a
/// hydrometer is marked for, the compensation of a meter, the fluid it was set with.
/// Accuracy  none claimed: a list of what happens in practice.
[[nodiscard]] std::vector<Suspicion> suspicions(const Reading& reading, std::size_t number);

/// Code of the cause that a unit is wrong by a thousand.
inline constexpr std::string_view kUnitSlip = "unit_by_a_thousand";
/// That the reading was written in a unit a thousand times too large or too small (uS/cm for
/// mS/cm), both ways. Nothing for what was weighed in.
[[nodiscard]] std::vector<Suspicion> suspect_unit(const Reading& reading, std::size_t number);

struct Others {
    double g_per_kg = 0, u = 0;
};
/// That the water was not at the temperature stated: the temperature, within 10 K, that best joins
/// the reading to the others, being a priori within 1 K (standard deviation) of the one stated.
[[nodiscard]] std::optional<Suspicion> suspect_temperature(const SaltLaw& law,
                                                           const Reading& reading,
                                                           std::size_t number,
                                                           const Converted& converted,
                                                           const Others& others);

/// That the instrument itself is off, in its zero or its span, by what would bring the reading to
/// the others; errors are a priori within (one standard deviation) five times the reading's and the
/// standard's uncertainty (a judgement: what a check in a fluid finds on an instrument that was not
/// looked after). Nothing for what was weighed in.
[[nodiscard]] std::optional<Suspicion> suspect_instrument(const SaltLaw& law,
                                                          const Reading& reading,
                                                          std::size_t number,
                                                          const Converted& converted,
                                                          const Others& others);

}  // namespace bw::brine
