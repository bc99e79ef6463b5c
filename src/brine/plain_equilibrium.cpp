// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The templates of the equilibrium for plain numbers, once and in this room, whose files are
// compiled for speed: a copy in another room would be linked in their place.
#include "brine/conditions.hpp"
#include "brine/ion_interaction.hpp"
#include "brine/saturation.hpp"

namespace bw::brine {

template void excess(const InteractionParameters<double>&, const PerSpecies<double>&,
                     Excess<double>&);
template Conditions<double> conditions(const EquilibriumModel<double>&, const PerTotal<double>&,
                                       const double&, Route);
template void ln_saturation(const EquilibriumModel<double>&, const Speciation<double>&,
                            std::vector<double>&);

}  // namespace bw::brine
