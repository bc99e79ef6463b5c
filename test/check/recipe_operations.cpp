// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "check/operations.hpp"
#include "check/printed_salts.hpp"
#include "check/solving.hpp"
#include "matter/concentration.hpp"

namespace bw::check {
namespace {

using matter::Constituent;

constexpr double kMilliPerOne = 1000;
constexpr double kGramPerKg = 1000;
constexpr double kBand = 1e-6;          // of each total, either way: nothing may give way
constexpr double kSalinityBand = 1e-5;  // of the recipe's own dissolved mass
constexpr double kSalinityPerChlorinity = 1.80655;  // Wooster, Lee & Dietrich (1969), by definition

Result<PrintedRecipe> recipe_of(const Case& c) {
    if (c.recipe) {
        if (c.given->has("salts")) {
            return c.given->bad("salts", "salts are given beside a recipe");
        }
        return *c.recipe;
    }
    PrintedRecipe out;
    BW_TRY(salts, c.given->texts("salts"));
    BW_TRY(basis, c.given->text("basis"));
    BW_TRY(density, c.given->text("density"));
    out.salts = salts;
    out.basis = basis.value_or("");
    out.density = density.value_or("");
    if (out.salts.empty()) {
        return c.given->bad("", "neither a recipe nor salts are given");
    }
    return out;
}

/// Grams of a constituent counted as the form.
Result<double> gram_as(const matter::Amounts& mol, std::string_view symbol, std::string_view form) {
    BW_TRY(unit, unit::parse_unit_phrase(fmt::format("g/kg as {}", form)));
    const Constituent constituent = matter::constituent(symbol);
    BW_TRY(mol_per_gram, matter::mol_per_kg_per_unit(unit, constituent, {}));
    return mol[constituent] / mol_per_gram;
}

}  // namespace

Result<Findings> salts_to_ions(const Case& c) {
    BW_CHECK(c.given->allow({"salts", "basis", "density"}));
    BW_TRY(recipe, recipe_of(c));
    BW_TRY(salts, printed_salts(recipe.salts));
    BW_TRY(kg, kg_of_solution(recipe, salts));
    Findings out;
    matter::Amounts total;
    double as_weighed = 0;
    double anhydrous = 0;
    for (const PrintedSalt& salt : salts) {
        total.add(salt.dissolved.per_mol, salt.mol());
        as_weighed += salt.gram();
        anhydrous += salt.anhydrous_gram();
        out.numbers["salt_mmol." + salt.formula] = salt.mol() * kMilliPerOne;
    }
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const Constituent constituent(i);
        out.numbers[fmt::format("mmol.{}", constituent.symbol())] =
            total[constituent] * kMilliPerOne;
        out.numbers[fmt::format("g.{}", constituent.symbol())] =
            total[constituent] * matter::counted_molar_mass_g(constituent);
    }
    BW_TRY(bicarbonate, gram_as(total, "carbon", "HCO3"));
    BW_TRY(boric_acid, gram_as(total, "B", "H3BO3"));
    out.numbers["g.HCO3"] = bicarbonate;
    out.numbers["g.H3BO3"] = boric_acid;
    out.numbers["as_weighed_g"] = as_weighed;
    out.numbers["anhydrous_g"] = anhydrous;
    matter::Amounts per_kg = total;
    per_kg.scale(1 / kg);
    const double chlorinity = matter::chlorinity_g_per_kg(per_kg);
    out.numbers["chlorinity_g_per_kg"] = chlorinity;
    out.numbers["salinity_by_chlorinity"] = kSalinityPerChlorinity * chlorinity;
    return out;
}

Result<Findings> ions_to_salts(const Case& c) {
    BW_CHECK(c.given->allow({"totals_of"}));
    BW_TRY(recipe, recipe_of(c));
    BW_TRY(salts, printed_salts(recipe.salts));
    BW_TRY(kg, kg_of_solution(recipe, salts));
    matter::Amounts wanted;  // mol per kg of solution
    for (const ExpectedNumber& total : c.totals) {
        BW_TRY(constituent, matter::require_constituent(total.quantity));
        wanted[constituent] = total.value / kMilliPerOne / kg;
    }
    std::vector<matter::Material> materials;
    materials.reserve(salts.size());
    for (const PrintedSalt& salt : salts) {
        materials.push_back(pure_salt(salt.formula));
    }
    BW_TRY(supplies, supplies_of(materials));
    const recipe::Target target = exact_target(wanted, kBand, kSalinityBand);
    BW_TRY(solution, recipe::solve(target, supplies));
    Findings out;
    out.words["verdict"] = verdict_word(solution.verdict);
    if (solution.verdict != recipe::Verdict::Solved) {
        return fail(ProblemCode::Internal, fmt::format("no recipe was found: {}",
                                                       explanation(target, supplies, solution)));
    }
    for (const PrintedSalt& salt : salts) {
        const double gram = dose_of(supplies, solution, salt.formula) * kg * kGramPerKg;
        out.numbers["amount." + salt.formula] =
            salt.in_printed_unit(gram / salt.dissolved.molar_mass_g);
    }
    return out;
}

}  // namespace bw::check
