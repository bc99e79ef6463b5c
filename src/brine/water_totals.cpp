// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_totals.hpp"

#include <algorithm>
#include <string_view>
#include <vector>

namespace bw::brine {
namespace {

struct Named {
    std::string_view symbol;
    Total total;
};
constexpr std::array<Named, 14> kNamed{{
    {"Na", Total::Na},
    {"K", Total::K},
    {"Mg", Total::Mg},
    {"Ca", Total::Ca},
    {"Sr", Total::Sr},
    {"Ba", Total::Ba},
    {"Li", Total::Li},
    {"Cl", Total::Cl},
    {"Br", Total::Br},
    {"F", Total::F},
    {"SO4", Total::SO4},
    {"B", Total::B},
    {"PO4", Total::P},
    {"Si", Total::Si},
}};

std::optional<TotalOfConstituent> find_total(matter::Constituent c) {
    const auto* const named = std::find_if(kNamed.begin(), kNamed.end(),
                                           [&](const Named& n) { return n.symbol == c.symbol(); });
    if (named != kNamed.end()) {
        return TotalOfConstituent{named->total, false};
    }
    if (c.is_alkalinity() || c.symbol() == "carbon") {
        return std::nullopt;
    }
    if (c.charge() == 0) {
        return std::nullopt;
    }
    if (c.charge() > 0) {
        return TotalOfConstituent{c.charge() == 1 ? Total::OtherPlus : Total::OtherPlusTwo, true};
    }
    return TotalOfConstituent{c.charge() == -1 ? Total::OtherMinus : Total::OtherMinusTwo, true};
}

/// Looked up once: waters are converted by the thousand.
const std::vector<std::optional<TotalOfConstituent>>& all_totals() {
    static const std::vector<std::optional<TotalOfConstituent>> kAll = [] {
        std::vector<std::optional<TotalOfConstituent>> out;
        for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
            out.push_back(find_total(matter::Constituent(i)));
        }
        return out;
    }();
    return kAll;
}

}  // namespace

std::optional<TotalOfConstituent> total_of(matter::Constituent c) {
    return all_totals()[c.index()];
}

PerTotal<double> totals_of(const matter::Amounts& mol_per_kg) {
    PerTotal<double> out{};
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        if (const auto& to = all_totals()[i]) {
            out[index(to->total)] += mol_per_kg[matter::Constituent(i)];
        }
    }
    return out;
}

double dissolved_kg_per_mol(Total t) {
    const auto* const named =
        std::find_if(kNamed.begin(), kNamed.end(), [&](const Named& n) { return n.total == t; });
    return named == kNamed.end()
               ? 0
               : matter::dissolved_molar_mass_g(matter::constituent(named->symbol)) / 1000;
}

double dissolved_kg_per_mol(Closure kind) {
    const std::string_view symbol = kind == Closure::Alkalinity ? "alkalinity"
                                    : kind == Closure::Carbon   ? "carbon"
                                                                : "";
    return symbol.empty() ? 0 : matter::dissolved_molar_mass_g(matter::constituent(symbol)) / 1000;
}

}  // namespace bw::brine
