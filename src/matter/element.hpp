// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string_view>

namespace bw::matter {

/// Which evaluation of the atomic weights a mass was computed with.
///
/// Ciaaw2021 is what materials are weighed with. Ciaaw2005 is what Reference-Composition Seawater
/// was defined with; it exists for that water's elements only.
enum class WeightSet { Ciaaw2021, Ciaaw2005 };

struct ElementWeight {
    double value_g_per_mol;
    double limit_g_per_mol;  ///< half-width of the range of normal samples
};

/// Standard atomic weight of an element.
///
/// Inputs   symbol, case-sensitive ("Na").
/// Errors   nothing for an unknown symbol, or one that the set lacks.
/// Source   [ciaaw-2021] abridged values; [ciaaw-2005].
[[nodiscard]] std::optional<ElementWeight> atomic_weight(std::string_view symbol,
                                                         WeightSet set = WeightSet::Ciaaw2021);

/// Whether the symbol is an element's, with or without a standard atomic weight.
[[nodiscard]] bool is_element(std::string_view symbol);

}  // namespace bw::matter
