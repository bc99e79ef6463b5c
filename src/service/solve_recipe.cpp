// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/solve_recipe.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/recipe_file.hpp"
#include "io/target_file.hpp"
#include "recipe/evaluate.hpp"
#include "service/catalogue.hpp"
#include "service/prediction.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

using recipe::Supply;

Result<std::string> one_currency(const std::vector<io::PlacedMaterial>& materials) {
    std::string currency;
    for (const io::PlacedMaterial& m : materials) {
        if (m.material.currency.empty()) {
            continue;
        }
        if (!currency.empty() && currency != m.material.currency) {
            return fail(ProblemCode::BadInput,
                        fmt::format("prices are in {} and {}: give all in one currency", currency,
                                    m.material.currency),
                        m.place);
        }
        currency = m.material.currency;
    }
    return currency;
}

std::vector<Supply> supplies_of(const std::vector<io::PlacedMaterial>& materials) {
    std::vector<Supply> out;
    out.reserve(materials.size());
    for (const io::PlacedMaterial& m : materials) {
        out.push_back({m.material, m.make_up});
    }
    return recipe::sorted_by_label(std::move(out));
}

/// Doses per kg of finished water by material name.
using Doses = std::vector<std::pair<std::string, double>>;

Doses doses_of(const std::vector<Supply>& supplies, const recipe::Solution& solution) {
    Doses out;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        out.emplace_back(supplies[j].material.name, solution.dose_kg_per_kg[j]);
    }
    return out;
}

Result<Doses> doses_of(const io::RecipeFile& recipe,
                       const std::vector<io::PlacedMaterial>& catalogue) {
    double total = 0;
    for (const io::RecipePart& part : recipe.parts) {
        total += part.g_per_kg_purified_water;
    }
    Doses out;
    for (const io::RecipePart& part : recipe.parts) {
        const bool known = std::any_of(
            catalogue.begin(), catalogue.end(),
            [&](const io::PlacedMaterial& m) { return m.material.name == part.material; });
        if (!known) {
            return fail(ProblemCode::UnknownName,
                        fmt::format("{} is not among the materials", base::quoted(part.material)),
                        part.place);
        }
        const double dose = part.g_per_kg_purified_water / (unit::kGramPerKg + total);
        const auto same = std::find_if(out.begin(), out.end(),
                                       [&](const auto& d) { return d.first == part.material; });
        if (same != out.end()) {
            same->second += dose;
        } else {
            out.emplace_back(part.material, dose);
        }
    }
    return out;
}

double dose_for(const Doses& doses, const std::string& material) {
    for (const auto& [name, dose] : doses) {
        if (name == material) {
            return dose;
        }
    }
    return 0;
}

/// Turns the catalogue into what is weighed: lots where there are accepted ones.
class LotChoice {
public:
    LotChoice(const RecipeRequest& request, const std::vector<io::PlacedMaterial>& catalogue,
              const recipe::Target& target, const Doses& standing)
        : request_(request), catalogue_(catalogue), target_(target), standing_(standing) {}

