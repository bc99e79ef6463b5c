// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/dissolved_result.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/seawater_density.hpp"
#include "num/bracketed_root.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr double kSalinityPerChlorinity = 1.80655;  // [unesco-44]
constexpr double kGramPerKg = 1000;
constexpr double kLitrePerM3 = 1000;

Result<void> above_0(const Known& k, const char* what) {
    if (!(k.value > 0) || !(k.u >= 0) || !std::isfinite(k.value) || !std::isfinite(k.u)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is above 0 and its uncertainty 0 or more", what));
    }
    return {};
}

Result<Normaliser> of_salinity(NormalisedBy by, const Known& salinity, double goal) {
    BW_CHECK(above_0(salinity, "the salinity found"));
    if (!(goal > 0)) {
        return fail(ProblemCode::BadInput, "the goal's salinity is above 0");
    }
    return Normaliser{by, salinity.value / goal, salinity.u / goal, salinity.value};
}

Result<void> check(const ElementReading& r) {
    const bool numbers = std::isfinite(r.mg_per_L.value) && r.mg_per_L.u >= 0 &&
                         std::isfinite(r.blank_mg_per_L.value) && r.blank_mg_per_L.u >= 0 &&
                         r.limit_mg_per_L >= 0 && r.freedom > 0;
    if (!numbers || (r.below_limit && !(r.limit_mg_per_L > 0))) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{}: a reading is a number with an uncertainty of 0 or more; one "
                                "below its limit needs the limit",
                                base::quoted(r.element)));
    }
    return {};
}

}  // namespace

std::string_view name(NormalisedBy by) {
    switch (by) {
        case NormalisedBy::Conductivity:
            return "conductivity";
        case NormalisedBy::Density:
            return "density";
        case NormalisedBy::Chlorinity:
            return "chlorinity";
        case NormalisedBy::DryMass:
            return "dry mass of mix";
    }
    return "";
}

Result<Normaliser> normaliser_of_conductivity(const Known& practical_salinity, double goal) {
    return of_salinity(NormalisedBy::Conductivity, practical_salinity, goal);
}

Result<Normaliser> normaliser_of_chlorinity(const Known& g_per_kg, double goal) {
    return of_salinity(
        NormalisedBy::Chlorinity,
        {g_per_kg.value * kSalinityPerChlorinity, g_per_kg.u * kSalinityPerChlorinity}, goal);
}

Result<Normaliser> normaliser_of_density(const Known& kg_per_m3, unit::Celsius temperature,
                                         double goal) {
    BW_CHECK(above_0(kg_per_m3, "the density"));
    constexpr double kMost = 42;  // of the equation of state
    BW_CHECK(brine::seawater_density(unit::PracticalSalinity(0), temperature));
    const auto density = [&](double s) {
        const auto rho = brine::seawater_density(unit::PracticalSalinity(s), temperature);
        return rho ? rho->value() : std::nan("");
    };
    constexpr double kFine = 1e-9;
    const auto found = num::bracketed_root([&](double s) { return density(s) - kg_per_m3.value; },
                                           0, kMost, kFine);
    if (!found) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("no seawater of salinity 0 to 42 has the density {:g} kg/m3 at "
                                "{:g} degC",
                                kg_per_m3.value, temperature.value()));
    }
    const double slope = (density(std::min(*found + 1, kMost)) - density(*found)) /
                         (std::min(*found + 1, kMost) - *found);
    return of_salinity(NormalisedBy::Density, {*found, slope > 0 ? kg_per_m3.u / slope : 0.0},
                       goal);
}

Result<Normaliser> normaliser_of_dry_mass(const Known& mix_g, const Known& water_g,
                                          double goal_g_per_kg_water) {
    BW_CHECK(above_0(mix_g, "the mass of mix"));
    BW_CHECK(above_0(water_g, "the mass of water"));
    if (!(goal_g_per_kg_water > 0)) {
        return fail(ProblemCode::BadInput, "the wanted dose is above 0 g per kg of water");
    }
    const double goal = goal_g_per_kg_water / (kGramPerKg + goal_g_per_kg_water);
    const double all = mix_g.value + water_g.value;
    const double share = mix_g.value / all;
    const double u = std::hypot(water_g.value * mix_g.u, mix_g.value * water_g.u) / (all * all);
    return Normaliser{NormalisedBy::DryMass, share / goal, u / goal, 0};
}

Result<std::vector<DissolvedResult>> dissolved_results(const std::vector<ElementReading>& readings,
                                                       const Dilution& dilution,
                                                       const Known& density_kg_per_L,
                                                       const Normaliser& normaliser) {
    BW_CHECK(above_0(dilution.taken, "what was taken of the solution"));
    BW_CHECK(above_0(dilution.made, "what it was made up to"));
    BW_CHECK(above_0(density_kg_per_L, "the solution's density"));
    BW_CHECK(above_0({normaliser.ratio, normaliser.u_ratio}, "the normaliser"));
    double shared = 0;  // of what one solution, dilution and normaliser give to all elements
    for (const Known& k : {dilution.taken, dilution.made, density_kg_per_L,
                           Known{normaliser.ratio, normaliser.u_ratio}}) {
        shared += k.u * k.u / (k.value * k.value);
    }
    const double common = std::sqrt(shared);
    std::vector<DissolvedResult> out;
    for (const ElementReading& r : readings) {
        BW_CHECK(check(r));
        DissolvedResult result;
        result.element = r.element;
        result.below_limit = r.below_limit || r.mg_per_L.value < r.limit_mg_per_L;
        const Known reading = result.below_limit ? Known{r.limit_mg_per_L, 0.0} : r.mg_per_L;
        const Known blank = result.below_limit ? Known{0, 0} : r.blank_mg_per_L;
        result.inputs = {normal_input("reading", reading.value, reading.u, r.freedom),
                         normal_input("blank", blank.value, blank.u),
                         normal_input("taken", dilution.taken.value, dilution.taken.u),
                         normal_input("made up to", dilution.made.value, dilution.made.u),
                         normal_input("density", density_kg_per_L.value, density_kg_per_L.u),
                         normal_input("normaliser", normaliser.ratio, normaliser.u_ratio)};
        const auto per_L = [](std::span<const double> x) { return (x[0] - x[1]) * x[3] / x[2]; };
        const auto per_kg = [&per_L](std::span<const double> x) { return per_L(x) / x[4]; };
        constexpr std::size_t kRatio = 5;
        BW_TRY(volume, propagate(per_L, result.inputs));
        BW_TRY(mass, propagate(per_kg, result.inputs));
        BW_TRY(goal,
               propagate([&per_kg](std::span<const double> x) { return per_kg(x) / x[kRatio]; },
                         result.inputs));
        result.mg_per_L = {volume.value, volume.u};
        result.mg_per_kg = {mass.value, mass.u};
        result.at_goal_mg_per_kg = goal.value;
        result.u_common_relative = common;
        result.u_own_relative =
            goal.value != 0 && !result.below_limit
                ? std::sqrt(
                      std::max(0.0, goal.u * goal.u / goal.value / goal.value - common * common))
                : 0;
        result.budget = std::move(goal);
        out.push_back(std::move(result));
    }
    return out;
}

Result<double> at_goal_mg_per_L(const DissolvedResult& result, unit::PracticalSalinity goal,
                                unit::Celsius temperature) {
    BW_TRY(density, brine::seawater_density(goal, temperature));
    return result.at_goal_mg_per_kg * density.value() / kLitrePerM3;
}

}  // namespace bw::assay
