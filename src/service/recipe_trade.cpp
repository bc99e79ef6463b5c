// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/recipe_trade.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "io/target_file.hpp"
#include "path/verdict.hpp"
#include "recipe/explain.hpp"
#include "service/catalogue.hpp"
#include "service/in_parts.hpp"
#include "service/limit_loop.hpp"
#include "service/water_limits.hpp"

namespace bw::service {
namespace {

using matter::Constituent;
using recipe::ConstituentGoal;
using recipe::Target;

Result<const ConstituentGoal*> goal_of(const Target& target, std::string_view symbol,
                                       const std::string& file) {
    for (const ConstituentGoal& goal : target.constituents) {
        if (goal.constituent.symbol() == symbol) {
            return &goal;
        }
    }
    return fail(
        ProblemCode::BadInput,
        fmt::format("the target does not speak of {}: name it, or say rest = \"natural\"", symbol),
        {file, 0, ""});
}

Result<double> amount_of(const unit::TypedQuantity& typed, std::string_view symbol,
                         const Target& target, const std::string& option) {
    const auto factor =
        matter::mol_per_kg_per_unit(typed, matter::constituent(symbol), target.basis);
    if (!factor) {
        Problem problem = factor.error();
        problem.place.field = option;
        return tl::make_unexpected(std::move(problem));
    }
    const double amount = *factor * typed.number;
    constexpr double kMost = 1;  // mol/kg
    if (!(amount > 0 && amount < kMost)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("'{}' of {} is not an amount of a water: it is above 0 and below a "
                                "mole per kilogram",
                                typed.text, symbol),
                    {"", 0, option});
    }
    return amount;
}

TradeAxis axis_of(const ConstituentGoal& goal) {
    return {recipe::unit_text(goal.shown), goal.shown_per_mol_per_kg, goal.target};
}

double middle_of(const ConstituentGoal& goal) {
    return goal.target ? *goal.target
                       : (goal.low.value_or(goal.high.value_or(0)) +
                          goal.high.value_or(goal.low.value_or(0))) /
                             2;
}

/// Carbon in the proportion to alkalinity that the target names, or about that of a water in the
/// air: a salt with far less of it is over-saturated before it has taken up its CO2, and one with
/// more looks safe only until it has given that off.
recipe::RatioGoal carbon_to_alkalinity(const Target& target) {
    recipe::RatioGoal out;
    out.numerator = matter::constituent("carbon");
    out.denominator = matter::constituent("alkalinity");
    out.low = 0.85;
    out.high = 0.95;
    std::optional<double> carbon;
    std::optional<double> alkalinity;
    for (const ConstituentGoal& goal : target.constituents) {
        carbon = goal.constituent == out.numerator ? goal.target : carbon;
        alkalinity = goal.constituent == out.denominator ? goal.target : alkalinity;
    }
    if (carbon && alkalinity && *carbon > 0 && *alkalinity > 0) {
        constexpr double kBand = 5e-3;
        out.low = *carbon / *alkalinity * (1 - kBand);
        out.high = *carbon / *alkalinity * (1 + kBand);
    }
    return out;
}

/// The target with calcium and magnesium held and its other claims on the four set aside.
Target at_point(const Target& target, double calcium, double magnesium) {
    Target out = target;
    out.limits.most_materials.reset();
    out.limits.smallest_dose_kg_per_kg.reset();
    out.limits.chance_inside.reset();
    out.batch.reset();
    const auto traded = [](Constituent c) {
        return c.symbol() == "Ca" || c.symbol() == "Mg" || c.is_alkalinity() ||
               c.symbol() == "carbon";
    };
    std::erase_if(out.ratios, [&](const recipe::RatioGoal& r) {
        return traded(r.numerator) || traded(r.denominator);
    });
    out.ratios.push_back(carbon_to_alkalinity(target));
    std::erase_if(out.constituents,
                  [](const ConstituentGoal& g) { return g.constituent.symbol() == "carbon"; });
    for (ConstituentGoal& goal : out.constituents) {
        if (!traded(goal.constituent)) {
            continue;
        }
        const bool up = goal.constituent.is_alkalinity();
        const double held = goal.constituent.symbol() == "Ca" ? calcium : magnesium;
        goal.target = up ? kTradeMost : held;
        goal.low = up ? 0 : held * (1 - kTradeBand);
        goal.high = up ? kTradeMost : held * (1 + kTradeBand);
        goal.aim = up ? recipe::Aim::Target : recipe::Aim::Band;
        goal.priority = 1;
        goal.origin = recipe::Origin::Named;
    }
    out.salinity.priority = std::max(out.salinity.priority, 2);
    return out;
}

/// The highest alkalinity; a second search aims just above the first, whose stages may give away a
/// hundredth of a far miss.
Result<TradePoint> best_at(const Target& target, const std::vector<recipe::Supply>& supplies,
                           double calcium, double magnesium) {
    TradePoint out;
    out.calcium_mol_per_kg = calcium;
    out.magnesium_mol_per_kg = magnesium;
    Target aimed = at_point(target, calcium, magnesium);
    constexpr double kJustAbove = 1.02;
    recipe::SolveOptions options;
    options.goals_at_any_cost = true;
    for (int search = 0; search < 2; ++search) {
        BW_TRY(found, solve_within_limits(aimed, supplies, options, false));
        if (found.solution.verdict != recipe::Verdict::Solved) {
            return out;
        }
        const double reached = found.solution.water.mol_per_kg[matter::constituent("alkalinity")];
        out.alkalinity_eq_per_kg = reached;
        if (recipe::all_priced(supplies, found.solution)) {
            out.cost_per_t_blend = recipe::cost_per_t_blend(supplies, found.solution);
        }
        for (const SaturationHeld& s : found.limits.saturation) {
            if (s.limit.key == "omega_aragonite") {
                out.omega_aragonite = s.omega;
            }
        }
        if (found.limits.safe_time) {
            out.safe_h = found.limits.safe_time->time.hours;
            out.use_within_h = found.limits.safe_time->time.use_within_h;
            out.omega_aragonite = found.limits.safe_time->omega_aragonite;
        }
        for (ConstituentGoal& goal : aimed.constituents) {
            if (goal.constituent.is_alkalinity()) {
                goal.target = std::min(kTradeMost, reached * kJustAbove);
            }
        }
    }
    return out;
}

std::vector<std::string> limits_in_words(const recipe::Limits& limits) {
    std::vector<std::string> out;
    for (const recipe::SaturationLimit& limit : limits.saturation) {
        out.push_back(limit_words(limit));
    }
    if (limits.safe_time) {
        out.push_back(fmt::format(
            "safe time at least {} ({})", time_words(limits.safe_time->hours),
            where_words(limits.safe_time->temperature_degC, limits.safe_time->air_pco2_atm)));
    }
    return out;
}

/// Where the target lies by the curve of its own magnesium; empty where no curve reaches it.
std::string where_target_lies(const TradeReport& r) {
    if (!r.calcium.target_mol_per_kg || !r.magnesium.target_mol_per_kg ||
        !r.alkalinity.target_mol_per_kg) {
        return {};
    }
    constexpr double kSame = 1e-9;
    constexpr int kDigits = 4;
    for (std::size_t i = 0; i + 1 < r.points.size(); ++i) {
        const TradePoint& a = r.points[i];
        const TradePoint& b = r.points[i + 1];
        const double ca = *r.calcium.target_mol_per_kg;
        if (std::abs(a.magnesium_mol_per_kg - *r.magnesium.target_mol_per_kg) > kSame ||
            b.magnesium_mol_per_kg != a.magnesium_mol_per_kg || ca < a.calcium_mol_per_kg - kSame ||
            ca > b.calcium_mol_per_kg + kSame || !a.alkalinity_eq_per_kg ||
            !b.alkalinity_eq_per_kg) {
            continue;
        }
        const double share =
            (ca - a.calcium_mol_per_kg) / (b.calcium_mol_per_kg - a.calcium_mol_per_kg);
        const double most =
            *a.alkalinity_eq_per_kg + share * (*b.alkalinity_eq_per_kg - *a.alkalinity_eq_per_kg);
        const double wanted = *r.alkalinity.target_mol_per_kg;
        const auto words = [&](double amount) {
            return base::format_significant(amount * r.alkalinity.per_mol_per_kg, kDigits) + " " +
                   r.alkalinity.unit;
        };
        return fmt::format(
            "The target's alkalinity of {} lies {} the curve: at its calcium and "
            "magnesium the limits leave {}.",
            words(wanted), wanted > most ? "above" : "under", words(most));
    }
    return {};
}

/// Calcium from low to high, evenly.
Result<std::vector<double>> calcium_of(const TradeRequest& request, const Target& target,
                                       double middle) {
    constexpr double kAbout = 0.1;
    double from = middle * (1 - kAbout);
    double to = middle * (1 + kAbout);
    if (request.calcium_from) {
        BW_TRY(amount, amount_of(*request.calcium_from, "Ca", target, "--calcium-from"));
        from = amount;
    }
    if (request.calcium_to) {
        BW_TRY(amount, amount_of(*request.calcium_to, "Ca", target, "--calcium-to"));
        to = amount;
    }
    if (!(from < to)) {
        return fail(ProblemCode::OutOfRange,
                    "the calcium of the curve must rise from first to last",
                    {"", 0, "--calcium-to"});
    }
    std::vector<double> out;
    out.reserve(static_cast<std::size_t>(request.points));
    for (int i = 0; i < request.points; ++i) {
        out.push_back(from + (to - from) * i / (request.points - 1));
    }
    return out;
}

}  // namespace

