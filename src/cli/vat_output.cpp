// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/vat_output.hpp"

#include <algorithm>
#include <cmath>

#include "base/decimal.hpp"

namespace bw::cli {

std::string VatWater::words() const {
    return std::isfinite(practical) ? "S_P = " + base::format_places(practical, 2)
                                    : base::format_places(dissolved, 2) + " g/kg";
}

VatWater water_of(const brine::SaltLaw& law, unit::GramPerKg dissolved) {
    const auto s = law.practical_salinity_of(dissolved);
    return {s ? s->value() : std::numeric_limits<double>::quiet_NaN(), dissolved.value()};
}

std::vector<std::string> notices_on(std::initializer_list<VatWater> waters) {
    std::vector<std::string> out;
    if (std::any_of(waters.begin(), waters.end(),
                    [](const VatWater& w) { return !std::isfinite(w.practical); })) {
        out.emplace_back("Practical salinity does not reach so far and is not given.");
    }
    return out;
}

int places_to_weigh(double value) {
    constexpr int kDigits = 5;
    constexpr int kMost = 4;
    const double size = std::abs(value);
    const int before = size >= 1 ? static_cast<int>(std::floor(std::log10(size))) + 1 : 1;
    return std::clamp(kDigits - before, 0, kMost);
}

VatScale::VatScale(double kg) : VatScale(kg < kBench_kg) {}

VatScale::VatScale(bool small)
    : by(small ? 1e3 : 1), mass(small ? "g" : "kg"), volume(small ? "mL" : "L") {}

std::string vat_head(const std::string& salt, const std::string& line) {
    return "salt  " + salt + "\n\n" + line + "\n\n";
}

}  // namespace bw::cli
