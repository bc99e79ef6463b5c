// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/refractometer_dial.hpp"

#include "brine/bracket.hpp"
#include "brine/nacl_brine.hpp"
#include "brine/nacl_law.hpp"
#include "brine/natural_seawater.hpp"
#include "brine/practical_salinity.hpp"

namespace bw::brine {
namespace {

/// g/kg of the sodium chloride brine of this excess, which is not below 0.
Result<double> brine_of(double excess) {
    const auto increment = [](double w) -> Result<double> {
        return nacl_index_increment_20(unit::GramPerKg(w));
    };
    BW_TRY(most, increment(kHighestBrineGramPerKg));
    if (excess > most) {
        return fail(ProblemCode::OutOfRange,
                    "the index is beyond a sodium chloride brine of 55 g/kg, where dials are known "
                    "to");
    }
    return bracketed_root(increment, excess, {0, 0}, {kHighestBrineGramPerKg, most});
}

Result<double> salinity_of(double excess) {
    const NaturalSeawater sea;
    BW_TRY(water, sea.refractive_index(unit::GramPerKg(0), kDialCelsius));
    const auto increment = [&](double w) -> Result<double> {
        BW_TRY(n, sea.refractive_index(unit::GramPerKg(w), kDialCelsius));
        return n - water;
    };
    const double end = sea.highest().value();
    BW_TRY(most, increment(end));
    double w = 0;
    if (excess > most) {
        constexpr double kBack = 1;
        BW_TRY(before, increment(end - kBack));
        w = end + (excess - most) / (most - before) * kBack;
    } else {
        BW_TRY(root, bracketed_root(increment, excess, {0, 0}, {end, most}));
        w = root;
    }
    return w * kPracticalSalinityPerGramPerKg;
}

Result<double> relative_density_of_brine(double w) {
    const NaclBrine brine;
    BW_TRY(rho, brine.density_kg_per_m3(unit::GramPerKg(w), kDialCelsius));
    BW_TRY(water, brine.density_kg_per_m3(unit::GramPerKg(0), kDialCelsius));
    return rho / water;
}

}  // namespace

Result<double> dial_reading(Refractometer::Dial dial, double index_excess) {
    using enum Refractometer::Dial;
    if (dial == Index) {
        return kWaterIndex20 + index_excess;
    }
    if (index_excess < 0) {
        BW_TRY(mirrored, dial_reading(dial, -index_excess));
        return dial == NaclSpecificGravity ? 2 - mirrored : -mirrored;
    }
    if (dial == Seawater) {
        return salinity_of(index_excess);
    }
    BW_TRY(w, brine_of(index_excess));
    if (dial == NaclGramPerKg) {
        return w;
    }
    if (dial == NaclSpecificGravity) {
        return relative_density_of_brine(w);
    }
    const NaclBrine brine;
    BW_TRY(rho, brine.density_kg_per_m3(unit::GramPerKg(w), kDialCelsius));
    constexpr double kKgPerM3PerKgPerL = 1000;
    return w * rho / kKgPerM3PerKgPerL;
}

std::string_view dial_name(Refractometer::Dial dial) {
    using enum Refractometer::Dial;
    switch (dial) {
        case NaclGramPerKg:
            return "sodium chloride g/kg";
        case NaclGramPerLitre:
            return "sodium chloride g/L";
        case NaclSpecificGravity:
            return "sodium chloride 20/20";
        case Seawater:
            return "seawater";
        case Index:
            return "index";
    }
    return "";
}

}  // namespace bw::brine
