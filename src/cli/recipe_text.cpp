// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/recipe_output.hpp"
#include "cli/table.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using base::format_places;
using base::format_significant;

constexpr int kDigits = 5;

std::string heading(const std::string& words) { return "\n" + words + "\n"; }

/// Up to five digits, without the zeros at the end of a whole number.
std::string short_number(std::optional<double> value) {
    return value ? base::format_short(*value, kDigits) : "";
}

std::string with_u(double value, double u) {
    return base::format_with_uncertainty(value, u).text();
}

std::string band(std::optional<double> low, std::optional<double> high) {
    if (low && high) {
        return short_number(low) + " to " + short_number(high);
    }
    if (low) {
        return "from " + short_number(low);
    }
    return high ? "to " + short_number(high) : "";
}

/// A chance as a whole percentage, never rounded to certainty.
std::string chance(double p) {
    constexpr double kAlmostSure = 0.995;
    constexpr double kAlmostNever = 0.005;
    if (p >= kAlmostSure) {
        return "> 99 %";
    }
    if (p <= kAlmostNever) {
        return "< 1 %";
    }
    return format_places(p * unit::kPercent, 0) + " %";
}

std::string off(std::optional<double> percent) {
    if (!percent) {
        return "";
    }
    constexpr double kNone = 0.005;
    if (std::abs(*percent) < kNone) {
        return "0.00";
    }
    return (*percent > 0 ? "+" : "") + format_places(*percent, 2);
}

/// A verdict for the wall: what is outside stands out.
std::string spoken(bool inside, double chance_inside) {
    return inside ? verdict_words(inside, chance_inside) : "OUTSIDE";
}

std::string top(const service::RecipeReport& r) {
    std::string out = r.target.name + (r.target.invented ? "  (invented example)" : "") + "\n";
    const std::string practical =
        r.target.salinity.practical
            ? fmt::format("practical salinity {}, ", short_number(r.target.salinity.practical))
            : "";
    out += fmt::format("  target      {}{} g/kg dissolved; litres at {} °C\n", practical,
                       format_significant(r.target.salinity.target_g_per_kg, kDigits),
                       short_number(r.target.temperature_degC));
    out += wrapped("  source      ", r.target.source);
    out += fmt::format("  worked out  by brinewright {}, data {}\n", kProgramVersion,
                       ref::data_digest());
    return out;
}

std::string parts_table(const service::RecipeReport& r) {
    const std::string money = r.currency.empty() ? "money" : r.currency;
    TextTable table({{{"material"}, Align::Left},
                     {{"lot"}, Align::Left},
                     {{"g per kg of", "purified water"}, Align::Decimal},
                     {{"kg per t", "of blend"}, Align::Decimal},
                     {{"weigh for", "the batch, kg"}, Align::Decimal},
                     {{money, "per t of blend"}, Align::Decimal}});
    double grams = 0;
    double weighed = 0;
    bool priced = true;
    double money_sum = 0;
    const std::vector<PartRow> rows = part_rows(r);
    for (const PartRow& row : rows) {
        constexpr double kKgPerTonnePerPercent = 10;
        constexpr int kDosePlaces = 5;
        constexpr int kShareP = 3;
        grams += row.g_per_kg_purified_water;
        weighed += row.weighing_kg.value_or(0);
        priced = priced && row.cost_per_t_blend.has_value();
        money_sum += row.cost_per_t_blend.value_or(0);
        table.add({row.material, row.lot, format_places(row.g_per_kg_purified_water, kDosePlaces),
                   format_places(row.share_percent * kKgPerTonnePerPercent, kShareP),
                   row.weighing_kg ? format_places(*row.weighing_kg, kShareP) : "",
                   row.cost_per_t_blend ? format_places(*row.cost_per_t_blend, 2) : ""});
    }
    table.add_rule();
    table.add({"the blend", "", format_places(grams, 3), "1000",
               weighed > 0 ? format_places(weighed, 3) : "",
               priced && !r.currency.empty() ? format_places(money_sum, 2) : ""});
    return table.text();
}

