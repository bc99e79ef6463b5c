// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/mixed_water.hpp"

#include <utility>

#include "brine/composition_law.hpp"

namespace bw::service {
namespace {

Result<std::unique_ptr<brine::SaltLaw>> law_named(const matter::Amounts& mol_per_kg,
                                                  std::string name) {
    BW_TRY(law, brine::CompositionLaw::of(mol_per_kg, std::move(name)));
    return std::make_unique<brine::CompositionLaw>(std::move(law));
}

}  // namespace

Result<WaterPart> water_part(const WaterRequest& request) {
    BW_TRY(report, show_water(request));
    WaterPart out{report.mol_per_kg, unit::GramPerKg(report.state.dissolved_g_per_kg),
                  report.state.temperature, nullptr};
    BW_TRY(law, law_named(out.mol_per_kg,
                          report.spec.name.empty() ? "the salt of the file" : report.spec.name));
    out.law = std::move(law);
    return out;
}

matter::Amounts mixed_amounts(const std::vector<PartOfMixture>& parts) {
    matter::Amounts out;
    double kg = 0;
    for (const PartOfMixture& part : parts) {
        out.add(*part.mol_per_kg, part.kg);
        kg += part.kg;
    }
    out.scale(1 / kg);
    return out;
}

Result<std::unique_ptr<brine::SaltLaw>> law_of_amounts(const matter::Amounts& mol_per_kg) {
    return law_named(mol_per_kg, "the mixture");
}

}  // namespace bw::service
