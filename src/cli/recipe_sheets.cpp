// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/recipe_output.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

io::Cell cell(std::optional<double> v) { return v ? io::Cell(*v) : io::Cell(); }

}  // namespace

std::vector<io::Sheet> recipe_sheets(const service::RecipeReport& r) {
    io::Sheet parts{"Recipe",
                    {"material", "lot", "formula", "g per kg of purified water",
                     "share of the blend, %", "weighing, kg",
                     (r.currency.empty() ? std::string("cost") : r.currency) + " per t of blend"},
                    {}};
    for (const PartRow& row : part_rows(r)) {
        parts.rows.push_back({row.material, row.lot, row.formula, row.g_per_kg_purified_water,
                              row.share_percent, cell(row.weighing_kg),
                              cell(row.cost_per_t_blend)});
    }
    io::Sheet water{"Water",
                    {"constituent", "unit", "target", "achieved", "standard uncertainty", "low",
                     "high", "off, %", "chance inside", "verdict"},
                    {}};
    for (const ConstituentRow& row : constituent_rows(r)) {
        water.rows.push_back({row.symbol, row.unit, cell(row.target), row.achieved,
                              row.standard_uncertainty, cell(row.low), cell(row.high),
                              cell(row.deviation_percent), row.chance_inside,
                              verdict_words(row.inside, row.chance_inside)});
    }
    for (const RatioRow& row : ratio_rows(r)) {
        water.rows.push_back(
            {row.name, row.basis == "mol" ? std::string("mol/mol") : std::string("g/g"), io::Cell(),
             row.achieved, row.standard_uncertainty, cell(row.low), cell(row.high), io::Cell(),
             row.chance_inside, verdict_words(row.inside, row.chance_inside)});
    }
    io::Sheet ceilings{
        "Ceilings",
        {"constituent", "unit", "at most", "expected", "worst the certificates allow", "verdict"},
        {}};
    for (const CeilingRow& row : ceiling_rows(r)) {
        ceilings.rows.push_back({row.symbol, row.unit, row.high, row.expected, row.worst,
                                 std::string(row.inside ? "within" : "outside")});
    }
    io::Sheet budget{"Sources", {"constituent", "material", "share, %"}, {}};
    for (const recipe::Budget& b : r.budgets) {
        for (const recipe::BudgetShare& s : b.shares) {
            budget.rows.push_back(
                {std::string(b.constituent.symbol()), source_of(r, s), s.share * unit::kPercent});
        }
    }
    io::Sheet about{"About", {"what", "value"}, {}};
    about.rows.push_back({std::string("target"), r.target.name});
    about.rows.push_back({std::string("program"), "brinewright " + std::string(kProgramVersion)});
    about.rows.push_back({std::string("data"), std::string(ref::data_digest())});
    about.rows.push_back({std::string("salinity, g/kg"), r.solution.water.dissolved_g_per_kg});
    for (const base::Notice& n : r.notices) {
        about.rows.push_back({std::string("take note"), n.text});
    }
    return {parts, water, ceilings, budget, about};
}

}  // namespace bw::cli