/// How the batch is drawn from the store, and what it makes.
std::string batch_line(const service::RecipeReport& r) {
    const recipe::Solution& s = r.solution;
    if (!s.batch_finished_water_kg || !s.blend_kg) {
        return "";
    }
    std::string out;
    for (std::size_t j = 0; j < r.supplies.size(); ++j) {
        const matter::Material& m = r.supplies[j].material;
        if (m.whole_packages && m.package_kg && s.dose_kg_per_kg[j] > 0) {
            out += fmt::format(
                "  {}: {} packages of {} kg\n", r.supplies[j].label(),
                format_places(s.dose_kg_per_kg[j] * *s.batch_finished_water_kg / *m.package_kg, 0),
                short_number(*m.package_kg));
        }
    }
    return out + fmt::format(
                     "  the batch of {} kg takes {} kg of purified water and makes {} kg of "
                     "finished water\n",
                     short_number(*s.blend_kg),
                     short_number(*s.batch_finished_water_kg * s.water.purified_water_kg),
                     short_number(*s.batch_finished_water_kg));
}

std::string mixing_rate(const service::RecipeReport& r) {
    const auto& water = r.conflict ? r.conflict->nearest.water : r.solution.water;
    const double blend_per_kg_water =
        (1 - water.purified_water_kg) / water.purified_water_kg * unit::kGramPerKg;
    const double from_purified =
        r.target.purified_water.dissolved_mass_g() * water.purified_water_kg;
    const double salt_share = (water.dissolved_g_per_kg - from_purified) / unit::kGramPerKg /
                              (1 - water.purified_water_kg);
    const double density = r.target.basis.density.value();
    const double per_litre =
        (1 - water.purified_water_kg) * density / unit::kLitrePerM3 * unit::kGramPerKg;
    return fmt::format(
        "  mixing rate: {} g of blend per kg of purified water; about {} g per litre of finished "
        "water\n"
        "  (density {} kg/L, that of natural seawater of this salinity)\n"
        "  salt free of water: {} % of the blend (for vat plan --anhydrous)\n",
        format_places(blend_per_kg_water, 3), format_places(per_litre, 2),
        format_places(density / unit::kLitrePerM3, 4),
        format_places(salt_share * unit::kPercent, 1));
}

std::string water_table(const service::RecipeReport& r, bool spread) {
    TextTable table({{{"constituent"}, Align::Left},
                     {{"unit"}, Align::Left},
                     {{"target"}, Align::Decimal},
                     {{spread ? "achieved ± u" : "achieved"}, Align::Decimal},
                     {{"band"}, Align::Left},
                     {{"off, %"}, Align::Decimal},
                     {{"chance", "inside"}, Align::Right},
                     {{"verdict"}, Align::Left}});
    const auto& s = r.conflict ? r.conflict->nearest : r.solution;
    for (const ConstituentRow& row : constituent_rows(r)) {
        if (!row.asked) {
            continue;
        }
        table.add({row.symbol, row.unit, short_number(row.target),
                   spread ? with_u(row.achieved, row.standard_uncertainty)
                          : format_significant(row.achieved, kDigits),
                   band(row.low, row.high), off(row.deviation_percent),
                   spread && (row.low || row.high) ? chance(row.chance_inside) : "",
                   spoken(row.inside, spread && (row.low || row.high) ? row.chance_inside : 1)});
    }
    const auto& g = r.target.salinity;
    const double salinity = s.water.dissolved_g_per_kg;
    const bool inside = recipe::is_inside(salinity, g.low_g_per_kg, g.high_g_per_kg);
    table.add(
        {"salinity", "g/kg", short_number(g.target_g_per_kg),
         spread ? with_u(salinity, r.robustness.salinity.u) : format_significant(salinity, kDigits),
         band(g.low_g_per_kg, g.high_g_per_kg),
         off((salinity / g.target_g_per_kg - 1) * unit::kPercent),
         spread ? chance(r.robustness.salinity.inside_monte_carlo) : "",
         spoken(inside, spread ? r.robustness.salinity.inside_monte_carlo : 1)});
    for (const RatioRow& row : ratio_rows(r)) {
        table.add({row.name, row.basis == "mol" ? "mol/mol" : "g/g", "",
                   spread ? with_u(row.achieved, row.standard_uncertainty)
                          : format_significant(row.achieved, kDigits),
                   band(row.low, row.high), "", spread ? chance(row.chance_inside) : "",
                   spoken(row.inside, spread ? row.chance_inside : 1)});
    }
    return table.text();
}

