// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "check/operations.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/seawater_density.hpp"
#include "matter/concentration.hpp"
#include "matter/constituent.hpp"
#include "matter/formula.hpp"
#include "ref/tables.hpp"

namespace bw::check {
namespace {

using matter::Constituent;

constexpr double kGramPerKg = 1000;
constexpr double kMilliPerOne = 1000;
constexpr double kMicroPerOne = 1e6;
constexpr double kIpts68PerIts90 = 1.00024;  // users' convention of UNESCO 44, as in the density

struct Operation {
    std::string_view name;
    Result<Findings> (*carry_out)(const Case&);
};

constexpr auto kOperations = std::to_array<Operation>({
    {"salts_to_ions", salts_to_ions},
    {"ions_to_salts", ions_to_salts},
    {"solve", solve},
    {"recipe_from_files", recipe_from_files},
    {"reference_composition", reference_composition},
    {"charge_of_mass_fractions", charge_of_mass_fractions},
    {"seawater_density", seawater_density},
    {"seawater_constants", seawater_constants},
    {"carbonate_system", carbonate_system},
    {"practical_salinity", practical_salinity},
    {"conductivity_of_seawater", conductivity_of_seawater},
    {"reference_density", reference_density},
    {"specific_gravity", specific_gravity},
    {"refractive_index_of_seawater", refractive_index_of_seawater},
    {"refractive_index_of_water", refractive_index_of_water},
    {"nacl_solution", nacl_solution},
    {"electrolyte", electrolyte},
    {"added_salt", added_salt},
    {"raised_water", raised_water},
    {"conversion", conversion},
    {"formula_weight", formula_weight},
    {"instrument_shows", instrument_shows},
    {"compensation_error", compensation_error},
    {"salt_solution", salt_solution},
    {"calibration_fluid", calibration_fluid},
    {"vat_plan", vat_plan},
    {"vat_mend", vat_mend},
    {"vat_mix", vat_mix},
    {"single_salt", single_salt},
    {"species_coefficients", species_coefficients},
    {"water_equilibrium", water_equilibrium},
    {"solubility", solubility},
    {"evaporation", evaporation},
    {"settling", settling},
    {"growth", growth},
    {"delay_of_onset", delay_of_onset},
    {"onset_of_carbonate", onset_of_carbonate},
    {"seeded_loss", seeded_loss},
    {"saturated_film", saturated_film},
    {"last_film", last_film},
    {"bag_reaction", bag_reaction},
    {"decarbonation", decarbonation},
    {"summary", summary},
    {"one_way_variance", one_way_variance},
    {"grubbs_test", grubbs_test},
    {"cochran_limit", cochran_limit},
    {"critical_range", critical_range},
    {"homogeneity_factors", homogeneity_factors},
    {"homogeneity", homogeneity},
    {"combining", combining},
    {"conformity", conformity},
    {"global_risks", global_risks},
    {"alkalinity_titration", alkalinity_titration},
    {"summary_of_pairs", summary_of_pairs},
    {"straight_line", straight_line},
    {"addition_line", addition_line},
    {"uncertainty_budget", uncertainty_budget},
    {"correlated_means", correlated_means},
    {"between_groups", between_groups},
    {"test_plan", test_plan},
    {"extreme_deviates", extreme_deviates},
    {"weighted_chart", weighted_chart},
    {"chart_run_length", chart_run_length},
    {"process_capability", process_capability},
    {"tolerance_factor", tolerance_factor},
    {"gy_mass", gy_mass},
    {"scoop_scatter", scoop_scatter},
    {"charge_balance", charge_balance},
    {"closed_cell", closed_cell},
});

Result<double> required_number(const io::Fields& given, std::string_view key) {
    BW_TRY(value, given.number(key));
    if (!value) {
        return given.bad("", fmt::format("{} is missing", key));
    }
    return *value;
}

Result<double> required_value(const io::Fields& given, std::string_view key,
                              unit::Dimension dimension) {
    BW_TRY(value, given.value_in(key, dimension));
    if (!value) {
        return given.bad("", fmt::format("{} is missing", key));
    }
    return *value;
}

Result<matter::WeightSet> weights_of(const io::Fields& given) {
    BW_TRY(year, required_number(given, "weights"));
    if (year == 2005) {
        return matter::WeightSet::Ciaaw2005;
    }
    if (year == 2021) {
        return matter::WeightSet::Ciaaw2021;
    }
    return given.bad("weights", "weights are those of 2005 or of 2021");
}

}  // namespace

std::vector<std::string_view> operation_names() {
    std::vector<std::string_view> out;
    out.reserve(kOperations.size());
    for (const Operation& operation : kOperations) {
        out.push_back(operation.name);
    }
    return out;
}

Result<Findings> perform(const Case& c) {
    const auto* const found =
        std::find_if(kOperations.begin(), kOperations.end(),
                     [&](const Operation& operation) { return operation.name == c.operation; });
    if (found == kOperations.end()) {
        return fail(ProblemCode::UnknownName,
                    fmt::format("there is no operation {}", base::quoted(c.operation)));
    }
    return found->carry_out(c);
}

Result<Findings> reference_composition(const Case& c) {
    BW_CHECK(c.given->allow({"salinity_g_per_kg", "weights"}));
    BW_TRY(salinity, required_number(*c.given, "salinity_g_per_kg"));
    BW_TRY(weights, weights_of(*c.given));
    Findings out;
    double sum = 0;
    double mass = 0;
    double charge = 0;
    for (const ref::ReferenceSpecies& species : ref::reference_species()) {
        BW_TRY(formula, matter::parse_formula(species.formula));
        BW_TRY(molar_mass, matter::molar_mass_g_per_mol(formula, weights));
        sum += species.mole_fraction;
        mass += species.mole_fraction * molar_mass;
        charge += species.mole_fraction * formula.charge;
        out.numbers[fmt::format("mole_fraction.{}", species.name)] = species.mole_fraction;
        out.numbers[fmt::format("molality_mol_per_kg.{}", species.name)] =
            species.mole_fraction * salinity / ref::reference_molar_mass_g_per_mol() /
            (1 - salinity / kGramPerKg);
    }
    out.numbers["mole_fraction_sum"] = sum;
    out.numbers["molar_mass_g_per_mol"] = mass;
    out.numbers["charge_per_mol"] = charge;
    const matter::Amounts water = matter::reference_seawater(salinity);
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent constituent(i);
        out.numbers[fmt::format("mmol_per_kg.{}", constituent.symbol())] =
            water[constituent] * kMilliPerOne;
        out.numbers[fmt::format("total_molality_mol_per_kg.{}", constituent.symbol())] =
            water[constituent] / (1 - salinity / kGramPerKg);
    }
    out.numbers["charge_ueq_per_kg"] = water.charge() * kMicroPerOne;
    out.numbers["chlorinity_g_per_kg"] = matter::chlorinity_g_per_kg(water);
    out.numbers["dissolved_g_per_kg"] = water.dissolved_mass_g();
    return out;
}

