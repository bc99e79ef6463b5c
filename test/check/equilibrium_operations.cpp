// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Operations on the equilibrium of waters: coefficients, states, solubilities, evaporation.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/reference_totals.hpp"
#include "brine/saturation.hpp"
#include "brine/speciation.hpp"
#include "check/given.hpp"
#include "check/operations.hpp"

namespace bw::check {
namespace {

using namespace brine;

constexpr double kZeroCelsius = 273.15;
constexpr double kMilliPerOne = 1000;

Result<ref::InteractionSet> set_of(const io::Fields& given) {
    BW_TRY(name, given.required_text("set"));
    if (name == "seawater") {
        return ref::InteractionSet::Seawater;
    }
    if (name == "brine") {
        return ref::InteractionSet::Brine;
    }
    return given.bad("set", "sets are seawater and brine");
}

Result<Route> route_of(const io::Fields& given) {
    BW_TRY(name, given.required_text("route"));
    if (name == "joined") {
        return Route::Joined;
    }
    if (name == "seawater_set") {
        return Route::SeawaterSet;
    }
    if (name == "brine_set") {
        return Route::BrineSet;
    }
    return given.bad("route", "routes are joined, seawater_set and brine_set");
}

const EquilibriumModel<double>& model_at(double celsius) {
    static std::map<double, EquilibriumModel<double>> made;
    auto found = made.find(celsius);
    if (found == made.end()) {
        found = made.emplace(celsius, prepare_model(celsius + kZeroCelsius)).first;
    }
    return found->second;
}

/// Totals by symbol, in the unit in which they stand.
Result<PerTotal<double>> totals_in(const io::Fields& table) {
    constexpr auto kNames = std::to_array<std::string_view>(
        {"Na", "K", "Mg", "Ca", "Sr", "Ba", "Li", "Cl", "Br", "F", "SO4", "B", "P", "Si"});
    PerTotal<double> out{};
    for (const auto& [name, value] : *table.self().table()) {
        const auto* const at = std::find(kNames.begin(), kNames.end(), name);
        if (at == kNames.end()) {
            return table.bad(name, "no total of the model");
        }
        BW_TRY(amount, required(table, name));
        out.at(static_cast<std::size_t>(at - kNames.begin())) = amount;
    }
    return out;
}

void write(const Excess<double>& e, Findings& out) {
    for (std::size_t i = 0; i < kSpecies; ++i) {
        out.numbers[fmt::format("gamma.{}", kSpeciesFacts[i].symbol)] = std::exp(e.ln_gamma[i]);
    }
    out.numbers["osmotic_coefficient"] = e.osmotic_coefficient;
    out.numbers["water_activity"] = std::exp(e.ln_water_activity);
}

struct Salt {
    std::string_view formula;
    Species cation, anion;
    double cations, anions;
};
constexpr auto kSalts = std::to_array<Salt>({{"NaCl", Species::Na, Species::Cl, 1, 1},
                                             {"KCl", Species::K, Species::Cl, 1, 1},
                                             {"NaBr", Species::Na, Species::Br, 1, 1},
                                             {"MgCl2", Species::Mg, Species::Cl, 1, 2},
                                             {"CaCl2", Species::Ca, Species::Cl, 1, 2},
                                             {"SrCl2", Species::Sr, Species::Cl, 1, 2},
                                             {"Na2SO4", Species::Na, Species::SO4, 2, 1},
                                             {"K2SO4", Species::K, Species::SO4, 2, 1},
                                             {"MgSO4", Species::Mg, Species::SO4, 1, 1}});

/// ln of the mean coefficient of a salt alone in water.
double ln_mean(const InteractionParameters<double>& set, const Salt& salt, double molal,
               Excess<double>& e) {
    PerSpecies<double> m{};
    m[index(salt.cation)] = salt.cations * molal;
    m[index(salt.anion)] = salt.anions * molal;
    excess(set, m, e);
    return (salt.cations * e.ln_gamma[index(salt.cation)] +
            salt.anions * e.ln_gamma[index(salt.anion)]) /
           (salt.cations + salt.anions);
}

Result<std::size_t> place_of_solid(const io::Fields& given) {
    BW_TRY(name, given.required_text("solid"));
    for (std::size_t i = 0; i < ref::minerals().size(); ++i) {
        if (ref::minerals()[i].key == name) {
            return i;
        }
    }
    return given.bad("solid", "no solid of the model");
}

Result<double> ln_omega(double celsius, const PerTotal<double>& mol_per_kg, double dissolved,
                        Route route, const Closing<double>& closing, std::size_t solid) {
    const auto& model = model_at(celsius);
    BW_TRY(s, speciate(model, conditions(model, mol_per_kg, dissolved, route), closing));
    std::vector<double> out;
    ln_saturation(model, s, out);
    return out[solid];
}

/// Where a function first rises above 0: steps upward from `low`, then halving of ln x. It is never
/// asked far beyond the crossing, where the model does not hold.
Result<double> crossing(double low, double high,
                        const std::function<Result<double>(double)>& function) {
    constexpr double kStep = 1.25;
    double below = low;
    double above = low;
    for (double value = -1; value < 0; above *= kStep) {
        if (above > high) {
            return fail(ProblemCode::BadInput, "the solid does not saturate");
        }
        BW_TRY(found, function(above));
        value = found;
        if (value < 0) {
            below = above;
        }
    }
    above /= kStep;
    constexpr int kHalvings = 60;
    for (int k = 0; k < kHalvings; ++k) {
        const double middle = std::sqrt(below * above);
        BW_TRY(value, function(middle));
        (value < 0 ? below : above) = middle;
    }
    return std::sqrt(below * above);
}

/// Stoichiometric constants that the species of a state form, total scale, mol/kg of solution.
void write_constants(const Speciation<double>& s, Findings& out) {
    const auto m = [&s](Species i) { return s.molality[index(i)]; };
    using enum Species;
    const double share = s.conditions.water_share;
    const double hydrogen = hydrogen_on_scale(Closure::PhTotal, s.conditions, s.molality);
    const double carbonate = m(CO3) + m(MgCO3) + m(CaCO3) + m(SrCO3);
    const double borate = m(BOH4) + m(MgBOH4) + m(CaBOH4);
    out.numbers["log_k1"] = std::log10(hydrogen * m(HCO3) / m(CO2));
    out.numbers["log_k2"] = std::log10(hydrogen * carbonate / m(HCO3));
    out.numbers["ln_kb"] = std::log(hydrogen * borate / m(BOH3));
    out.numbers["ln_kw"] = std::log(hydrogen * (m(OH) + m(MgOH)) * share);
    out.numbers["ln_k0"] = s.conditions.ln_k0 - s.activity.ln_gamma[index(CO2)] + std::log(share);
    out.numbers["carbonate_mol_per_kg"] = carbonate * share;
}

}  // namespace

Result<Findings> single_salt(const Case& c) {
    BW_CHECK(c.given->allow({"set", "celsius", "salt", "molal", "relative_to"}));
    BW_TRY(set, set_of(*c.given));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(formula, c.given->required_text("salt"));
    BW_TRY(molal, required(*c.given, "molal"));
    BW_TRY(relative_to, c.given->number("relative_to"));
    const auto* const salt = std::find_if(kSalts.begin(), kSalts.end(),
                                          [&](const Salt& s) { return s.formula == formula; });
    if (salt == kSalts.end()) {
        return c.given->bad("salt", "no salt of the operation");
    }
    const auto parameters = interaction_parameters(set, celsius + kZeroCelsius);
    Findings out;
    Excess<double> e;
    if (relative_to) {
        const double base = ln_mean(parameters, *salt, *relative_to, e);
        out.numbers["mean_gamma_ratio"] = std::exp(ln_mean(parameters, *salt, molal, e) - base);
    }
    out.numbers["mean_gamma"] = std::exp(ln_mean(parameters, *salt, molal, e));
    write(e, out);
    return out;
}

Result<Findings> species_coefficients(const Case& c) {
    BW_CHECK(c.given->allow({"set", "celsius", "molality"}));
    BW_TRY(set, set_of(*c.given));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(table, c.given->table("molality"));
    if (!table) {
        return c.given->bad("", "molality is missing");
    }
    PerSpecies<double> m{};
    for (const auto& [name, value] : *table->self().table()) {
        const auto species = find_species(name);
        if (!species) {
            return table->bad(name, "no species of the model");
        }
        BW_TRY(amount, required(*table, name));
        m[index(*species)] = amount;
    }
    Excess<double> e;
    excess(interaction_parameters(set, celsius + kZeroCelsius), m, e);
    Findings out;
    write(e, out);
    return out;
}

Result<Findings> water_equilibrium(const Case& c) {
    const io::Fields& given = *c.given;
    BW_CHECK(given.allow({"route", "celsius", "practical_salinity", "mmol_per_kg", "molal",
                          "alkalinity_meq_per_kg", "carbon_mmol_per_kg", "fugacity_uatm"}));
    BW_TRY(route, route_of(given));
    BW_TRY(celsius, required(given, "celsius"));
    BW_TRY(salinity, given.number("practical_salinity"));
    BW_TRY(changed, given.table("mmol_per_kg"));
    BW_TRY(molal, given.table("molal"));
    if (salinity.has_value() == molal.has_value()) {
        return given.bad("", "give practical_salinity or molal");
    }
    PerTotal<double> totals{};
    double dissolved = 0;
    Closing<double> closing;
    if (salinity) {
        const ReferenceTotals natural = reference_totals(*salinity);
        totals = natural.mol_per_kg;
        dissolved = natural.dissolved_kg_per_kg;
        closing.value = {natural.alkalinity_eq_per_kg, natural.carbon_mol_per_kg};
    } else {
        BW_TRY(read, totals_in(*molal));
        totals = read;  // per kg of water: the share of water is 1
    }
    if (changed) {
        BW_TRY(read, totals_in(*changed));
        for (std::size_t t = 0; t < kTotals; ++t) {
            totals[t] = read[t] > 0 ? read[t] / kMilliPerOne : totals[t];
        }
    }
    BW_TRY(alkalinity, given.number("alkalinity_meq_per_kg"));
    BW_TRY(carbon, given.number("carbon_mmol_per_kg"));
    BW_TRY(fugacity, given.number("fugacity_uatm"));
    closing.value[0] = alkalinity ? *alkalinity / kMilliPerOne : closing.value[0];
    closing.value[1] = carbon ? *carbon / kMilliPerOne : closing.value[1];
    if (fugacity) {
        constexpr double kMicro = 1e-6;
        closing.kind[1] = Closure::Fugacity;
        closing.value[1] = *fugacity * kMicro;
    }
    const auto& model = model_at(celsius);
    BW_TRY(s, speciate(model, conditions(model, totals, dissolved, route), closing));
    Findings out;
    for (std::size_t i = 0; i < kSpecies; ++i) {
        out.numbers[fmt::format("gamma.{}", kSpeciesFacts[i].symbol)] =
            std::exp(s.activity.ln_gamma[i]);
        out.numbers[fmt::format("molality.{}", kSpeciesFacts[i].symbol)] = s.molality[i];
    }
    out.numbers["osmotic_coefficient"] = s.activity.osmotic;
    out.numbers["water_activity"] = std::exp(s.activity.ln_water);
    out.numbers["ph_total"] =
        -std::log10(hydrogen_on_scale(Closure::PhTotal, s.conditions, s.molality));
    out.numbers["ph_molal"] = -std::log10(s.molality[index(Species::H)]);
    out.numbers["carbon_mol_per_kg"] = carbon_sum(s.molality) * s.conditions.water_share;
    write_constants(s, out);
    std::vector<double> omega;
    ln_saturation(model, s, omega);
    for (std::size_t i = 0; i < omega.size(); ++i) {
        out.numbers[fmt::format("omega.{}", ref::minerals()[i].key)] = std::exp(omega[i]);
    }
    // What the field calls the solubility product: total calcium times total carbonate at Omega 1.
    const double product = totals[index(Total::Ca)] * out.numbers.at("carbonate_mol_per_kg");
    out.numbers["ksp_calcite"] = product / std::exp(omega[model.calcite]);
    out.numbers["ksp_aragonite"] = product / std::exp(omega[model.aragonite]);
    return out;
}

Result<Findings> solubility(const Case& c) {
    BW_CHECK(c.given->allow({"route", "celsius", "solid", "molal"}));
    BW_TRY(route, route_of(*c.given));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(solid, place_of_solid(*c.given));
    BW_TRY(table, c.given->table("molal"));
    PerTotal<double> water{};
    if (table) {
        BW_TRY(read, totals_in(*table));
        water = read;
    }
    const Closing<double> neutral{{Closure::PhTotal, Closure::Carbon}, {7, 0}};
    const auto with = [&](double amount) {
        PerTotal<double> totals = water;
        for (const auto& term : model_at(celsius).solids[solid].terms) {
            for (std::size_t t = 0; t < index(Total::B); ++t) {
                if (kTotalFacts[t].acts_as == term.species) {
                    totals[t] += term.coefficient * amount;
                }
            }
        }
        return ln_omega(celsius, totals, 0, route, neutral, solid);
    };
    constexpr double kLeast = 1e-6;
    constexpr double kMost = 10;
    BW_TRY(amount, crossing(kLeast, kMost, with));
    return Findings{{{"molal", amount}}, {}};
}

Result<Findings> evaporation(const Case& c) {
    BW_CHECK(c.given->allow({"route", "celsius", "solid"}));
    BW_TRY(route, route_of(*c.given));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(solid, place_of_solid(*c.given));
    constexpr double kNormal = 35;
    const ReferenceTotals natural = reference_totals(kNormal);
    const double per_water = 1 - natural.dissolved_kg_per_kg;
    const auto at = [&](double factor) {  // molalities times the factor: water is taken away
        PerTotal<double> totals = natural.mol_per_kg;
        for (double& amount : totals) {
            amount *= factor / per_water;
        }
        const Closing<double> air{{Closure::Alkalinity, Closure::Fugacity},
                                  {natural.alkalinity_eq_per_kg * factor / per_water, 4.2e-4}};
        return ln_omega(celsius, totals, 0, route, air, solid);
    };
    constexpr double kMost = 13;
    BW_TRY(factor, crossing(1, kMost, at));
    return Findings{{{"factor", factor}}, {}};
}

}  // namespace bw::check
