// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/conditions.hpp"
#include "brine/water_totals.hpp"
#include "cli/water_output.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using brine::Species;

constexpr double kMilli = 1e3;
constexpr double kMicro = 1e6;

double at(const brine::WaterState& s, Species i) { return s.molality[brine::index(i)]; }

DissolvedForm form(const brine::WaterState& s, Species ion, double pairs) {
    DissolvedForm out;
    out.symbol = std::string(brine::facts(ion).symbol);
    const double free = at(s, ion);
    out.free_fraction = free > 0 ? free / (free + pairs) : 1;
    out.free_activity_coefficient = std::exp(s.ln_gamma[brine::index(ion)]);
    return out;
}

void add_heads(const service::WaterReport& r, std::vector<WaterQuantity>& out) {
    const brine::WaterState& s = r.state;
    out.push_back({"temperature", "degC", s.temperature.value(), true});
    out.push_back({"dissolved", "g/kg", s.dissolved_g_per_kg});
    out.push_back({"practical salinity", "", r.sheet.practical_salinity});
    out.push_back({"ionic strength", "mol/kg-water", s.ionic_strength_mol_per_kg_water});
    const auto add = [&](const char* name, const char* unit,
                         const std::optional<service::Property>& p) {
        out.push_back({name, unit, value_of(p), false,
                       p ? p->standard_uncertainty : std::optional<double>()});
    };
    add("density", "kg/m3", r.sheet.density_kg_per_m3);
    add("specific gravity 20/20", "", r.sheet.specific_gravity_20_20);
    add("specific gravity 25/25", "", r.sheet.specific_gravity_25_25);
    add("conductivity", "mS/cm", r.sheet.conductivity_mS_per_cm);
    add("conductivity at 25 degC", "mS/cm", r.sheet.conductivity_25C_mS_per_cm);
    add("refractive index", "", r.sheet.refractive_index);
    out.push_back({"water activity", "", s.water_activity});
    out.push_back({"osmotic coefficient", "", s.osmotic_coefficient});
    out.push_back({"osmolality", "mol/kg-water", s.osmolality_mol_per_kg_water});
}

void add_acid_base(const brine::WaterState& s, std::vector<WaterQuantity>& out) {
    out.push_back({"pH, total scale", "", s.ph_total, true});
    out.push_back({"pH, free scale", "", s.ph_free, true});
    out.push_back({"pH, NBS scale", "", s.ph_nbs, true});
    out.push_back({"alkalinity", "meq/kg", s.alkalinity_eq_per_kg * kMilli});
    out.push_back({"alkalinity of carbonate", "meq/kg", s.alkalinity_carbonate_eq_per_kg * kMilli});
    out.push_back({"alkalinity of borate", "meq/kg", s.alkalinity_borate_eq_per_kg * kMilli});
    out.push_back({"alkalinity of others", "meq/kg", s.alkalinity_other_eq_per_kg * kMilli});
    out.push_back({"carbon", "mmol/kg", s.carbon_mol_per_kg * kMilli});
    out.push_back({"pCO2", "uatm", s.partial_pressure_co2_atm * kMicro});
    out.push_back({"charge balance", "%", s.charge_balance_percent, true});
}

}  // namespace

std::optional<double> value_of(const std::optional<service::Property>& property) {
    return property ? std::optional<double>(property->value) : std::nullopt;
}

std::vector<DissolvedForm> dissolved_forms(const brine::WaterState& s) {
    return {form(s, Species::H, at(s, Species::HSO4) + at(s, Species::HF)),
            form(s, Species::OH, at(s, Species::MgOH)), form(s, Species::HCO3, 0),
            form(s, Species::CO3,
                 at(s, Species::MgCO3) + at(s, Species::CaCO3) + at(s, Species::SrCO3)),
            form(s, Species::BOH4, at(s, Species::MgBOH4) + at(s, Species::CaBOH4))};
}

const brine::ConstituentState* state_of(const service::WaterReport& r, matter::Constituent c) {
    const auto found = std::find_if(r.state.constituents.begin(), r.state.constituents.end(),
                                    [&](const auto& s) { return s.constituent == c; });
    return found == r.state.constituents.end() ? nullptr : &*found;
}

std::string free_form(matter::Constituent c) {
    const auto to = brine::total_of(c);
    if (!to) {
        return "";
    }
    return std::string(
        to->stand_in ? c.symbol()
                     : brine::facts(brine::kTotalFacts[brine::index(to->total)].acts_as).symbol);
}

std::vector<WaterQuantity> water_quantities(const service::WaterReport& r) {
    std::vector<WaterQuantity> out;
    add_heads(r, out);
    add_acid_base(r.state, out);
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (r.mol_per_kg[c] > 0 && !c.is_alkalinity() && c.symbol() != "carbon") {
            out.push_back({std::string(c.symbol()), "mmol/kg", r.mol_per_kg[c] * kMilli});
        }
    }
    const double chloride = r.mol_per_kg[matter::constituent("Cl")];
    for (std::size_t i = 0; i < matter::constituent_count() && chloride > 0; ++i) {
        const matter::Constituent c(i);
        if (r.mol_per_kg[c] > 0 && !c.is_alkalinity() && c.symbol() != "carbon" &&
            c.symbol() != "Cl") {
            out.push_back({fmt::format("{} to Cl", c.symbol()), "mmol/mol",
                           r.mol_per_kg[c] / chloride * kMilli});
        }
    }
    for (const brine::ConstituentState& c : r.state.constituents) {
        out.push_back({fmt::format("activity coefficient of {}", c.constituent.symbol()), "",
                       c.total_activity_coefficient});
    }
    for (const brine::SaturationState& s : r.state.saturation) {
        if (s.omega > 0) {
            out.push_back({fmt::format("saturation of {}", s.solid->name), "", s.omega});
        }
    }
    return out;
}

