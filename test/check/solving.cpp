// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "check/solving.hpp"

#include <cmath>

#include "recipe/conflict.hpp"

namespace bw::check {

matter::Material pure_salt(const std::string& formula) {
    matter::Material out;
    out.name = formula;
    out.formula = formula;
    out.assay = matter::Assay{matter::Stated::exactly(1), "", std::nullopt};
    return out;
}

Result<std::vector<recipe::Supply>> supplies_of(const std::vector<matter::Material>& materials) {
    std::vector<recipe::Supply> out;
    for (const matter::Material& material : materials) {
        BW_TRY(made, matter::make_up(material));
        out.push_back({material, made});
    }
    return recipe::sorted_by_label(std::move(out));
}

recipe::Target exact_target(const matter::Amounts& mol_per_kg, double band, double salinity_band) {
    constexpr double kMilliPerOne = 1000;
    recipe::Target out;
    const double dissolved = mol_per_kg.dissolved_mass_g();
    out.salinity.target_g_per_kg = dissolved;
    out.salinity.low_g_per_kg = dissolved * (1 - salinity_band);
    out.salinity.high_g_per_kg = dissolved * (1 + salinity_band);
    out.basis.dissolved = unit::GramPerKg(dissolved);
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent constituent(i);
        const double wanted = mol_per_kg[constituent];
        if (wanted == 0) {
            continue;
        }
        recipe::ConstituentGoal goal;
        goal.constituent = constituent;
        goal.target = wanted;
        goal.low = wanted - band * std::abs(wanted);
        goal.high = wanted + band * std::abs(wanted);
        goal.priority = 1;
        goal.shown.unit = *unit::find_unit(constituent.is_alkalinity() ? "meq/kg" : "mmol/kg");
        goal.shown_per_mol_per_kg = kMilliPerOne;
        out.constituents.push_back(goal);
    }
    return out;
}

double dose_of(const std::vector<recipe::Supply>& supplies, const recipe::Solution& solution,
               std::string_view name) {
    double out = 0;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (supplies[j].material.name == name) {
            out += solution.dose_kg_per_kg[j];
        }
    }
    return out;
}

std::string verdict_word(recipe::Verdict verdict) {
    switch (verdict) {
        case recipe::Verdict::Solved:
            return "solved";
        case recipe::Verdict::Infeasible:
            return "infeasible";
        case recipe::Verdict::NotProven:
            return "not proven";
    }
    return "";
}

std::string explanation(const recipe::Target& target, const std::vector<recipe::Supply>& supplies,
                        const recipe::Solution& solution) {
    std::string out;
    for (const base::Notice& notice : solution.notices) {
        out += notice.text + " ";
    }
    const auto conflict = recipe::explain_conflict(target, supplies);
    if (!conflict) {
        return out + conflict.error().text();
    }
    for (const std::string& sentence : conflict->sentences) {
        out += sentence + " ";
    }
    return out;
}

}  // namespace bw::check
