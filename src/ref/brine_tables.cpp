// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "ref/brine_tables.hpp"

#include <algorithm>
#include <limits>

#include "base/result.hpp"
#include "ref/growth_table.hpp"
#include "ref/ion_table.hpp"

namespace bw::ref {
namespace {
constexpr double kNotStated = std::numeric_limits<double>::quiet_NaN();
#include "ref/generated_brine_tables.inc"
}  // namespace

std::span<const InteractionRow> interactions(InteractionSet set) {
    return set == InteractionSet::Seawater ? std::span<const InteractionRow>(kInteractionSeawater)
                                           : std::span<const InteractionRow>(kInteractionBrine);
}

TemperatureFunction limiting_slope(InteractionSet set) {
    return set == InteractionSet::Seawater ? kLimitingSlopeSeawater : kLimitingSlopeBrine;
}

std::span<const AqueousSpeciesRow> aqueous_species() { return kAqueousSpecies; }

std::span<const ReactionRow> reactions(InteractionSet set) {
    return set == InteractionSet::Seawater ? std::span<const ReactionRow>(kReactionsSeawater)
                                           : std::span<const ReactionRow>(kReactionsBrine);
}

std::span<const GasRow> gases() { return kGases; }

std::span<const MineralRow> minerals() { return kMinerals; }
std::size_t mineral_place(std::string_view key) {
    const auto rows = minerals();
    const auto found = std::ranges::find(rows, key, &MineralRow::key);
    base::expect(found != rows.end(), "a key of the table of minerals");
    return static_cast<std::size_t>(found - rows.begin());
}

std::span<const GrowthRow> growth_rates() { return kGrowth; }

std::span<const IonRow> ions() { return kIons; }

}  // namespace bw::ref