std::string ceilings_table(const service::RecipeReport& r) {
    TextTable table({{{"ceiling"}, Align::Left},
                     {{"unit"}, Align::Left},
                     {{"at most"}, Align::Decimal},
                     {{"expected"}, Align::Decimal},
                     {{"worst the", "certificates allow"}, Align::Decimal},
                     {{"verdict"}, Align::Left}});
    constexpr int kTraceDigits = 3;
    for (const CeilingRow& row : ceiling_rows(r)) {
        table.add({row.symbol, row.unit, short_number(row.high),
                   format_significant(row.expected, kTraceDigits),
                   format_significant(row.worst, kTraceDigits), row.inside ? "within" : "OUTSIDE"});
    }
    return table.text();
}

/// ug/kg, or mg/kg when there is much of it.
std::string along_amount(double ug_per_kg) {
    constexpr double kMuch = 1000;
    return ug_per_kg < kMuch ? format_significant(ug_per_kg, 2) + " ug/kg"
                             : format_significant(ug_per_kg / kMuch, 2) + " mg/kg";
}

std::string along_table(const service::RecipeReport& r) {
    std::vector<std::string> words;
    constexpr double kWorthSaying = 1e-3;  // ug/kg
    for (const ConstituentRow& row : constituent_rows(r)) {
        if (!row.asked && row.achieved > kWorthSaying) {
            words.push_back(fmt::format("{} {}", row.symbol, along_amount(row.achieved)));
        }
    }
    return words.empty() ? ""
                         : "\nNot asked for, but it comes along (expected)\n" +
                               bullets({base::join_words(words) + "."});
}

std::string budget_table(const service::RecipeReport& r) {
    std::string out;
    for (const recipe::Budget& b : r.budgets) {
        const bool asked = std::any_of(
            r.target.constituents.begin(), r.target.constituents.end(), [&](const auto& g) {
                return g.constituent == b.constituent && g.origin != recipe::Origin::Unnamed;
            });
        if (!asked) {
            continue;
        }
        std::string words;
        for (const recipe::BudgetShare& share : b.shares) {
            constexpr double kShown = 0.005;
            if (std::abs(share.share) < kShown) {
                continue;
            }
            words += fmt::format("{}{} {} %", words.empty() ? "" : ", ", source_of(r, share),
                                 format_places(share.share * unit::kPercent, 1));
        }
        out += wrapped(fmt::format("  {:<11} ", b.constituent.symbol()), words);
    }
    return out;
}

std::string alternatives_text(const service::RecipeReport& r) {
    constexpr double kSameMoney = 5e-4;
    std::vector<std::string> sentences;
    for (const recipe::Alternative& a : r.alternatives) {
        const std::string change =
            std::abs(a.cost_change) < kSameMoney
                ? std::string("for the same money")
                : fmt::format("for {} % {}",
                              format_significant(std::abs(a.cost_change) * unit::kPercent, 2),
                              a.cost_change > 0 ? "more" : "less");
        sentences.push_back(
            fmt::format("without {}: {}{}.", a.without, change,
                        a.takes_up.empty() ? "" : ", more of " + base::join_words(a.takes_up)));
    }
    return sentences.empty() ? "  None found that does without one of the materials.\n"
                             : bullets(sentences);
}

std::string changes_table(const service::RecipeReport& r) {
    TextTable table({{{"material"}, Align::Left},
                     {{"lot"}, Align::Left},
                     {{"standing, g per kg", "of purified water"}, Align::Decimal},
                     {{"adjusted"}, Align::Decimal},
                     {{"change, %"}, Align::Decimal}});
    constexpr int kDosePlaces = 5;
    for (const service::WeighingChange& c : r.changes) {
        const matter::Material& m = r.supplies[static_cast<std::size_t>(c.supply)].material;
        const bool was = c.standing_g_per_kg_water > 0;
        table.add(
            {m.name, m.lot, format_places(c.standing_g_per_kg_water, kDosePlaces),
             format_places(c.adjusted_g_per_kg_water, kDosePlaces),
             was ? off((c.adjusted_g_per_kg_water / c.standing_g_per_kg_water - 1) * unit::kPercent)
                 : "new"});
    }
    return table.text();
}

