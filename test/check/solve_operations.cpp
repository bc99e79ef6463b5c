// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "check/operations.hpp"
#include "check/solving.hpp"
#include "recipe/caution.hpp"
#include "service/solve_recipe.hpp"

namespace bw::check {
namespace {

using matter::Constituent;

constexpr double kMilliPerOne = 1000;
constexpr double kGramPerKg = 1000;

/// Pure salts by formula, then lots by their composition in kg per kg.
Result<std::vector<matter::Material>> materials_of(const io::Fields& given) {
    BW_TRY(salts, given.texts("pure_salts"));
    BW_TRY(lots, given.table("lots"));
    std::vector<matter::Material> out;
    out.reserve(salts.size());
    for (const std::string& formula : salts) {
        out.push_back(pure_salt(formula));
    }
    if (lots) {
        for (const auto& [name, node] : *lots->self().table()) {
            BW_TRY(lot, lots->table(name));
            matter::Material material;
            material.name = name;
            for (const auto& [part, share] : *lot->self().table()) {
                BW_TRY(value, lot->number(part));
                material.composition.push_back({part, matter::Stated::exactly(*value)});
            }
            out.push_back(std::move(material));
        }
    }
    if (out.empty()) {
        return given.bad("", "neither pure_salts nor lots are given");
    }
    return out;
}

Result<matter::Amounts> wanted_of(const io::Fields& given) {
    BW_TRY(table, given.table("mmol_per_kg"));
    if (!table || table->self().table()->empty()) {
        return given.bad("", "mmol_per_kg, the water that is wanted, is missing");
    }
    matter::Amounts out;
    for (const auto& [symbol, node] : *table->self().table()) {
        BW_TRY(constituent, matter::require_constituent(symbol));
        BW_TRY(value, table->number(symbol));
        out[constituent] = *value / kMilliPerOne;
    }
    return out;
}

void add_water(const recipe::MadeUpWater& water, Findings& out) {
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent constituent(i);
        out.numbers[fmt::format("mmol_per_kg.{}", constituent.symbol())] =
            water.mol_per_kg[constituent] * kMilliPerOne;
    }
    out.numbers["dissolved_g_per_kg"] = water.dissolved_g_per_kg;
}

void add_doses(const std::vector<recipe::Supply>& supplies, const recipe::Solution& solution,
               Findings& out) {
    double blend = 0;
    for (const double dose : solution.dose_kg_per_kg) {
        blend += dose;
    }
    out.numbers["blend_g_per_kg"] = blend * kGramPerKg;
    for (const recipe::Supply& supply : supplies) {
        const std::string& name = supply.material.name;
        const double dose = dose_of(supplies, solution, name);
        out.numbers["g_per_kg." + name] = dose * kGramPerKg;
        out.numbers["kg_per_1000_kg_blend." + name] = dose / blend * kGramPerKg;
        if (const auto formula = matter::parse_formula(name)) {
            if (const auto molar_mass = matter::molar_mass_g_per_mol(*formula)) {
                out.numbers["salt_mmol_per_kg." + name] =
                    dose * kGramPerKg / *molar_mass * kMilliPerOne;
            }
        }
    }
}

void add_notices(const base::Notices& notices, Findings& out) {
    for (const base::Notice& notice : notices) {
        out.words["notice"] += notice.code + " ";
        out.words["says"] += notice.text + " ";
    }
    out.words["no_notice"] = out.words["notice"];
}

}  // namespace

Result<Findings> solve(const Case& c) {
    BW_CHECK(c.given->allow({"pure_salts", "lots", "mmol_per_kg", "band", "salinity_band"}));
    BW_TRY(materials, materials_of(*c.given));
    BW_TRY(wanted, wanted_of(*c.given));
    BW_TRY(band, c.given->number("band"));
    BW_TRY(salinity_band, c.given->number("salinity_band"));
    if (!band || !salinity_band) {
        return c.given->bad("", "band and salinity_band, as parts of one, are needed");
    }
    BW_TRY(supplies, supplies_of(materials));
    const recipe::Target target = exact_target(wanted, *band, *salinity_band);
    BW_TRY(solution, recipe::solve(target, supplies));
    Findings out;
    out.words["verdict"] = verdict_word(solution.verdict);
    out.numbers["charge_meq_per_kg"] = wanted.charge() * kMilliPerOne;
    if (solution.verdict != recipe::Verdict::Solved) {
        out.words["says"] = explanation(target, supplies, solution);
        return out;
    }
    add_water(solution.water, out);
    add_doses(supplies, solution, out);
    add_notices(solution.notices, out);
    add_notices(recipe::cautions_on_water(target, solution.water), out);
    return out;
}

Result<Findings> recipe_from_files(const Case& c) {
    BW_CHECK(c.given->allow({"target", "materials"}));
    BW_TRY(target_text, c.given->required_text("target"));
    BW_TRY(materials_text, c.given->required_text("materials"));
    BW_TRY(target, io::parse_document(target_text, "target"));
    BW_TRY(materials, io::parse_document(materials_text, "materials"));
    service::RecipeRequest request;
    request.target = target;
    request.materials = {materials};
    request.draws = recipe::kDrawsPerBlock;
    request.explain = false;
    BW_TRY(report, service::solve_recipe(request));
    Findings out;
    out.words["verdict"] = verdict_word(report.solution.verdict);
    add_notices(report.notices, out);
    if (report.conflict) {
        for (const std::string& sentence : report.conflict->sentences) {
            out.words["says"] += sentence + " ";
        }
    }
    if (report.feasible()) {
        add_water(report.solution.water, out);
        add_doses(report.supplies, report.solution, out);
        const double calcium = report.solution.water.mol_per_kg[matter::constituent("Ca")];
        const double magnesium = report.solution.water.mol_per_kg[matter::constituent("Mg")];
        out.numbers["Mg_per_Ca"] = magnesium / calcium;
    }
    return out;
}

}  // namespace bw::check
