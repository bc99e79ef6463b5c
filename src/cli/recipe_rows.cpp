// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/decimal.hpp"
#include "cli/answer.hpp"
#include "cli/recipe_output.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

/// The water to speak of: the recipe's, or the nearest achievable one.
const recipe::Solution& spoken_of(const service::RecipeReport& r) {
    return r.conflict ? r.conflict->nearest : r.solution;
}

}  // namespace

std::string verdict_words(bool inside, double chance_inside) {
    return !inside                              ? "outside"
           : chance_inside < recipe::kCloseCall ? "too close to call"
                                                : "within";
}

std::vector<PartRow> part_rows(const service::RecipeReport& r) {
    std::vector<PartRow> out;
    const recipe::Solution& s = spoken_of(r);
    const double blend = s.blend_kg_per_kg();
    for (std::size_t j = 0; j < s.dose_kg_per_kg.size(); ++j) {
        const double dose = s.dose_kg_per_kg[j];
        if (dose <= 0) {
            continue;
        }
        const matter::Material& m = r.supplies[j].material;
        PartRow row{m.name,
                    m.lot,
                    m.formula,
                    dose / s.water.purified_water_kg * unit::kGramPerKg,
                    dose / blend * unit::kPercent,
                    std::nullopt,
                    std::nullopt};
        if (m.price_per_kg) {
            row.cost_per_t_blend = *m.price_per_kg * dose / blend * unit::kKgPerTonne;
        }
        if (s.batch_finished_water_kg) {
            // A whole number of steps, without the last digit that the way there and back left.
            constexpr int kDigits = 12;
            const auto plain = base::parse_number(
                base::format_significant(dose * *s.batch_finished_water_kg, kDigits));
            row.weighing_kg = plain ? *plain : dose * *s.batch_finished_water_kg;
        }
        out.push_back(std::move(row));
    }
    return out;
}

std::vector<ConstituentRow> constituent_rows(const service::RecipeReport& r) {
    std::vector<ConstituentRow> out;
    const recipe::Solution& s = spoken_of(r);
    for (std::size_t i = 0; i < r.target.constituents.size(); ++i) {
        const recipe::ConstituentGoal& g = r.target.constituents[i];
        const double value = s.water.mol_per_kg[g.constituent];
        const double f = g.shown_per_mol_per_kg;
        ConstituentRow row;
        row.symbol = std::string(g.constituent.symbol());
        row.unit = recipe::unit_text(g.shown);
        row.asked = g.origin != recipe::Origin::Unnamed;
        const auto in_unit = [&](std::optional<double> v) {
            return v ? std::optional<double>(*v * f) : std::nullopt;
        };
        row.target = row.asked ? in_unit(g.target) : std::nullopt;
        row.low = in_unit(g.low);
        row.high = in_unit(g.high);
        row.achieved = value * f;
        row.inside = recipe::is_inside(value, g.low, g.high);
        if (row.target && *g.target != 0) {
            row.deviation_percent = (value / *g.target - 1) * unit::kPercent;
        }
        if (i < r.robustness.constituents.size()) {
            row.standard_uncertainty = r.robustness.constituents[i].u * f;
            row.chance_inside = r.robustness.constituents[i].inside_monte_carlo;
        }
        out.push_back(std::move(row));
    }
    return out;
}

std::vector<RatioRow> ratio_rows(const service::RecipeReport& r) {
    std::vector<RatioRow> out;
    const auto& c = spoken_of(r).water.mol_per_kg;
    for (std::size_t i = 0; i < r.target.ratios.size(); ++i) {
        const recipe::RatioGoal& g = r.target.ratios[i];
        RatioRow row;
        row.name = g.name();
        row.basis = g.by_mass ? "mass" : "mol";
        row.low = g.low;
        row.high = g.high;
        row.achieved = g.in(c);
        row.inside = recipe::is_inside(row.achieved, g.low, g.high);
        if (i < r.robustness.ratios.size()) {
            row.standard_uncertainty = r.robustness.ratios[i].u;
            row.chance_inside = r.robustness.ratios[i].inside_monte_carlo;
        }
        out.push_back(std::move(row));
    }
    return out;
}

std::vector<CeilingRow> ceiling_rows(const service::RecipeReport& r) {
    std::vector<CeilingRow> out;
    const auto& water = spoken_of(r).water;
    for (const recipe::Ceiling& g : r.target.ceilings) {
        const double f = g.shown_per_mol_per_kg;
        out.push_back(
            {std::string(g.constituent.symbol()), recipe::unit_text(g.shown), g.high * f,
             water.mol_per_kg[g.constituent] * f, water.worst_mol_per_kg[g.constituent] * f,
             recipe::is_inside(water.worst_mol_per_kg[g.constituent], std::nullopt, g.high)});
    }
    return out;
}

std::string source_of(const service::RecipeReport& r, const recipe::BudgetShare& share) {
    return share.supply < 0 ? "purified water"
                            : r.supplies[static_cast<std::size_t>(share.supply)].material.name;
}

std::optional<double> cost_per_t_blend(const service::RecipeReport& r) {
    const recipe::Solution& s = spoken_of(r);
    if (s.dose_kg_per_kg.empty() || r.currency.empty() || !recipe::all_priced(r.supplies, s)) {
        return std::nullopt;
    }
    return recipe::cost_per_t_blend(r.supplies, s);
}

std::vector<std::string> conflict_sentences(const service::RecipeReport& r) {
    if (r.conflict) {
        std::vector<std::string> out =
            r.limits ? r.limits->out_of_reach : std::vector<std::string>();
        out.insert(out.end(), r.conflict->sentences.begin(), r.conflict->sentences.end());
        if (!out.empty() && r.limits && !r.limits->out_of_reach.empty()) {
            const auto carbon = matter::constituent("carbon");
            const bool named =
                std::ranges::any_of(r.target.constituents, [&](const recipe::ConstituentGoal& g) {
                    return g.constituent == carbon && g.origin != recipe::Origin::Unnamed;
                });
            out.push_back(
                std::string("Limits on the water are followed by tangents at the waters looked at: "
                            "this is how near the search came, not a proof that nothing farther "
                            "off would do.") +
                (named ? ""
                       : " Carbon is not named in the target; with a wide band of its own the "
                         "search may move it, which often helps."));
        }
        return out;
    }
    return r.feasible() ? std::vector<std::string>() : sentences_of(r.solution.notices);
}

io::RecipeFile recipe_file(const service::RecipeReport& r) {
    io::RecipeFile out;
    out.name = r.target.name;
    out.target = r.target.name;
    out.program = "brinewright " + std::string(kProgramVersion);
    out.data_digest = std::string(ref::data_digest());
    out.temperature_degC = r.target.temperature_degC;
    out.dissolved_g_per_kg = r.solution.water.dissolved_g_per_kg;
    out.invented = r.target.invented;
    out.purified_water = r.target.purified_water;
    for (const PartRow& row : part_rows(r)) {
        out.parts.push_back(
            {row.material, row.lot, row.g_per_kg_purified_water, row.share_percent, {}});
    }
    return out;
}

}  // namespace bw::cli
