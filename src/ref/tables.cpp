// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "ref/tables.hpp"

#include <array>

#include "ref/dry_bag_tables.hpp"

namespace bw::ref {
namespace {
#include "ref/generated_tables.inc"
}  // namespace

std::span<const Source> sources() { return kSources; }
std::span<const AtomicWeight> atomic_weights() { return kAtomicWeights; }
std::span<const ConstituentRow> constituents() { return kConstituents; }
std::span<const ReferenceSpecies> reference_species() { return kReferenceSpecies; }
std::span<const NaturalTrace> natural_traces() { return kNaturalTraces; }
std::span<const HazardStatement> hazard_statements() { return kHazardStatements; }
std::span<const PureSalt> pure_salts() { return kPureSalts; }
std::span<const DissolvingRow> dissolving() { return kDissolving; }
std::span<const DeliquescenceRow> deliquescence() { return kDeliquescence; }
std::span<const MutualDeliquescenceRow> mutual_deliquescence() { return kMutualDeliquescence; }
std::span<const HydrateStepRow> hydrate_steps() { return kHydrateSteps; }
std::span<const FilmSolidRow> film_solids() { return kFilmSolids; }
std::span<const BagReactionRow> bag_reactions() { return kBagReactions; }
double reference_salinity_g_per_kg() { return kReferenceSalinity; }
double reference_molar_mass_g_per_mol() { return kReferenceMolarMass; }
std::string_view data_digest() { return kDataDigest; }

}  // namespace bw::ref