Result<Findings> charge_of_mass_fractions(const Case& c) {
    BW_CHECK(c.given->allow({"salinity_g_per_kg", "weights", "mass_fraction"}));
    BW_TRY(salinity, required_number(*c.given, "salinity_g_per_kg"));
    BW_TRY(weights, weights_of(*c.given));
    BW_TRY(table, c.given->table("mass_fraction"));
    if (!table) {
        return c.given->bad("", "mass_fraction is missing");
    }
    Findings out;
    double charge = 0;
    double sum = 0;
    for (const auto& [text, value] : *table->self().table()) {
        BW_TRY(formula, matter::parse_formula(text));
        BW_TRY(molar_mass, matter::molar_mass_g_per_mol(formula, weights));
        BW_TRY(fraction, required_number(*table, text));
        sum += fraction;
        charge += formula.charge * fraction * salinity / molar_mass;
    }
    out.numbers["mass_fraction_sum"] = sum;
    out.numbers["charge_ueq_per_kg"] = charge * kMicroPerOne;
    return out;
}

Result<Findings> seawater_density(const Case& c) {
    BW_CHECK(c.given->allow({"practical_salinity", "t68_degC", "t90_degC"}));
    BW_TRY(salinity, required_number(*c.given, "practical_salinity"));
    BW_TRY(t68, c.given->number("t68_degC"));
    BW_TRY(t90, c.given->number("t90_degC"));
    if (t68.has_value() == t90.has_value()) {
        return c.given->bad("", "give the temperature on one scale: t68_degC or t90_degC");
    }
    const double celsius = t90 ? *t90 : *t68 / kIpts68PerIts90;
    BW_TRY(density,
           brine::seawater_density(unit::PracticalSalinity(salinity), unit::Celsius(celsius)));
    return Findings{{{"kg_per_m3", density.value()}}, {}};
}

Result<Findings> conversion(const Case& c) {
    BW_CHECK(c.given->allow({"value", "constituent", "to", "density", "dissolved"}));
    BW_TRY(symbol, c.given->required_text("constituent"));
    BW_TRY(constituent, matter::require_constituent(symbol));
    BW_TRY(from_text, c.given->required_text("value"));
    BW_TRY(from, unit::parse_quantity(from_text));
    BW_TRY(to_text, c.given->required_text("to"));
    BW_TRY(to, unit::parse_unit_phrase(to_text));
    BW_TRY(density, required_value(*c.given, "density", unit::Dimension::Density));
    BW_TRY(dissolved, required_value(*c.given, "dissolved", unit::Dimension::MassPerMass));
    const matter::WaterBasis basis{unit::KgPerM3(density), unit::GramPerKg(dissolved * kGramPerKg)};
    BW_TRY(amount, matter::mol_per_kg(from, constituent, basis));
    BW_TRY(per_unit, matter::mol_per_kg_per_unit(to, constituent, basis));
    return Findings{{{"number", amount / per_unit}}, {}};
}

Result<Findings> formula_weight(const Case& c) {
    BW_CHECK(c.given->allow({"formula", "weights"}));
    BW_TRY(text, c.given->required_text("formula"));
    BW_TRY(weights, weights_of(*c.given));
    BW_TRY(formula, matter::parse_formula(text));
    BW_TRY(molar_mass, matter::molar_mass_g_per_mol(formula, weights));
    return Findings{{{"g_per_mol", molar_mass}}, {}};
}

}  // namespace bw::check
