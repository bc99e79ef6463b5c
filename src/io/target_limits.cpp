// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/target_limits.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/water_file.hpp"
#include "unit/factors.hpp"

namespace bw::io {

using recipe::Target;
using unit::Dimension;

namespace {

/// Numbers of a ratio must be above 0 and within reason.
Result<void> check_bounds(const Fields& table, const recipe::RatioGoal& ratio) {
    constexpr double kFarthest = 1e9;  // water holds no two things farther apart
    for (const auto& [key, bound] : {std::pair{"low", ratio.low}, std::pair{"high", ratio.high},
                                     std::pair{"target", ratio.target}}) {
        if (bound && !(*bound > 0)) {
            return table.bad(key, "a ratio's numbers must be above 0", ProblemCode::OutOfRange);
        }
        if (bound && (*bound < 1 / kFarthest || *bound > kFarthest)) {
            return table.bad(key,
                             fmt::format("a ratio of {} is beyond reason: ratios are from 1e-9 to "
                                         "1e9",
                                         base::format_significant(*bound, 4)),
                             ProblemCode::OutOfRange);
        }
    }
    return {};
}

/// Where the limits on saturation and safe time hold.
struct HeldAt {
    double pco2_atm, temperature_degC;
};

Result<HeldAt> held_at(const Fields& limits, const Target& target) {
    constexpr double kAtmPerUatm = 1e-6;
    HeldAt out{kAirCo2_uatm * kAtmPerUatm, target.temperature_degC};
    BW_TRY(pco2, limits.value_in("pCO2", Dimension::Pressure));
    constexpr double kLeast = 10;  // uatm
    constexpr double kMost = 1e5;
    if (pco2) {
        out.pco2_atm = *pco2;
        if (!(*pco2 >= kLeast * kAtmPerUatm && *pco2 <= kMost * kAtmPerUatm)) {
            return limits.bad("pCO2", "the pCO2 of the air is from 10 to 100000 uatm",
                              ProblemCode::OutOfRange);
        }
    }
    BW_TRY(temperature, limits.value_in("temperature", Dimension::Temperature));
    out.temperature_degC = temperature.value_or(out.temperature_degC);
    constexpr double kColdest = 5;
    constexpr double kWarmest = 40;
    if (!(out.temperature_degC >= kColdest && out.temperature_degC <= kWarmest)) {
        return limits.bad(temperature ? "temperature" : "",
                          fmt::format("limits on the finished water are judged from 5 to 40 degC, "
                                      "not at {}",
                                      base::format_exact(out.temperature_degC)),
                          ProblemCode::OutOfRange);
    }
    return out;
}

Result<void> read_safe_time(const Fields& limits, const HeldAt& at, Target& target) {
    BW_TRY(hours, limits.value_in("safe_time", Dimension::Time));
    BW_TRY(seed, limits.value_in("seed", Dimension::MassPerMass));
    if (!hours) {
        return seed ? Result<void>(limits.bad("seed",
                                              "a seed belongs to safe_time, which is not "
                                              "given"))
                    : Result<void>();
    }
    if (!(*hours > 0 && *hours <= kLongestSafeTime_h)) {
        return limits.bad(
            "safe_time",
            fmt::format("a safe time is above 0 h and at most {:g} h (70 days): a vat is "
                        "followed for a year, and what is asked for has to hold less "
                        "the factor of 5 that the laws are trusted within",
                        kLongestSafeTime_h),
            ProblemCode::OutOfRange);
    }
    constexpr double kMgPerKg = 1e6;
    constexpr double kMostSeed = 1000;
    if (seed && *seed * kMgPerKg > kMostSeed) {
        return limits.bad("seed", "a seed of CaCO3 is at most 1000 mg/kg", ProblemCode::OutOfRange);
    }
    target.limits.safe_time = recipe::SafeTimeLimit{*hours, seed.value_or(0) * kMgPerKg,
                                                    at.pco2_atm, at.temperature_degC};
    return {};
}

/// Limits on the saturation of the finished water, and how long it has to stay clear.
Result<void> read_water_limits(const Fields& limits, Target& target) {
    struct Key {
        std::string_view key, solid;
        bool in_air;
    };
    constexpr auto kKeys = std::to_array<Key>({{"omega_aragonite", "aragonite", true},
                                               {"omega_as_mixed", "aragonite", false},
                                               {"omega_brucite", "brucite", true},
                                               {"omega_gypsum", "gypsum", true}});
    const bool any =
        limits.has("safe_time") || limits.has("seed") ||
        std::any_of(kKeys.begin(), kKeys.end(), [&](const Key& k) { return limits.has(k.key); });
    for (const std::string_view key : {"pCO2", "temperature"}) {
        if (!any && limits.has(key)) {
            return limits.bad(key, fmt::format("{} says where limits such as omega_aragonite or "
                                               "safe_time hold, but none is given",
                                               key));
        }
    }
    if (!any) {
        return {};
    }
    BW_TRY(at, held_at(limits, target));
    for (const Key& k : kKeys) {
        BW_TRY(most, limits.number(k.key));
        constexpr double kLeast = 1e-6;
        constexpr double kMost = 1e6;
        if (most && !(*most >= kLeast && *most <= kMost)) {
            return limits.bad(k.key, "a limit on Omega is a number from 1e-6 to 1e6",
                              ProblemCode::OutOfRange);
        }
        if (most) {
            target.limits.saturation.push_back(
                {std::string(k.key), std::string(k.solid), *most,
                 k.in_air ? std::optional(at.pco2_atm) : std::nullopt, at.temperature_degC});
        }
    }
    return read_safe_time(limits, at, target);
}

Result<void> read_chance(const Fields& limits, Target& target) {
    if (const Node* node = limits.node("chance_inside")) {
        const double plain = node->text() != nullptr ? base::parse_number(*node->text()).value_or(0)
                             : node->number() != nullptr ? *node->number()
                                                         : 0;
        if (plain > 0 && plain <= 1) {
            return limits.bad("chance_inside",
                              fmt::format("a chance is in per cent: write \"{} %\"",
                                          base::format_short(plain * unit::kPercent, 6)),
                              ProblemCode::BadUnit);
        }
    }
    BW_TRY(chance, limits.value_in("chance_inside", Dimension::Fraction));
    constexpr double kMost = 0.9999;
    if (chance && !(*chance >= recipe::kLeastChance && *chance <= kMost)) {
        return limits.bad("chance_inside", "the chance of lying inside is from 60 % to 99.99 %",
                          ProblemCode::OutOfRange);
    }
    target.limits.chance_inside = chance;
    return {};
}

}  // namespace

Result<recipe::RatioGoal> read_ratio(const Fields& table) {
    BW_CHECK(table.allow({"of", "low", "high", "target", "basis", "priority", "note"}));
    BW_TRY(of, table.required_text("of"));
    const auto slash = of.find('/');
    if (slash == std::string::npos) {
        return table.bad("of", fmt::format("{} is not a ratio: write, for example, of = \"Mg/Ca\"",
                                           base::quoted(of)));
    }
    recipe::RatioGoal out;
    const auto numerator =
        matter::require_constituent(base::trim(std::string_view(of).substr(0, slash)));
    const auto denominator =
        matter::require_constituent(base::trim(std::string_view(of).substr(slash + 1)));
    for (const auto& side : {numerator, denominator}) {
        if (!side) {
            return table.placed("of", side.error());
        }
    }
    if (*numerator == *denominator) {
        return table.bad("of",
                         fmt::format("the ratio of {} to itself is always 1", numerator->symbol()));
    }
    out.numerator = *numerator;
    out.denominator = *denominator;
    BW_TRY(basis, table.text("basis"));
    if (basis && *basis != "mol" && *basis != "mass") {
        return table.bad("basis", fmt::format("{} is not a basis: write \"mol\" or \"mass\"",
                                              base::quoted(*basis)));
    }
    out.by_mass = basis && *basis == "mass";
    BW_TRY(low, table.number("low"));
    BW_TRY(high, table.number("high"));
    BW_TRY(wanted, table.number("target"));
    BW_TRY(priority, table.whole_number("priority", 1, kLowestPriority));
    out.low = low;
    out.high = high;
    out.target = wanted;
    out.priority = priority.value_or(recipe::kDefaultPriority);
    if (!low && !high && !wanted) {
        return table.bad("", "the ratio has neither low, nor high, nor target");
    }
    BW_CHECK(check_bounds(table, out));
    if (low && high && *low > *high) {
        return table.bad("low", "low of the ratio is above its high", ProblemCode::OutOfRange);
    }
    if (wanted && ((low && *wanted < *low) || (high && *wanted > *high))) {
        return table.bad("target", "the ratio's target does not lie between its low and its high",
                         ProblemCode::OutOfRange);
    }
    return out;
}

Result<void> read_limits(const Fields& root, Target& target) {
    BW_TRY(limits, root.table("limits"));
    if (limits) {
        BW_CHECK(limits->allow({"most_materials", "smallest_dose", "omega_aragonite",
                                "omega_brucite", "omega_gypsum", "omega_as_mixed", "pCO2",
                                "temperature", "safe_time", "seed", "chance_inside", "note"}));
        constexpr int kMost = 200;
        BW_TRY(most, limits->whole_number("most_materials", 1, kMost));
        target.limits.most_materials = most;
        BW_TRY(dose, limits->value_in("smallest_dose", Dimension::MassPerMass));
        target.limits.smallest_dose_kg_per_kg = dose;
        BW_CHECK(read_water_limits(*limits, target));
        BW_CHECK(read_chance(*limits, target));
    }
    BW_TRY(batch, root.table("batch"));
    if (batch) {
        BW_CHECK(
            batch->allow({"blend", "blend_swing", "smallest_weighing", "weighing_step", "note"}));
        recipe::Batch out;
        BW_TRY(blend, batch->value_in("blend", Dimension::Mass));
        if (!blend || !(*blend > 0)) {
            return batch->bad(blend ? "blend" : "",
                              "blend, the mass of the batch, is needed and must be above 0");
        }
        out.blend_kg = *blend;
        BW_TRY(swing, batch->value_in("blend_swing", Dimension::Fraction));
        constexpr double kLargestSwing = 0.2;
        if (swing && *swing > kLargestSwing) {
            return batch->bad("blend_swing", "the swing of the batch may be at most 20 %",
                              ProblemCode::OutOfRange);
        }
        out.blend_swing = swing.value_or(0);
        BW_TRY(smallest, batch->value_in("smallest_weighing", Dimension::Mass));
        BW_TRY(step, batch->value_in("weighing_step", Dimension::Mass));
        if (step && !(*step > 0)) {
            return batch->bad("weighing_step", "a weighing step must be above 0",
                              ProblemCode::OutOfRange);
        }
        out.smallest_weighing_kg = smallest;
        out.weighing_step_kg = step;
        target.batch = out;
    }
    return {};
}

}  // namespace bw::io
