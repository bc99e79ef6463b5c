// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/decimal.hpp"
#include "cli/json_values.inl"
#include "cli/recipe_output.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

/// A target or limit: typed by the user, so shown without the last digits that its conversion left.
Json typed(std::optional<double> v) {
    if (!v) {
        return nullptr;
    }
    constexpr int kDigits = 13;
    const auto plain = base::parse_number(base::format_significant(*v, kDigits));
    return plain ? json_number(*plain) : json_number(*v);
}

Json parts_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const PartRow& row : part_rows(r)) {
        Json part = {{"material", row.material}};
        if (!row.lot.empty()) {
            part["lot"] = row.lot;
        }
        if (!row.formula.empty()) {
            part["formula"] = row.formula;
        }
        part["g_per_kg_purified_water"] = row.g_per_kg_purified_water;
        part["share_percent"] = row.share_percent;
        part["cost_per_t_blend"] = json_number(row.cost_per_t_blend);
        if (row.weighing_kg) {
            part["weighing_kg"] = *row.weighing_kg;
        }
        out.push_back(std::move(part));
    }
    return out;
}

Json constituents_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const ConstituentRow& row : constituent_rows(r)) {
        out.push_back({{"symbol", row.symbol},
                       {"target", typed(row.target)},
                       {"achieved", row.achieved},
                       {"unit", row.unit},
                       {"low", typed(row.low)},
                       {"high", typed(row.high)},
                       {"inside", row.inside},
                       {"deviation_percent", json_number(row.deviation_percent)},
                       {"standard_uncertainty", row.standard_uncertainty},
                       {"chance_inside", row.chance_inside},
                       {"asked", row.asked}});
    }
    return out;
}

Json ratios_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const RatioRow& row : ratio_rows(r)) {
        out.push_back({{"of", row.name},
                       {"basis", row.basis},
                       {"low", typed(row.low)},
                       {"high", typed(row.high)},
                       {"achieved", row.achieved},
                       {"inside", row.inside},
                       {"standard_uncertainty", row.standard_uncertainty},
                       {"chance_inside", row.chance_inside}});
    }
    return out;
}

Json ceilings_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const CeilingRow& row : ceiling_rows(r)) {
        out.push_back({{"symbol", row.symbol},
                       {"unit", row.unit},
                       {"high", typed(row.high)},
                       {"expected", row.expected},
                       {"worst", row.worst},
                       {"inside", row.inside}});
    }
    return out;
}

Json budget_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const recipe::Budget& b : r.budgets) {
        Json shares = Json::array();
        for (const recipe::BudgetShare& s : b.shares) {
            shares.push_back(
                {{"material", source_of(r, s)}, {"share_percent", s.share * unit::kPercent}});
        }
        out.push_back(
            {{"symbol", std::string(b.constituent.symbol())}, {"from", std::move(shares)}});
    }
    return out;
}

Json stages_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const recipe::Stage& s : r.solution.stages) {
        out.push_back({{"what", s.what},
                       {"objective", s.objective},
                       {"primal_residual", s.certificate.primal_residual},
                       {"dual_residual", s.certificate.dual_residual},
                       {"complementarity", s.certificate.complementarity}});
    }
    return out;
}

Json alternatives_json(const service::RecipeReport& r) {
    Json alternatives = Json::array();
    for (const recipe::Alternative& a : r.alternatives) {
        Json parts = Json::array();
        double blend = 0;
        for (const double dose : a.dose_kg_per_kg) {
            blend += dose;
        }
        for (std::size_t j = 0; j < a.dose_kg_per_kg.size(); ++j) {
            if (a.dose_kg_per_kg[j] > 0) {
                parts.push_back({{"material", r.supplies[j].label()},
                                 {"g_per_kg_purified_water",
                                  a.dose_kg_per_kg[j] / (1 - blend) * unit::kGramPerKg}});
            }
        }
        alternatives.push_back({{"without", a.without},
                                {"cost_change_percent", a.cost_change * unit::kPercent},
                                {"takes_up", a.takes_up},
                                {"parts", std::move(parts)}});
    }
    return alternatives;
}

Json changes_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const service::WeighingChange& c : r.changes) {
        const auto& m = r.supplies[static_cast<std::size_t>(c.supply)].material;
        out.push_back({{"material", m.name},
                       {"lot", m.lot},
                       {"standing_g_per_kg_purified_water", c.standing_g_per_kg_water},
                       {"adjusted_g_per_kg_purified_water", c.adjusted_g_per_kg_water}});
    }
    return out;
}

