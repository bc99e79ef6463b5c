// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "check/printed_salts.hpp"

#include <algorithm>
#include <array>
#include <sstream>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "matter/formula.hpp"
#include "unit/unit_table.hpp"

namespace bw::check {
namespace {

constexpr double kMilli = 1e-3;
constexpr double kGramPerKg = 1000;
constexpr double kKgPerLitrePerKgPerM3 = 1e-3;
constexpr double kKgOfLitreOfWater = 0.99705;  // at 25 degC, [unesco-44]

double water_molar_mass_g() {
    static const double kMass = [] {
        const auto formula = matter::parse_formula("H2O");
        base::expect(formula.has_value(), "water has a formula");
        return matter::molar_mass_g_per_mol(*formula).value();
    }();
    return kMass;
}

}  // namespace

double PrintedSalt::mol() const {
    const double scaled = unit.front() == 'm' && unit != "mol" ? amount * kMilli : amount;
    return unit.ends_with("mol") ? scaled : scaled / dissolved.molar_mass_g;
}

double PrintedSalt::anhydrous_gram() const {
    return mol() * (dissolved.molar_mass_g - dissolved.water_mol * water_molar_mass_g());
}

double PrintedSalt::in_printed_unit(double mol_found) const { return mol_found / mol() * amount; }

Result<std::vector<PrintedSalt>> printed_salts(const std::vector<std::string>& lines) {
    constexpr auto kUnits = std::to_array<std::string_view>({"g", "mg", "mol", "mmol"});
    std::vector<PrintedSalt> out;
    for (const std::string& line : lines) {
        std::istringstream words(line);
        std::string number;
        std::string rest;
        PrintedSalt salt;
        words >> number >> salt.unit >> salt.formula;
        const bool known = std::find(kUnits.begin(), kUnits.end(), salt.unit) != kUnits.end();
        if (!known || salt.formula.empty() || (words >> rest)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} is not \"number unit formula\" with g, mg, mol or mmol",
                                    base::quoted(line)));
        }
        BW_TRY(amount, base::parse_number(number));
        if (!(amount > 0)) {
            return fail(ProblemCode::BadInput, fmt::format("{}: not above 0", base::quoted(line)));
        }
        salt.amount = amount;
        BW_TRY(formula, matter::parse_formula(salt.formula));
        BW_TRY(dissolved, matter::dissolve(formula));
        salt.dissolved = dissolved;
        out.push_back(std::move(salt));
    }
    return out;
}

Result<double> kg_of_solution(const PrintedRecipe& recipe, const std::vector<PrintedSalt>& salts) {
    double as_weighed_kg = 0;
    double anhydrous_kg = 0;
    for (const PrintedSalt& salt : salts) {
        as_weighed_kg += salt.gram() / kGramPerKg;
        anhydrous_kg += salt.anhydrous_gram() / kGramPerKg;
    }
    if (recipe.basis == "kg_solution") {
        return 1.0;
    }
    if (recipe.basis == "kg_water") {  // all water, the hydrates' too
        return 1 + anhydrous_kg;
    }
    if (recipe.basis == "L_water_added") {
        return kKgOfLitreOfWater + as_weighed_kg;
    }
    if (recipe.basis == "L_solution") {
        BW_TRY(density, unit::parse_quantity(recipe.density));
        if (density.unit.dimension != unit::Dimension::Density &&
            density.unit.dimension != unit::Dimension::MassPerVolume) {
            return fail(ProblemCode::BadUnit, "the density of a recipe is given in kg/L or kg/m3");
        }
        return density.unit.dimension == unit::Dimension::Density
                   ? density.value() * kKgPerLitrePerKgPerM3
                   : density.value();
    }
    return fail(ProblemCode::BadInput,
                fmt::format("{} is not a basis: write kg_solution, kg_water, L_water_added or "
                            "L_solution",
                            base::quoted(recipe.basis)));
}

}  // namespace bw::check
