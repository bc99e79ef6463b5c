// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/salt_law.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/bracket.hpp"

namespace bw::brine {

Result<unit::GramPerKg> dissolved_of(const SaltLaw& law, unit::PracticalSalinity salinity) {
    const double wanted = salinity.value();
    const double top = law.highest().value();
    const auto shown = [&](double w) -> Result<double> {
        BW_TRY(s, law.practical_salinity_of(unit::GramPerKg(w)));
        return s.value();
    };
    BW_TRY(lowest, shown(0));
    BW_TRY(highest, shown(top));
    if (!(wanted >= lowest && wanted <= highest)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("a practical salinity of {} is outside what is known of {}: {} to {}",
                        base::format_exact(wanted), law.name(), base::format_significant(lowest, 3),
                        base::format_significant(highest, 4)));
    }
    BW_TRY(w, bracketed_root(shown, wanted, {0, lowest}, {top, highest}));
    return unit::GramPerKg(w);
}

}  // namespace bw::brine
