// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <initializer_list>
#include <limits>
#include <string>
#include <vector>

#include "brine/salt_law.hpp"

namespace bw::cli {

/// The strength of a vat's water as it is told.
struct VatWater {
    double practical = std::numeric_limits<double>::quiet_NaN();  ///< NaN where there is none
    double dissolved = 0;                                         ///< g/kg
    [[nodiscard]] std::string words() const;
};
/// Brines have no practical salinity; their masses and litres are known all the same.
[[nodiscard]] VatWater water_of(const brine::SaltLaw& law, unit::GramPerKg dissolved);
/// Says so where one of them has none.
[[nodiscard]] std::vector<std::string> notices_on(std::initializer_list<VatWater> waters);

/// Places that show a mass or volume to five digits, finer than any scale in a works.
[[nodiscard]] int places_to_weigh(double value);

/// Kilograms and litres, or grams and millilitres of what is made on a bench.
struct VatScale {
    double by;
    std::string mass, volume;
    explicit VatScale(double kg);

private:
    explicit VatScale(bool small);
    static constexpr double kBench_kg = 10;  ///< below it, grams and millilitres
};

/// The salt, and what the sheet is of.
[[nodiscard]] std::string vat_head(const std::string& salt, const std::string& line);

}  // namespace bw::cli