    Result<std::vector<Supply>> choose(const std::vector<io::PlacedLot>& lots,
                                       base::Notices& notices) {
        BW_CHECK(check(lots));
        std::vector<Supply> out;
        std::vector<std::string> without_lot;
        for (const io::PlacedMaterial& material : catalogue_) {
            std::vector<const io::PlacedLot*> accepted;
            bool any = false;
            for (const io::PlacedLot& lot : lots) {
                const bool own = lot.differs.name == material.material.name;
                any = any || own;
                if (own && lot.state == "accepted") {
                    accepted.push_back(&lot);
                }
            }
            if (!any) {
                out.push_back({material.material, material.make_up});
                if (dose_for(standing_, material.material.name) > 0) {
                    without_lot.push_back(material.material.name);
                }
                continue;
            }
            if (accepted.empty()) {
                notices.push_back(
                    {"no_accepted_lot", fmt::format("{}: no lot is accepted; it is left out.",
                                                    material.material.name)});
                continue;
            }
            for (const io::PlacedLot* lot : pick(material, accepted, notices)) {
                const matter::Material weighed = matter::with_lot(material.material, lot->differs);
                const auto made = matter::make_up(weighed);
                if (!made) {
                    Problem problem = made.error();
                    problem.place.file = lot->place.file;
                    problem.place.line = lot->place.line;
                    return tl::make_unexpected(problem);
                }
                out.push_back({weighed, *made});
            }
        }
        if (!without_lot.empty()) {
            notices.push_back(
                {"no_lot", fmt::format("No lot is on file of {}; the catalogue's values are used.",
                                       base::join_words(without_lot, "or"))});
        }
        return recipe::sorted_by_label(std::move(out));
    }

private:
    Result<void> check(const std::vector<io::PlacedLot>& lots) const {
        for (const io::PlacedLot& lot : lots) {
            const bool known = std::any_of(
                catalogue_.begin(), catalogue_.end(),
                [&](const io::PlacedMaterial& m) { return m.material.name == lot.differs.name; });
            if (!known) {
                std::vector<std::string_view> names;
                for (const io::PlacedMaterial& m : catalogue_) {
                    names.push_back(m.material.name);
                }
                const auto near = base::closest(lot.differs.name, names);
                return fail(
                    ProblemCode::UnknownName,
                    fmt::format("{} is not among the materials{}", base::quoted(lot.differs.name),
                                near ? fmt::format(": did you mean {}?", base::quoted(*near))
                                     : std::string()),
                    lot.place);
            }
        }
        for (std::size_t i = 0; i < request_.chosen_lots.size(); ++i) {
            for (std::size_t k = 0; k < i; ++k) {
                if (request_.chosen_lots[k].first == request_.chosen_lots[i].first) {
                    return fail(
                        ProblemCode::BadInput,
                        fmt::format("two lots are chosen of {}: choose one, or let lots be split",
                                    base::quoted(request_.chosen_lots[i].first)),
                        {"", 0, "--choose"});
                }
            }
        }
        for (const auto& [material, number] : request_.chosen_lots) {
            const auto found =
                std::find_if(lots.begin(), lots.end(),
                             [&, &m = material, &n = number](const io::PlacedLot& lot) {
                                 return lot.differs.name == m && lot.differs.lot == n;
                             });
            if (found == lots.end()) {
                return fail(ProblemCode::UnknownName,
                            fmt::format("{} has no lot {} on file", base::quoted(material),
                                        base::quoted(number)),
                            {"", 0, "--choose"});
            }
            if (found->state != "accepted") {
                return fail(ProblemCode::Refused,
                            fmt::format("lot {} of {} is {}: only accepted lots are weighed",
                                        number, base::quoted(material), found->state),
                            found->place);
            }
        }
        return {};
    }

    std::vector<const io::PlacedLot*> pick(const io::PlacedMaterial& material,
                                           const std::vector<const io::PlacedLot*>& accepted,
                                           base::Notices& notices) const {
        const std::string& name = material.material.name;
        for (const auto& [chosen, number] : request_.chosen_lots) {
            for (const io::PlacedLot* lot : accepted) {
                if (chosen == name && lot->differs.lot == number) {
                    return {lot};
                }
            }
        }
        if (request_.split_lots || accepted.size() == 1) {
            return accepted;
        }
        const double need = needed_kg(name);
        for (const io::PlacedLot* lot : accepted) {
            if (lot->differs.stock_kg.value_or(material.material.stock_kg.value_or(need)) >= need) {
                return {lot};
            }
        }
        notices.push_back(
            {"lots_run_short",
             fmt::format(
                 "{}: no one lot holds the {:.0f} kg needed; all accepted lots may be weighed.",
                 name, std::ceil(need))});
        return accepted;
    }

    /// What the batch takes of a material, a twentieth to spare for the adjustment; 0 when there is
    /// no batch.
    [[nodiscard]] double needed_kg(const std::string& material) const {
        if (!target_.batch) {
            return 0;
        }
        double blend = 0;
        for (const auto& [name, dose] : standing_) {
            blend += dose;
        }
        constexpr double kSpare = 1.05;
        return blend > 0 ? dose_for(standing_, material) / blend * target_.batch->blend_kg * kSpare
                         : 0;
    }

    const RecipeRequest& request_;
    const std::vector<io::PlacedMaterial>& catalogue_;
    const recipe::Target& target_;
    const Doses& standing_;
};

/// Where each supply should stay: the standing dose of its material, given to its first lot.
std::vector<double> stay_near(const std::vector<Supply>& supplies, const Doses& standing) {
    std::vector<double> out;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        const std::string& name = supplies[j].material.name;
        const bool first =
            std::none_of(supplies.begin(), supplies.begin() + static_cast<std::ptrdiff_t>(j),
                         [&](const Supply& s) { return s.material.name == name; });
        out.push_back(first ? dose_for(standing, name) : 0);
    }
    return out;
}

