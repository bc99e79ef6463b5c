// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "ref/brine_tables.hpp"

#include <limits>

#include "ref/growth_table.hpp"

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

std::span<const GrowthRow> growth_rates() { return kGrowth; }

}  // namespace bw::ref
