// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <vector>

#include "brine/salt_law.hpp"
#include "matter/constituent.hpp"
#include "service/show_water.hpp"

namespace bw::service {

/// A water of a file as it goes into a mixture.
struct WaterPart {
    matter::Amounts mol_per_kg;  ///< with alkalinity and carbon as solved
    unit::GramPerKg dissolved;
    unit::Celsius temperature;
    std::unique_ptr<brine::SaltLaw> law;
};
/// Errors   those of show_water; OutOfRange for a water without salt.
[[nodiscard]] Result<WaterPart> water_part(const WaterRequest& request);

/// What a mixture holds: per kg of it, by mass of its parts.
///
/// Definition   sum(M c) / sum(M). Alkalinity and carbon are conserved; nothing falls out and
///              nothing goes to the air.
struct PartOfMixture {
    double kg = 0;
    const matter::Amounts* mol_per_kg = nullptr;
};
[[nodiscard]] matter::Amounts mixed_amounts(const std::vector<PartOfMixture>& parts);
/// The waters of a mixture's salt. Errors OutOfRange for a mixture without salt.
[[nodiscard]] Result<std::unique_ptr<brine::SaltLaw>> law_of_amounts(
    const matter::Amounts& mol_per_kg);

}  // namespace bw::service
