// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>

#include "brine/salt_law.hpp"
#include "service/show_water.hpp"

namespace bw::service {

/// The waters of the salt that made a water: its composition at any strength.
///
/// Errors   those of show_water; OutOfRange for a water without salt.
[[nodiscard]] Result<std::unique_ptr<brine::SaltLaw>> law_of_water(const WaterRequest& request);

}  // namespace bw::service
