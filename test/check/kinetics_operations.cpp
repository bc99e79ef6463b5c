// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Growth and onset of calcium carbonate, with the brine model's saturation.
#include <cmath>
#include <limits>
#include <span>

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/water.hpp"
#include "check/given.hpp"
#include "check/operations.hpp"
#include "num/ode.hpp"
#include "path/onset.hpp"
#include "path/vat_water.hpp"

namespace bw::check {
namespace {

constexpr double kMicroPerOne = 1e6;
constexpr double kMilliPerOne = 1000;
constexpr double kGramPerKg = 1000;
constexpr double kNormalSalinity = 35;

/// Seawater of a salinity with what differs; what alkalinity and the differences lack in charge is
/// made up by sodium.
Result<brine::WaterInput> water_in(const io::Fields& given, double celsius) {
    BW_TRY(salinity, required(given, "practical_salinity"));
    brine::WaterInput out;
    out.temperature = unit::Celsius(celsius);
    out.mol_per_kg =
        matter::reference_seawater(ref::reference_salinity_g_per_kg() * salinity / kNormalSalinity);
    BW_TRY(differs, given.table("mmol_per_kg"));
    if (differs) {
        for (const auto& [name, value] : *differs->self().table()) {
            BW_TRY(constituent, matter::require_constituent(name));
            BW_TRY(amount, required(*differs, name));
            out.mol_per_kg[constituent] = amount / kMilliPerOne;
        }
    }
    const auto alkalinity = matter::constituent("alkalinity");
    BW_TRY(ueq, required(given, "alkalinity_ueq_per_kg"));
    out.mol_per_kg[alkalinity] = ueq / kMicroPerOne;
    out.mol_per_kg[matter::constituent("Na")] -= out.mol_per_kg.charge();
    out.closing[0] = {brine::Closure::Alkalinity, ueq / kMicroPerOne};
    BW_TRY(carbon, given.number("carbon_umol_per_kg"));
    BW_TRY(fugacity, given.number("fugacity_uatm"));
    BW_TRY(ph, given.number("ph_total"));
    if (carbon.has_value() + fugacity.has_value() + ph.has_value() != 1) {
        return given.bad("", "give one of carbon_umol_per_kg, fugacity_uatm and ph_total");
    }
    out.closing[1] =
        carbon ? brine::WaterInput::Statement{brine::Closure::Carbon, *carbon / kMicroPerOne}
        : fugacity
            ? brine::WaterInput::Statement{brine::Closure::Fugacity, *fugacity / kMicroPerOne}
            : brine::WaterInput::Statement{brine::Closure::PhTotal, *ph};
    return out;
}

/// Hit: the time itself agrees. Within its factor: some time within the factor does.
std::string verdict(double hours, double factor, double seen_from, double seen_to) {
    if (hours >= seen_from && hours <= seen_to) {
        return "hit";
    }
    return hours * factor >= seen_from && hours / factor <= seen_to ? "within its factor" : "miss";
}

/// Hours until a share of the alkalinity is lost to seeds in a vat open to the air.
struct SeededVat {
    path::VatWater water;
    path::Dissolved start;
    double celsius, gas_per_h, fugacity_atm;

