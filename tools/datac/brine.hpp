// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <set>
#include <string>

namespace datac {

/// The constants behind ref/brine_tables.hpp, ref/growth_table.hpp and ref/ion_table.hpp, from
/// aqueous_species, interaction_*, reactions, minerals, growth and ions of the folder. Refuses a
/// species or source that is not known, a form with more coefficients than it has, charges that do
/// not fit the kind of a coefficient or do not balance in a reaction, a growth law out of order,
/// and a row that stands twice.
std::string brine_tables(const std::string& folder, const std::set<std::string>& known_sources);

}  // namespace datac