namespace {

double omega_of(const brine::WaterState& water, std::string_view key) {
    for (const brine::SaturationState& s : water.saturation) {
        if (s.solid->key == key) {
            return s.omega;
        }
    }
    return 0;
}

/// Whether magnesium rules calcium carbonate as in the sea (Mg/Ca 5): above a ratio of 2 calcite
/// does not start by itself (data/minerals.toml).
bool is_rich_in_magnesium(const brine::WaterState& water) {
    constexpr double kMagnesiumRules = 2;
    double magnesium = 0;
    double calcium = 0;
    for (const brine::ConstituentState& c : water.constituents) {
        if (c.constituent.symbol() == "Mg") {
            magnesium = c.total_mol_per_kg;
        } else if (c.constituent.symbol() == "Ca") {
            calcium = c.total_mol_per_kg;
        }
    }
    return magnesium >= kMagnesiumRules * calcium;
}

/// What keeps a supersaturated calcium carbonate in a sea's water, or empty.
std::string carbonate_held_by(const brine::SaturationState& s, const brine::WaterState& water) {
    constexpr double kNaturalAragonite = 5;  // warm seas reach it and stay clear: common practice
    if (!is_rich_in_magnesium(water)) {
        return "";
    }
    const std::string_view key = s.solid->key;
    if ((key == "aragonite" || key == "calcite") &&
        omega_of(water, "aragonite") < kNaturalAragonite) {
        return "as every warm sea is; not expected to form by itself";
    }
    // Monohydrocalcite comes of the amorphous carbonate, which magnesium does not stop.
    if (key == "vaterite" ||
        (key == "monohydrocalcite" && omega_of(water, "amorphous_CaCO3") < 1)) {
        return "held back by magnesium";
    }
    return "";
}

std::string ph_moved(double ph) {
    const std::string size = base::format_places(std::abs(ph), 3);
    return size == base::format_places(0, 3) ? "the same" : size + (ph > 0 ? " lower" : " higher");
}

}  // namespace

SolidVerdict solid_verdict(const brine::SaturationState& s, const brine::WaterState& water) {
    if (s.omega * s.factor < 1) {
        return {SolidFate::Dissolved, ""};
    }
    if (s.omega < s.factor) {
        return {SolidFate::Close, ""};
    }
    std::string held = carbonate_held_by(s, water);
    if (!held.empty()) {
        return {SolidFate::Held, std::move(held)};
    }
    switch (s.solid->forming) {
        case ref::Forming::Minutes:
            return {SolidFate::MayFall, "within minutes"};
        case ref::Forming::Hours:
            return {SolidFate::MayFall, "within hours"};
        case ref::Forming::Days:
            return {SolidFate::MayFall, "within days"};
        case ref::Forming::OnSeed:
            return {SolidFate::Held, "grows on its own grains only"};
        case ref::Forming::Never:
            break;
    }
    return {SolidFate::Held, "never forms at these temperatures"};
}

std::string_view out_of_range_words(const brine::SaturationState& s) {
    return s.in_range || s.solid->forming == ref::Forming::Never ? ""
                                                                 : " (constant out of its range)";
}

std::string saturation_words(const brine::SaturationState& s, const brine::WaterState& water) {
    const SolidVerdict verdict = solid_verdict(s, water);
    const std::string words = verdict.fate == SolidFate::Dissolved ? "undersaturated"
                              : verdict.fate == SolidFate::Close   ? "too close to call"
                              : verdict.fate == SolidFate::Held
                                  ? "supersaturated, " + verdict.why
                                  : "supersaturated, can form " + verdict.why;
    return words + std::string(out_of_range_words(s));
}

std::vector<std::string> doubt_sentences(const service::WaterReport& r) {
    std::vector<std::string> out;
    const brine::WaterState& s = r.state;
    if (s.spread) {
        const double activity =
            (std::exp(std::abs(s.spread->ln_activity_coefficient)) - 1) * unit::kPercent;
        const double ln_aragonite = s.spread->ln_omega_aragonite;  // none without calcium or carbon
        out.push_back(fmt::format(
            "Worked out without the constants measured in seawater, by ion interaction alone, pH "
            "would be {}{}.",
            ph_moved(s.spread->ph),
            std::isfinite(ln_aragonite)
                ? fmt::format(" and aragonite's saturation {} times {}",
                              base::format_significant(std::exp(std::abs(ln_aragonite)), 3),
                              ln_aragonite > 0 ? "smaller" : "larger")
                : ""));
        out.push_back(
            fmt::format("The two parameter sets differ by at most {} % in an activity coefficient "
                        "of Na, K, Mg, Ca, Cl or SO4.",
                        base::format_significant(activity, 2)));
    }
    return out;
}

std::string water_name(const service::WaterReport& r) {
    return base::one_line(r.spec.name.empty() ? r.spec.place.file : r.spec.name);
}

}  // namespace bw::cli
