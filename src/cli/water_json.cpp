// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/json_values.inl"
#include "cli/recipe_output.hpp"
#include "cli/water_output.hpp"
#include "ref/tables.hpp"

namespace bw::cli {
namespace {

constexpr double kMilli = 1e3;
constexpr double kMicro = 1e6;

/// One coefficient or share of every ion by its symbol; null for what the model does not know.
template <class OfConstituent, class OfForm>
Json by_symbol(const service::WaterReport& r, OfConstituent of_constituent, OfForm of_form) {
    Json out = Json::object();
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        if (!(r.mol_per_kg[c] > 0) || c.is_alkalinity() || c.symbol() == "carbon") {
            continue;
        }
        const brine::ConstituentState* state = state_of(r, c);
        out[std::string(c.symbol())] =
            state != nullptr ? json_number(of_constituent(*state)) : Json(nullptr);
    }
    for (const DissolvedForm& form : dissolved_forms(r.state)) {
        out[form.symbol] = json_number(of_form(form));
    }
    return out;
}

Json constituents(const service::WaterReport& r) {
    Json out = Json::array();
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        const double mol = r.mol_per_kg[c];
        if (mol == 0 || c.is_alkalinity()) {
            continue;
        }
        const double mg_per_kg = mol * matter::counted_molar_mass_g(c) * kMilli;
        const brine::ConstituentState* state = state_of(r, c);
        out.push_back(
            {{"symbol", std::string(c.symbol())},
             {"mmol_per_kg", mol * kMilli},
             {"mg_per_kg", mg_per_kg},
             {"mg_per_L", r.kg_per_litre ? json_number(mg_per_kg * *r.kg_per_litre) : nullptr},
             {"free_form", free_form(c).empty() ? Json(nullptr) : Json(free_form(c))},
             {"stand_in", state != nullptr && state->stand_in}});
    }
    return out;
}

Json saturation(const brine::WaterState& s) {
    Json out = Json::object();
    for (const brine::SaturationState& m : s.saturation) {
        out[std::string(m.solid->key)] = json_number(m.omega);
    }
    return out;
}

Json solids(const brine::WaterState& s) {
    Json out = Json::array();
    for (const brine::SaturationState& m : s.saturation) {
        out.push_back({{"phase", std::string(m.solid->key)},
                       {"omega", json_number(m.omega)},
                       {"trusted_within_factor", m.factor},
                       {"in_range", m.in_range},
                       {"verdict", saturation_words(m, s)},
                       {"forms_when", std::string(m.solid->forms_when)}});
    }
    return out;
}

Json spread(const brine::WaterState& s) {
    if (!s.spread) {
        return nullptr;
    }
    return {{"pH", json_number(s.spread->ph)},
            {"ln_omega_calcite", json_number(s.spread->ln_omega_calcite)},
            {"ln_omega_aragonite", json_number(s.spread->ln_omega_aragonite)},
            {"ln_activity_coefficient", json_number(s.spread->ln_activity_coefficient)}};
}

void add_properties(const service::WaterReport& r, Json& out) {
    const brine::WaterState& s = r.state;
    const service::WaterSheet& sheet = r.sheet;
    out["temperature_degC"] = s.temperature.value();
    out["salinity_g_per_kg"] = json_number(s.dissolved_g_per_kg);
    out["practical_salinity"] = json_number(sheet.practical_salinity);
    out["ionic_strength_mol_per_kg_water"] = json_number(s.ionic_strength_mol_per_kg_water);
    out["density_kg_per_m3"] = json_number(value_of(sheet.density_kg_per_m3));
    out["specific_gravity"] = {{"20/20", json_number(value_of(sheet.specific_gravity_20_20))},
                               {"25/25", json_number(value_of(sheet.specific_gravity_25_25))}};
    out["conductivity_mS_per_cm"] = json_number(value_of(sheet.conductivity_mS_per_cm));
    out["conductivity_25C_mS_per_cm"] = json_number(value_of(sheet.conductivity_25C_mS_per_cm));
    out["refractive_index"] = json_number(value_of(sheet.refractive_index));
}

