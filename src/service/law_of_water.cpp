// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/law_of_water.hpp"

#include <utility>

#include "service/mixed_water.hpp"

namespace bw::service {

Result<std::unique_ptr<brine::SaltLaw>> law_of_water(const WaterRequest& request) {
    BW_TRY(part, water_part(request));
    return std::move(part.law);
}

}  // namespace bw::service
