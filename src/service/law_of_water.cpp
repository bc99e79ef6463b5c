// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/law_of_water.hpp"

#include "brine/composition_law.hpp"

namespace bw::service {

Result<std::unique_ptr<brine::SaltLaw>> law_of_water(const WaterRequest& request) {
    BW_TRY(report, show_water(request));
    const std::string name = report.spec.name.empty() ? "the salt of the file" : report.spec.name;
    BW_TRY(law, brine::CompositionLaw::of(report.mol_per_kg, name));
    return std::make_unique<brine::CompositionLaw>(std::move(law));
}

}  // namespace bw::service
