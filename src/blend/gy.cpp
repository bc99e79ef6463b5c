// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/gy.hpp"

#include <algorithm>
#include <cmath>

namespace bw::blend {

Result<double> gy_constant(const GyMaterial& m) {
    const double a = m.mineral_share;
    if (!(m.top_size_cm > 0) || !(m.liberation_size_cm > 0) || !(a > 0 && a < 1) ||
        !(m.mineral_density > 0) || !(m.rest_density > 0) || !(m.shape > 0) ||
        !(m.size_range > 0)) {
        return fail(
            ProblemCode::BadInput,
            "sizes, densities and factors are above 0, the mineral's share between 0 and 1");
    }
    const double liberation = std::min(1.0, std::sqrt(m.liberation_size_cm / m.top_size_cm));
    const double composition = (1 - a) / a * ((1 - a) * m.mineral_density + a * m.rest_density);
    return m.shape * m.size_range * liberation * composition;
}

Result<double> gy_least_mass(const GyMaterial& material, double relative_sd, int stages,
                             double safety) {
    BW_TRY(constant, gy_constant(material));
    if (!(relative_sd > 0) || stages < 1 || !(safety >= 1)) {
        return fail(ProblemCode::BadInput,
                    "the wanted standard deviation is above 0, stages and safety are 1 or more");
    }
    return safety * stages * constant * std::pow(material.top_size_cm, 3) /
           (relative_sd * relative_sd);
}

}  // namespace bw::blend
