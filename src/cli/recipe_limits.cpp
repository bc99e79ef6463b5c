// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/recipe_output.hpp"
#include "cli/table.hpp"
#include "service/limit_loop.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 4;

std::string held_words(bool held, bool leans) {
    return !held ? "BROKEN" : leans ? "held, leaned on" : "held";
}

/// The band held with the least chance, and what moves it most.
std::string tightest_sentence(const service::RecipeReport& r) {
    const auto& spreads = r.robustness.constituents;
    const auto least = std::min_element(
        spreads.begin(), spreads.end(),
        [](const auto& a, const auto& b) { return a.inside_first_order < b.inside_first_order; });
    if (least == spreads.end() || least->drivers.empty()) {
        return {};
    }
    const auto& goal = r.target.constituents[static_cast<std::size_t>(least - spreads.begin())];
    const recipe::Driver& driver = least->drivers.front();
    return fmt::format(
        "Tightest is {}, inside with {} % by first order: {} % of its variance is {}. That is the "
        "lot to buy or assay more closely.",
        goal.constituent.symbol(),
        base::format_significant(least->inside_first_order * unit::kPercent, kDigits),
        base::format_significant(driver.variance_share * unit::kPercent, 2), driver.input);
}

/// Bands whose share of draws inside is below what was asked by more than the draws' own doubt.
std::string short_of_chance(const service::RecipeReport& r) {
    constexpr double kDoubts = 3;
    std::string out;
    const double asked = *r.target.limits.chance_inside;
    for (std::size_t i = 0; i < r.robustness.constituents.size(); ++i) {
        const recipe::GoalSpread& s = r.robustness.constituents[i];
        if (s.inside_monte_carlo + kDoubts * s.inside_standard_error < asked) {
            out += fmt::format("{}{} {} %", out.empty() ? "" : ", ",
                               r.target.constituents[i].constituent.symbol(),
                               base::format_places(s.inside_monte_carlo * unit::kPercent, 1));
        }
    }
    return out;
}

}  // namespace

std::string limits_table(const service::RecipeReport& r) {
    const service::WaterLimits& limits = *r.limits;
    if (limits.saturation.empty() && !limits.safe_time) {
        return "";
    }
    TextTable table({{{"limit"}, Align::Left},
                     {{"where"}, Align::Left},
                     {{"asked"}, Align::Left},
                     {{"is"}, Align::Left},
                     {{"trusted within", "a factor of"}, Align::Decimal},
                     {{"verdict"}, Align::Left}});
    for (const service::SaturationHeld& s : limits.saturation) {
        table.add({"Omega " + s.limit.solid,
                   service::where_words(s.limit.temperature_degC, s.limit.air_pco2_atm),
                   "at most " + base::format_short(s.limit.highest_omega, kDigits),
                   base::format_significant(s.omega, kDigits),
                   base::format_significant(s.factor, 3), held_words(s.held, s.leans)});
    }
    if (limits.safe_time) {
        const service::SafeTimeHeld& s = *limits.safe_time;
        const std::string seed =
            s.limit.seed_mg_per_kg > 0
                ? fmt::format(", {} mg/kg of CaCO3 dust",
                              base::format_short(s.limit.seed_mg_per_kg, kDigits))
                : "";
        table.add(
            {"safe time",
             service::where_words(s.limit.temperature_degC, s.limit.air_pco2_atm) + seed,
             "at least " + service::time_words(s.limit.hours),
             s.time.use_within_h >= path::kHoursPerYear
                 ? std::string("over a year to count on")
                 : fmt::format("{} to count on", service::time_words(s.time.use_within_h, kDigits)),
             base::format_significant(s.time.factor, 3), held_words(s.held, s.leans)});
    }
    return table.text();
}

std::vector<std::string> limit_sentences(const service::RecipeReport& r) {
    std::vector<std::string> out = r.limits->costs;
    if (r.limits->safe_time) {
        const service::SafeTimeHeld& s = *r.limits->safe_time;
        out.push_back(fmt::format(
            "The safe time is held by what may be counted on, as path run judges it: the laws give "
            "{}{}, and are trusted within a factor of {:g} on the way. At rest with the air, "
            "before "
            "anything falls, Omega of aragonite is {}.{}",
            s.time.over_a_year ? "over " : "", service::time_words(s.time.hours, kDigits),
            s.time.factor, base::format_significant(s.omega_aragonite, kDigits),
            s.time.in_evidence ? ""
                               : " The water is beyond those that the laws were measured in."));
    }
    if (r.target.limits.chance_inside) {
        const std::string asked =
            base::format_short(*r.target.limits.chance_inside * unit::kPercent, kDigits);
        const std::string low = short_of_chance(r);
        out.push_back(
            low.empty()
                ? fmt::format(
                      "Each band, each ratio and the salinity is held with {} % chance, and "
                      "{} draws of the materials' uncertainty agree.",
                      asked, r.robustness.draws)
                : fmt::format("Each band is held with {} % chance by first order, but the draws "
                              "show less: {}.",
                              asked, low));
        if (std::string words = tightest_sentence(r); !words.empty()) {
            out.push_back(std::move(words));
        }
    }
    return out;
}

}  // namespace bw::cli
