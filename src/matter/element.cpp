// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "matter/element.hpp"

#include <algorithm>
#include <array>

#include "ref/tables.hpp"

namespace bw::matter {

std::optional<ElementWeight> atomic_weight(std::string_view symbol, WeightSet set) {
    const std::string_view wanted = set == WeightSet::Ciaaw2021 ? "2021" : "2005";
    for (const ref::AtomicWeight& row : ref::atomic_weights()) {
        if (row.symbol == symbol && row.set == wanted) {
            return ElementWeight{row.value_g_per_mol, row.limit_g_per_mol};
        }
    }
    return std::nullopt;
}

bool is_element(std::string_view symbol) {
    // Elements without a standard atomic weight, because no stable isotope exists.
    constexpr auto kWithoutWeight = std::to_array<std::string_view>(
        {"Tc", "Pm", "Po", "At", "Rn", "Fr", "Ra", "Ac", "Np", "Pu", "Am", "Cm",
         "Bk", "Cf", "Es", "Fm", "Md", "No", "Lr", "Rf", "Db", "Sg", "Bh", "Hs",
         "Mt", "Ds", "Rg", "Cn", "Nh", "Fl", "Mc", "Lv", "Ts", "Og"});
    return atomic_weight(symbol).has_value() ||
           std::find(kWithoutWeight.begin(), kWithoutWeight.end(), symbol) != kWithoutWeight.end();
}

}  // namespace bw::matter
