// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <cstdint>
#include <span>

#include "ref/ion_table.hpp"

namespace bw::brine {

/// Dissolved forms with a volume, a mobility and a refraction of their own, in the order of
/// ion_table().
enum class Ion : std::uint8_t {
    Na,
    K,
    Mg,
    Ca,
    Sr,
    Li,
    Rb,
    NH4,
    Ba,
    H,
    Cl,
    SO4,
    Br,
    F,
    I,
    NO3,
    HCO3,
    CO3,
    OH,
    BOH4,
    BOH3,
    CO2,
    SiOH4,
};
inline constexpr std::size_t kIonCount = 23;

using IonRow = ref::IonRow;
[[nodiscard]] std::span<const IonRow, kIonCount> ion_table();

[[nodiscard]] inline const IonRow& row_of(Ion ion) {
    return ion_table()[static_cast<std::size_t>(ion)];
}

}  // namespace bw::brine