std::string hazards_text(const service::RecipeReport& r) {
    std::string out = heading("Order of blending");
    int number = 0;
    for (const recipe::BlendStep& step : recipe::blend_order(r.supplies, r.solution)) {
        std::vector<std::string> names;
        for (const int j : step.supplies) {
            names.push_back(r.supplies[static_cast<std::size_t>(j)].label());
        }
        out += wrapped(fmt::format("  {}. ", ++number),
                       step.what + " [" + base::join_words(names) + "]");
    }
    out += heading("Hazards and cautions");
    for (const recipe::MaterialHazards& h : recipe::hazards(r.supplies, r.solution)) {
        std::vector<std::string> all = h.statements;
        all.insert(all.end(), h.cautions.begin(), h.cautions.end());
        std::string words;
        for (const std::string& s : all) {
            words += (words.empty() ? "" : " ") + s;
        }
        out +=
            bullets({r.supplies[static_cast<std::size_t>(h.supply)].material.name + ": " + words});
    }
    return out + bullets(recipe::standing_cautions(r.supplies, r.solution));
}

std::string proof_text(const service::RecipeReport& r) {
    double worst = 0;
    for (const recipe::Stage& stage : r.solution.stages) {
        worst = std::max({worst, stage.certificate.primal_residual, stage.certificate.dual_residual,
                          stage.certificate.complementarity});
    }
    std::string out =
        fmt::format("  {} in {} stages, each proven by its own certificate: largest residual {}.\n",
                    r.limits ? "The last linear program is best" : "Best", r.solution.stages.size(),
                    format_significant(worst, 2));
    if (r.limits) {
        out += wrapped(
            "  ", fmt::format("The limits on the water and the chance are not linear: this is "
                              "the best found in {} such programs, and every limit was evaluated "
                              "again. Another recipe that is better is not ruled out.",
                              r.limits->rounds));
    }
    out += fmt::format(
        "  All bands, ratios, ceilings and the salinity hold at once in {} % of {} draws of the "
        "lots' uncertainty (seed {}).\n",
        format_places(r.robustness.all_inside * unit::kPercent, 1), r.robustness.draws,
        r.robustness.seed);
    out += fmt::format("  Charge balance: {} % of the cations' charge.\n",
                       format_places(r.solution.water.charge_balance_percent, 4));
    return out;
}

std::string infeasible_text(const service::RecipeReport& r) {
    std::string out = heading("There is no recipe for this target from these materials.");
    out += bullets(conflict_sentences(r));
    if (r.conflict && !r.notices.empty()) {
        out += heading("Take note");
        out += bullets(sentences_of(r.notices));
    }
    if (r.conflict && !r.conflict->nearest.dose_kg_per_kg.empty()) {
        out += heading("The nearest water that these materials can make");
        out += water_table(r, false);
        if (!r.target.ceilings.empty()) {
            out += "\n" + ceilings_table(r);
        }
        if (r.limits && !limits_table(r).empty()) {
            out += "\n" + limits_table(r);
        }
        out += heading("It would take");
        out += parts_table(r);
    }
    return out;
}

}  // namespace

std::string recipe_text(const service::RecipeReport& r, bool brief) {
    std::string out = top(r);
    if (!r.feasible()) {
        return out + infeasible_text(r);
    }
    out += heading("Recipe");
    out += parts_table(r);
    out += batch_line(r);
    out += mixing_rate(r);
    if (!r.changes.empty()) {
        out += heading(fmt::format("Change of the weighings against {}", r.standing_name));
        out += changes_table(r);
    }
    out += heading(
        "The water it makes (u: standard uncertainty from assays, moisture, impurities and "
        "weighing)");
    out += water_table(r, true);
    if (!r.target.ceilings.empty()) {
        out += "\n" + ceilings_table(r);
    }
    if (r.limits) {
        out += heading("Limits on the finished water");
        out += limits_table(r);
        out += bullets(limit_sentences(r));
    }
    if (!r.notices.empty()) {
        out += heading("Take note");
        out += bullets(sentences_of(r.notices));
    }
    if (!brief) {
        out += along_table(r);
        out += heading("Where each constituent comes from");
        out += budget_table(r);
        out += heading("What moves what");
        out += bullets(r.sensitivities);
        if (!r.bindings.empty()) {
            std::vector<std::string> words;
            for (const recipe::Binding& b : r.bindings) {
                words.push_back(b.what);
            }
            out += bullets(
                {fmt::format("The recipe leans on these limits: {}.", base::join_words(words))});
        }
        if (r.changes.empty()) {
            out += heading(
                "Other recipes within 2 % of the cost that serve every goal as well to 0.1 %");
            out += alternatives_text(r);
        }
        out += heading("Proof");
        out += proof_text(r);
    }
    return out + hazards_text(r);
}

}  // namespace bw::cli