    /// Unknowns: mol/kg-water of CaCO3 gone, mol/kg-water of carbon, m that the faces have moved.
    double hours(const path::Crystals& seeds, double share, double most) {
        static const std::size_t kAragonite = ref::mineral_place("aragonite");
        constexpr auto kSolid = path::CarbonateSolid::Aragonite;
        const double mol_before = seeds.mol_per_kg(kSolid);
        constexpr double kMicrometre = 1e-6;
        num::OdeProblem problem;
        problem.start = {0, start.carbon_mol * kMilliPerOne};
        problem.absolute_tolerance = {1e-9, 1e-9};
        problem.slope = [&](double, std::span<const double> y, std::span<double> dy) {
            const path::Crystals now = path::grown(seeds, y[0] * kMicrometre);
            const double gone = now.mol_per_kg(kSolid) - mol_before;
            path::Dissolved d = start;
            d.mol[brine::index(brine::Total::Ca)] -= gone;
            d.alkalinity_eq -= 2 * gone;
            d.carbon_mol = y[1] / kMilliPerOne;
            const path::VatState* state = water.at(d, celsius);
            if (state == nullptr) {
                return false;
            }
            const double rate = path::aragonite_growth_umol_per_m2_h(
                std::exp(state->ln_omega[kAragonite]), unit::Celsius(celsius));
            const double at_air = fugacity_atm / std::exp(state->ln_fugacity_per_co2);
            dy[0] = path::face_speed_m_per_h(rate, kSolid) / kMicrometre;
            dy[1] = kMilliPerOne * (gas_per_h * (at_air - state->co2_mol_per_kg_water) -
                                    path::uptake_mol_per_kg_h(now, rate));
            return true;
        };
        problem.event_count = 1;
        problem.events = [&](double, std::span<const double> y, std::span<double> values) {
            const path::Crystals now = path::grown(seeds, y[0] * kMicrometre);
            values[0] = 2 * (now.mol_per_kg(kSolid) - mol_before) / start.alkalinity_eq - share;
        };
        const std::array<double, 1> last{most};
        const num::OdeCourse course =
            num::integrate(problem, last, [](const num::OdeEvent&) { return false; });
        return course.end == num::OdeEnd::Stopped   ? course.events.front().t
               : course.end == num::OdeEnd::Reached ? std::numeric_limits<double>::infinity()
                                                    : std::numeric_limits<double>::quiet_NaN();
    }
};

}  // namespace

Result<Findings> growth(const Case& c) {
    BW_CHECK(c.given->allow({"law", "celsius", "omega"}));
    BW_TRY(law, c.given->required_text("law"));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(omegas, c.given->texts("omega"));
    Findings out;
    for (const std::string& text : omegas) {
        const double omega = std::strtod(text.c_str(), nullptr);
        BW_TRY(rate, path::published_growth_umol_per_m2_h(law, omega, unit::Celsius(celsius)));
        out.numbers["umol_per_m2_h." + text] = rate;
    }
    return out;
}

Result<Findings> delay_of_onset(const Case& c) {
    BW_CHECK(c.given->allow({"magnesium_share", "sulfate_share"}));
    BW_TRY(magnesium, required(*c.given, "magnesium_share"));
    BW_TRY(sulfate, required(*c.given, "sulfate_share"));
    return Findings{{{"ratio", path::delay(magnesium, sulfate)}}, {}};
}

Result<Findings> onset_of_carbonate(const Case& c) {
    const io::Fields& given = *c.given;
    BW_CHECK(
        given.allow({"celsius", "omega_aragonite", "practical_salinity", "alkalinity_ueq_per_kg",
                     "carbon_umol_per_kg", "fugacity_uatm", "ph_total", "mmol_per_kg", "particles",
                     "particles_known", "without", "seen_from_h", "seen_to_h", "none_until_h"}));
    path::OnsetWater water;
    BW_TRY(celsius, required(given, "celsius"));
    water.temperature = unit::Celsius(celsius);
    BW_TRY(particles, given.number("particles"));
    water.particles = particles.value_or(1);
    BW_TRY(known, given.flag("particles_known"));
    water.particles_known = known.value_or(true);
    BW_TRY(without, given.texts("without"));
    for (const std::string& ion : without) {
        (ion == "Mg" ? water.magnesium_share : water.sulfate_share) = 0;
    }
    BW_TRY(none_until, given.number("none_until_h"));
    BW_TRY(from, given.number("seen_from_h"));
    BW_TRY(to, given.number("seen_to_h"));
    constexpr double kNever = std::numeric_limits<double>::infinity();
    if (none_until.has_value() == to.has_value()) {
        return given.bad("", "give none_until_h, or seen_from_h and seen_to_h");
    }
    const double first = none_until ? *none_until : from.value_or(0);
    const double last = to.value_or(kNever);
    Findings out;
    const auto judge_by = [&](const char* whose, double omega) {
        water.omega_aragonite = omega;
        const path::Onset found = path::onset(water);
        out.numbers[fmt::format("omega_aragonite.{}", whose)] = omega;
        out.numbers[fmt::format("hours.{}", whose)] = found.hours;
        out.numbers["factor"] = found.factor;
        out.words[fmt::format("verdict.{}", whose)] =
            verdict(found.hours, found.factor, first, last);
    };
    BW_TRY(stated, required(given, "omega_aragonite"));
    judge_by("stated", stated);
    if (given.has("practical_salinity")) {
        BW_TRY(input, water_in(given, celsius));
        BW_TRY(state, brine::water_state(input));
        judge_by("ours", state.saturation[ref::mineral_place("aragonite")].omega);
        out.numbers["ph_total"] = state.ph_total;
        out.numbers["carbon_umol_per_kg"] = state.carbon_mol_per_kg * kMicroPerOne;
    }
    return out;
}

Result<Findings> seeded_loss(const Case& c) {
    const io::Fields& given = *c.given;
    BW_CHECK(given.allow({"celsius", "practical_salinity", "alkalinity_ueq_per_kg", "fugacity_uatm",
                          "mmol_per_kg", "gas_per_h", "seed_area_m2_per_g", "share", "watched_h",
                          "seed_mg_per_kg"}));
    BW_TRY(celsius, required(given, "celsius"));
    BW_TRY(gas, required(given, "gas_per_h"));
    BW_TRY(area, required(given, "seed_area_m2_per_g"));
    BW_TRY(share, required(given, "share"));
    BW_TRY(watched, required(given, "watched_h"));
    BW_TRY(seeds, given.texts("seed_mg_per_kg"));
    BW_TRY(input, water_in(given, celsius));
    BW_TRY(state, brine::water_state(input));
    input.mol_per_kg[matter::constituent("carbon")] = state.carbon_mol_per_kg;
    const double water_share = 1 - state.dissolved_g_per_kg / kGramPerKg;
    input.mol_per_kg.scale(1 / water_share);
    SeededVat vat{{}, path::dissolved_of(input.mol_per_kg), celsius, gas, state.fugacity_co2_atm};
    Findings out;
    out.numbers["omega_aragonite"] = state.saturation[ref::mineral_place("aragonite")].omega;
    for (const std::string& text : seeds) {
        const double kg_per_kg_water =
            std::strtod(text.c_str(), nullptr) / kMicroPerOne / water_share;
        const double hours = vat.hours(
            path::seed(kg_per_kg_water, area, path::CarbonateSolid::Aragonite), share, watched);
        out.numbers["log10_hours." + text] = std::log10(hours);
        out.words["beyond." + text] = std::isinf(hours) ? "beyond the watch" : "within the watch";
    }
    return out;
}

}  // namespace bw::check