void add_acid_base(const brine::WaterState& s, Json& out) {
    out["pH"] = {{"total", json_number(s.ph_total)},
                 {"free", json_number(s.ph_free)},
                 {"nbs", json_number(s.ph_nbs)}};
    out["alkalinity_meq_per_kg"] = {
        {"total", json_number(s.alkalinity_eq_per_kg * kMilli)},
        {"carbonate", json_number(s.alkalinity_carbonate_eq_per_kg * kMilli)},
        {"borate", json_number(s.alkalinity_borate_eq_per_kg * kMilli)},
        {"other", json_number(s.alkalinity_other_eq_per_kg * kMilli)}};
    out["carbon_mmol_per_kg"] = json_number(s.carbon_mol_per_kg * kMilli);
    out["pCO2_uatm"] = json_number(s.partial_pressure_co2_atm * kMicro);
    out["fCO2_uatm"] = json_number(s.fugacity_co2_atm * kMicro);
}

Json uncertainties(const service::WaterSheet& sheet) {
    Json out = Json::object();
    const auto add = [&](const char* name, const std::optional<service::Property>& p) {
        if (p && p->standard_uncertainty) {
            out[name] = json_number(*p->standard_uncertainty);
        }
    };
    add("density_kg_per_m3", sheet.density_kg_per_m3);
    add("conductivity_mS_per_cm", sheet.conductivity_mS_per_cm);
    add("conductivity_25C_mS_per_cm", sheet.conductivity_25C_mS_per_cm);
    add("refractive_index", sheet.refractive_index);
    return out;
}

Json document(const service::WaterReport& r) {
    const brine::WaterState& s = r.state;
    Json out = {{"version", 1},
                {"program", "brinewright " + std::string(kProgramVersion)},
                {"data_digest", std::string(ref::data_digest())},
                {"name", water_name(r)},
                {"closed_by", r.spec.closed_by}};
    add_properties(r, out);
    add_acid_base(s, out);
    using State = brine::ConstituentState;
    out["activity_coefficients"] = by_symbol(
        r, [](const State& c) { return c.total_activity_coefficient; },
        [](const DissolvedForm& f) { return f.free_fraction * f.free_activity_coefficient; });
    out["free_activity_coefficients"] = by_symbol(
        r, [](const State& c) { return c.free_activity_coefficient; },
        [](const DissolvedForm& f) { return f.free_activity_coefficient; });
    out["free_fraction"] = by_symbol(
        r, [](const State& c) { return c.free_fraction; },
        [](const DissolvedForm& f) { return f.free_fraction; });
    out["water_activity"] = json_number(s.water_activity);
    out["osmotic_coefficient"] = json_number(s.osmotic_coefficient);
    out["osmolality_mol_per_kg_water"] = json_number(s.osmolality_mol_per_kg_water);
    out["saturation"] = saturation(s);
    out["charge_balance_percent"] = json_number(s.charge_balance_percent);
    out["constituents"] = constituents(r);
    out["solids"] = solids(s);
    out["standard_uncertainty"] = uncertainties(r.sheet);
    out["spread_of_routes"] = spread(s);
    out["notices"] = json_notices(r.notices);
    return out;
}

}  // namespace

std::string water_json(const service::WaterReport& report) { return json_text(document(report)); }

std::string compare_json(const service::WaterReport& first, const service::WaterReport& second) {
    Json differences = Json::array();
    for (const QuantityPair& p : paired(first, second)) {
        differences.push_back(
            {{"quantity", p.name},
             {"unit", p.unit},
             {"first", json_number(p.first)},
             {"second", json_number(p.second)},
             {"difference", json_number(p.difference())},
             {"relative_percent", json_number(p.relative_percent())},
             {"within_uncertainty",
              p.within_uncertainty() ? Json(*p.within_uncertainty()) : Json(nullptr)}});
    }
    return json_text({{"version", 1},
                      {"first", document(first)},
                      {"second", document(second)},
                      {"differences", std::move(differences)}});
}

}  // namespace bw::cli