/// What doses of the catalogue's materials make.
recipe::MadeUpWater water_of(const Doses& doses, const std::vector<io::PlacedMaterial>& catalogue,
                             const recipe::Target& target) {
    const std::vector<Supply> supplies = supplies_of(catalogue);
    std::vector<double> dose_kg_per_kg;
    dose_kg_per_kg.reserve(supplies.size());
    for (const Supply& s : supplies) {
        dose_kg_per_kg.push_back(dose_for(doses, s.material.name));
    }
    return recipe::made_up_water(supplies, target.purified_water, dose_kg_per_kg);
}

void note_missing_prices(const std::vector<Supply>& supplies, base::Notices& notices) {
    std::vector<std::string> unpriced;
    for (const Supply& s : supplies) {
        if (!s.material.price_per_kg) {
            unpriced.push_back(s.label());
        }
    }
    if (unpriced.size() == supplies.size()) {
        notices.push_back({"no_prices",
                           "No material has a price: of equally good recipes the one with the "
                           "least mass is given."});
    } else if (!unpriced.empty()) {
        notices.push_back(
            {"unpriced",
             fmt::format("Without a price: {}. The highest price given is reckoned for them.",
                         base::join_words(unpriced))});
    }
}

/// Bands whose edge the recipe sits on, or that are narrow for the materials' uncertainty.
void note_low_chance(RecipeReport& report) {
    constexpr double kLow = 0.9;
    if (report.robustness.all_inside >= kLow) {
        return;
    }
    std::vector<std::string> doubtful;
    for (std::size_t i = 0; i < report.target.constituents.size(); ++i) {
        if (report.robustness.constituents[i].inside_monte_carlo < recipe::kCloseCall) {
            doubtful.emplace_back(report.target.constituents[i].constituent.symbol());
        }
    }
    const bool banded =
        std::any_of(report.target.constituents.begin(), report.target.constituents.end(),
                    [](const recipe::ConstituentGoal& g) { return g.aim == recipe::Aim::Band; });
    report.notices.push_back(
        {"low_chance",
         fmt::format("Only {:.0f} % of batches would hold all limits at once{}{}{}.",
                     report.robustness.all_inside * unit::kPercent,
                     doubtful.empty() ? "" : "; in doubt: ", base::join_words(doubtful),
                     banded ? ". With aim = \"band\" the cheapest recipe sits on the edges of the "
                              "bands: aim at targets, or narrow "
                              "the bands"
                            : "")});
}

void note_left_out(RecipeReport& report) {
    std::vector<std::string> names;
    for (const Supply& s : report.supplies) {
        if (recipe::is_left_out(report.target, s)) {
            names.push_back(s.material.name);
        }
    }
    if (!names.empty()) {
        report.notices.push_back(
            {"left_out",
             fmt::format("Left out, since the target does not name what they bring: {}.",
                         base::join_words(names))});
    }
}

}  // namespace

double RecipeReport::g_per_kg_water(double dose_kg_per_kg) const {
    return dose_kg_per_kg / solution.water.purified_water_kg * unit::kGramPerKg;
}