Json limits_json(const service::RecipeReport& r) {
    constexpr double kMicro = 1e6;
    Json out = Json::array();
    for (const service::SaturationHeld& s : r.limits->saturation) {
        out.push_back({{"limit", s.limit.key},
                       {"solid", s.limit.solid},
                       {"highest", s.limit.highest_omega},
                       {"omega", json_number(s.omega)},
                       {"trusted_within_factor", s.factor},
                       {"temperature_degC", s.limit.temperature_degC},
                       {"pCO2_uatm", s.limit.air_pco2_atm ? typed(*s.limit.air_pco2_atm * kMicro)
                                                          : Json(nullptr)},
                       {"held", s.held},
                       {"leaned_on", s.leans}});
    }
    if (r.limits->safe_time) {
        const service::SafeTimeHeld& s = *r.limits->safe_time;
        out.push_back({{"limit", "safe_time"},
                       {"least_h", s.limit.hours},
                       {"hours", s.time.hours},
                       {"use_within_h", s.time.use_within_h},
                       {"trusted_within_factor", s.time.factor},
                       {"in_evidence", s.time.in_evidence},
                       {"omega_aragonite", s.omega_aragonite},
                       {"seed_mg_per_kg", s.limit.seed_mg_per_kg},
                       {"temperature_degC", s.limit.temperature_degC},
                       {"pCO2_uatm", typed(s.limit.air_pco2_atm * kMicro)},
                       {"held", s.held},
                       {"leaned_on", s.leans}});
    }
    return out;
}

/// What the recipe would be without each limit.
Json without_json(const service::RecipeReport& r) {
    Json out = Json::array();
    for (const service::WithoutLimit& w : r.limits->without) {
        Json amounts = Json::object();
        for (const recipe::ConstituentGoal& goal : r.target.constituents) {
            if (goal.origin == recipe::Origin::Named) {
                amounts[std::string(goal.constituent.symbol())] =
                    w.water.mol_per_kg[goal.constituent] * goal.shown_per_mol_per_kg;
            }
        }
        out.push_back(
            {{"limit", w.key},
             {"cost_per_t_blend", cost_per_t_blend(r) ? Json(w.cost_per_t_blend) : Json(nullptr)},
             {"constituents", std::move(amounts)}});
    }
    return out;
}

}  // namespace

std::string recipe_json(const service::RecipeReport& r) {
    const auto& water = r.conflict ? r.conflict->nearest.water : r.solution.water;
    Json out = {{"version", 1},
                {"program", "brinewright " + std::string(kProgramVersion)},
                {"data_digest", std::string(ref::data_digest())},
                {"target", r.target.name},
                {"feasible", r.feasible()},
                {"parts", parts_json(r)},
                {"constituents", constituents_json(r)},
                {"ratios", ratios_json(r)},
                {"ceilings", ceilings_json(r)},
                {"charge_balance_percent", water.charge_balance_percent},
                {"cost_per_t_blend", json_number(cost_per_t_blend(r))},
                {"currency", r.currency},
                {"dissolved_g_per_kg", water.dissolved_g_per_kg},
                {"purified_water_kg_per_kg", water.purified_water_kg},
                {"conflicts", conflict_sentences(r)},
                {"notices", json_notices(r.notices)}};
    if (r.conflict) {
        out["smallest_conflict"] = r.conflict->smallest_set;
        out["smallest_conflict_proven"] = r.conflict->proven_smallest;
        out["would_free"] = r.conflict->would_free;
        out["infeasibility_gap"] = r.solution.infeasibility_gap;
    }
    if (r.limits) {
        out["limits"] = limits_json(r);
    }
    if (r.limits && r.feasible()) {
        out["limit_sentences"] = limit_sentences(r);
        out["without_limit"] = without_json(r);
    }
    if (r.feasible()) {
        out["all_inside_probability"] = r.robustness.all_inside;
        out["draws"] = r.robustness.draws;
        out["seed"] = r.robustness.seed;
        out["budget"] = budget_json(r);
        out["sensitivities"] = r.sensitivities;
        out["alternatives"] = alternatives_json(r);
        out["stages"] = stages_json(r);
        if (!r.changes.empty()) {
            out["changes"] = changes_json(r);
        }
    }
    return json_text(out);
}

}  // namespace bw::cli