Result<TradeReport> recipe_trade(const TradeRequest& request) {
    if (request.points < 2 || request.points > kMostTradePoints) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a curve has 2 to {} points", kMostTradePoints),
                    {"", 0, "--points"});
    }
    BW_TRY(target, io::read_target(request.target));
    BW_TRY(catalogue, read_catalogue(request.materials));
    const bool limited =
        target.limits.safe_time ||
        std::any_of(target.limits.saturation.begin(), target.limits.saturation.end(),
                    [](const auto& s) { return s.solid == "aragonite"; });
    if (!limited) {
        return fail(ProblemCode::BadInput,
                    "nothing limits calcium and alkalinity: give the target omega_aragonite or "
                    "safe_time in [limits]",
                    {request.target.name, 0, ""});
    }
    BW_TRY(calcium, goal_of(target, "Ca", request.target.name));
    BW_TRY(magnesium, goal_of(target, "Mg", request.target.name));
    BW_TRY(alkalinity, goal_of(target, "alkalinity", request.target.name));
    TradeReport out;
    out.name = target.name;
    out.invented = target.invented;
    out.limits = limits_in_words(target.limits);
    out.calcium = axis_of(*calcium);
    out.magnesium = axis_of(*magnesium);
    out.alkalinity = axis_of(*alkalinity);
    BW_TRY(calciums, calcium_of(request, target, middle_of(*calcium)));
    std::vector<double> magnesiums;
    for (const unit::TypedQuantity& typed : request.magnesium) {
        BW_TRY(amount, amount_of(typed, "Mg", target, "--magnesium"));
        magnesiums.push_back(amount);
    }
    if (magnesiums.empty()) {
        constexpr double kAbout = 0.05;
        const double middle = middle_of(*magnesium);
        magnesiums = {middle * (1 - kAbout), middle, middle * (1 + kAbout)};
    }
    std::vector<recipe::Supply> supplies;
    supplies.reserve(catalogue.size());
    for (const io::PlacedMaterial& m : catalogue) {
        supplies.push_back({m.material, m.make_up});
    }
    supplies = recipe::sorted_by_label(std::move(supplies));
    recipe::add_unnamed_goals(target, supplies);
    for (const recipe::Supply& s : supplies) {
        out.currency = out.currency.empty() ? s.material.currency : out.currency;
    }
    std::mutex telling;
    std::size_t done = 0;
    std::atomic<bool> called_off = false;
    std::vector<Result<TradePoint>> found(calciums.size() * magnesiums.size(), TradePoint{});
    in_parts(found.size(), 0, [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end && !called_off; ++i) {
            found[i] = best_at(target, supplies, calciums[i % calciums.size()],
                               magnesiums[i / calciums.size()]);
            const std::scoped_lock lock(telling);
            ++done;
            if (request.progress &&
                !request.progress(static_cast<double>(done) / static_cast<double>(found.size()))) {
                called_off = true;
            }
        }
    });
    if (called_off) {
        return fail(ProblemCode::Refused, kCalledOff);
    }
    for (const Result<TradePoint>& point : found) {
        if (!point) {
            return tl::make_unexpected(point.error());
        }
        out.points.push_back(*point);
    }
    if (std::string words = where_target_lies(out); !words.empty()) {
        out.notes.push_back(std::move(words));
    }
    if (target.limits.chance_inside) {
        out.notes.emplace_back(
            "chance_inside is set aside here: calcium and magnesium are held to 0.02 % at each "
            "point, with no band to lie in.");
    }
    return out;
}

}  // namespace bw::service
