// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/show_water.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/water_totals.hpp"
#include "io/water_doubts.hpp"
#include "service/recipe_water.hpp"

namespace bw::service {
namespace {

constexpr double kKgPerLitre = 1e-3;  // of kg/m3

Result<io::WaterSpec> spec_of(const WaterRequest& request) {
    if (io::is_kind(request.water, "recipe")) {
        return recipe_water(request.water, request.materials);
    }
    if (!request.materials.empty() && io::is_kind(request.water, "water")) {
        return fail(ProblemCode::BadInput,
                    "materials go with a file of kind \"recipe\"; a water states its constituents",
                    {"", 0, "--materials"});
    }
    return io::read_water(request.water);
}

/// The model's problem, at the place of the water.
Result<brine::WaterState> solved(const io::WaterSpec& spec, bool spread) {
    auto state = brine::water_state(spec.input, spread);
    if (!state) {
        Problem problem = state.error();
        if (problem.place.file.empty()) {
            problem.place = spec.place;
        }
        return tl::make_unexpected(std::move(problem));
    }
    return state;
}

void close_by_amounts(const brine::WaterState& state, io::WaterSpec& spec) {
    spec.input.closing = {{{brine::Closure::Alkalinity, state.alkalinity_eq_per_kg},
                           {brine::Closure::Carbon, state.carbon_mol_per_kg}}};
    spec.input.mol_per_kg[matter::constituent("alkalinity")] = state.alkalinity_eq_per_kg;
    spec.input.mol_per_kg[matter::constituent("carbon")] = state.carbon_mol_per_kg;
}

Result<void> bring_to(unit::Celsius temperature, io::WaterSpec& spec) {
    if (temperature == spec.input.temperature) {
        return {};
    }
    const std::string from = base::format_exact(spec.input.temperature.value());
    const bool by_ph = std::any_of(spec.input.closing.begin(), spec.input.closing.end(),
                                   [](const auto& s) { return brine::is_ph(s.kind); });
    if (by_ph) {
        BW_TRY(state, solved(spec, false));
        close_by_amounts(state, spec);
        spec.pco2_atm = std::nullopt;
        spec.notices.push_back(
            {"ph_at_file_temperature",
             fmt::format("pH is taken as stated at {} degC; the water keeps the alkalinity and the "
                         "carbon that it has there.",
                         from)});
    }
    spec.input.temperature = temperature;
    if (spec.pco2_atm) {
        BW_TRY(fugacity, io::co2_fugacity_atm(*spec.pco2_atm, temperature));
        for (auto& statement : spec.input.closing) {
            if (statement.kind == brine::Closure::Fugacity) {
                statement.value = fugacity;
            }
        }
        spec.notices.push_back(
            {"air_at_temperature",
             fmt::format("The water keeps its pCO2 at {} degC, so it takes up or gives off carbon.",
                         base::format_exact(temperature.value()))});
    }
    return {};
}

/// The properties take a carbon of 0 for one that is not known; here it is known that there is
/// none.
matter::Amounts with_known_carbon(matter::Amounts mol_per_kg) {
    constexpr double kTrace = 1e-15;  // mol/kg
    double& carbon = mol_per_kg[matter::constituent("carbon")];
    carbon = std::max(carbon, kTrace);
    return mol_per_kg;
}

void note_what_is_left_out(const WaterReport& report, base::Notices& out) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (report.mol_per_kg[c] > 0 && !brine::total_of(c) && !c.is_alkalinity() &&
            c.symbol() != "carbon") {
            names.emplace_back(c.symbol());
        }
    }
    if (!names.empty()) {
        out.push_back({"not_in_model",
                       fmt::format("The model does not know {}: no activity coefficient is given, "
                                   "and nothing else depends on it.",
                                   base::join_words(names))});
    }
    if (!report.state.ph_nbs) {
        out.push_back({"no_ph_nbs",
                       "pH on the NBS scale is not given: its coefficient was measured in "
                       "waters of salinity 20 to 40 only."});
    }
}

}  // namespace

Result<WaterReport> show_water(const WaterRequest& request) {
    WaterReport report;
    BW_TRY(spec, spec_of(request));
    report.spec = std::move(spec);
    if (request.temperature) {
        if (request.temperature->value() != report.spec.input.temperature.value()) {
            report.file_temperature = report.spec.input.temperature;
        }
        BW_CHECK(bring_to(*request.temperature, report.spec));
    }
    BW_TRY(state, solved(report.spec, true));
    report.state = std::move(state);
    report.mol_per_kg = report.spec.input.mol_per_kg;
    report.mol_per_kg[matter::constituent("alkalinity")] = report.state.alkalinity_eq_per_kg;
    report.mol_per_kg[matter::constituent("carbon")] = report.state.carbon_mol_per_kg;
    if (!report.spec.alkalinity_known) {
        BW_CHECK(io::check_charge(report.mol_per_kg, report.spec.place));
    }
    BW_TRY(sheet, water_sheet(with_known_carbon(report.mol_per_kg), report.spec.input.temperature));
    report.sheet = std::move(sheet);
    base::append(report.notices, report.spec.notices);
    base::append(report.notices, report.state.notices);
    note_what_is_left_out(report, report.notices);
    base::append(report.notices, report.sheet.notices);
    const auto has = [&](std::string_view code) {
        return std::ranges::any_of(report.notices,
                                   [&](const base::Notice& n) { return n.code == code; });
    };
    if (has("charge_balance")) {  // said once
        std::erase_if(report.notices,
                      [](const base::Notice& n) { return n.code == "property_charge"; });
    }
    if (report.spec.litre_kg_per_m3 && !request.temperature) {  // litres go back to what was typed
        report.kg_per_litre = *report.spec.litre_kg_per_m3 * kKgPerLitre;
    } else if (report.sheet.density_kg_per_m3) {
        report.kg_per_litre = report.sheet.density_kg_per_m3->value * kKgPerLitre;
    }
    return report;
}

}  // namespace bw::service