Result<RecipeReport> solve_recipe(const RecipeRequest& request) {
    RecipeReport report;
    BW_TRY(target, io::read_target(request.target));
    if (request.blend_kg) {
        target.batch = target.batch.value_or(recipe::Batch{});
        target.batch->blend_kg = *request.blend_kg;
    }
    BW_TRY(catalogue, read_catalogue(request.materials));
    BW_TRY(currency, one_currency(catalogue));
    report.target = target;
    report.currency = currency;
    report.supplies = supplies_of(catalogue);

    Doses standing;
    if (request.standing) {
        BW_TRY(file, io::read_recipe(*request.standing));
        BW_TRY(doses, doses_of(file, catalogue));
        standing = doses;
        report.standing_name = file.name;
    }
    recipe::SolveOptions options;
    if (request.lots) {
        BW_TRY(lots, io::read_lots(*request.lots));
        if (!request.standing) {
            recipe::Target for_catalogue = target;
            recipe::add_unnamed_goals(for_catalogue, report.supplies);
            BW_TRY(within, solve_within_limits(for_catalogue, report.supplies, {}, false));
            const recipe::Solution& solved = within.solution;
            if (solved.verdict == recipe::Verdict::Solved) {
                standing = doses_of(report.supplies, solved);
                report.standing_name = "the recipe from catalogue values";
            } else {
                report.notices.push_back({"no_standing",
                                          "The catalogue's values allow no recipe, so there is "
                                          "none to adjust; the lots are "
                                          "solved for on their own."});
            }
        }
        for (const io::PlacedLot& lot : lots) {
            const std::string& own = lot.differs.currency;
            if (!own.empty() && !currency.empty() && own != currency) {
                return fail(
                    ProblemCode::BadInput,
                    fmt::format("prices are in {} and {}: give all in one currency", currency, own),
                    lot.place);
            }
        }
        BW_TRY(chosen,
               LotChoice(request, catalogue, target, standing).choose(lots, report.notices));
        report.supplies = chosen;
        if (!standing.empty()) {
            options.stay_near = stay_near(report.supplies, standing);
        }
    } else if (request.standing) {
        options.stay_near = stay_near(report.supplies, standing);
    }
    if (request.open_packages || request.free_shares) {
        for (Supply& s : report.supplies) {
            s.material.whole_packages = false;
        }
    }
    if (request.free_shares) {
        report.target.limits.most_materials.reset();
        report.target.limits.smallest_dose_kg_per_kg.reset();
        report.target.batch.reset();
        report.notices.push_back(
            {"free_shares",
             "Packages, weighing steps, smallest doses and the number of materials are left aside: "
             "solve it whole before it is kept."});
    }
    recipe::add_unnamed_goals(report.target, report.supplies);
    note_missing_prices(report.supplies, report.notices);
    note_left_out(report);

    recipe::Target aimed = report.target;
    if (request.keep_water && request.standing) {
        aimed = recipe::aiming_at(std::move(aimed), water_of(standing, catalogue, target));
    }
    BW_TRY(found, solve_within_limits(aimed, report.supplies, options, request.explain));
    if (!request.keep_water) {
        report.target = found.target;
    }
    report.solution = found.solution;
    if (has_curved_limits(report.target)) {
        report.limits = found.limits;
    }
    const recipe::Solution& solution = report.solution;
    base::append(report.notices, solution.notices);
    if (solution.dose_kg_per_kg.empty()) {
        if (solution.verdict == recipe::Verdict::Infeasible && solution.notices.empty()) {
            BW_TRY(conflict, recipe::explain_conflict(report.target, report.supplies));
            report.conflict = conflict;
            if (report.limits && !conflict.nearest.dose_kg_per_kg.empty()) {
                BW_CHECK(evaluate_limits(report.target, report.supplies, conflict.nearest,
                                         *report.limits));
            }
        }
        return report;
    }
    if (!standing.empty()) {
        double total = 0;
        for (const auto& [name, dose] : standing) {
            total += dose;
        }
        const std::vector<double> near = stay_near(report.supplies, standing);
        for (std::size_t j = 0; j < report.supplies.size(); ++j) {
            if (near[j] > 0 || solution.dose_kg_per_kg[j] > 0) {
                report.changes.push_back({static_cast<int>(j),
                                          near[j] / (1 - total) * unit::kGramPerKg,
                                          report.g_per_kg_water(solution.dose_kg_per_kg[j])});
            }
        }
    }
    for (std::size_t j = 0; j < report.supplies.size(); ++j) {
        if (solution.dose_kg_per_kg[j] > 0) {
            base::append(report.notices, report.supplies[j].make_up.notices);
        }
    }
    base::append(report.notices, recipe::cautions_on_water(report.target, solution.water));
    report.robustness =
        drawn_spread(report.target, report.supplies, solution, request.draws, request.seed);
    note_low_chance(report);
    report.budgets = recipe::budgets(report.target, report.supplies, solution);
    report.bindings = recipe::bindings(report.target, solution);
    if (request.explain) {  // most of the time of a solve
        report.sensitivities =
            recipe::sensitivities(report.target, report.supplies, solution, report.robustness);
    }
    if (request.explain && options.stay_near.empty()) {
        recipe::SolveWithin within;
        if (report.limits) {
            within = [&](const std::vector<recipe::Supply>& some) {
                return from_other_materials(report.target, some, *report.limits);
            };
        }
        report.alternatives =
            recipe::alternatives(report.target, report.supplies, solution, within);
    }
    return report;
}

}  // namespace bw::service
