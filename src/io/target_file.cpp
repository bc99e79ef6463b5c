// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/target_file.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/seawater_density.hpp"
#include "io/fields.hpp"
#include "io/purified_water.hpp"
#include "io/salinity_field.hpp"
#include "io/target_limits.hpp"
#include "recipe/model.hpp"
#include "unit/factors.hpp"

namespace bw::io {
namespace {

using matter::Constituent;
using recipe::ConstituentGoal;
using recipe::Target;
using unit::Dimension;
using unit::TypedQuantity;

constexpr double kDefaultBand = 0.02;  // the trade's promise of about 2 % per element
constexpr double kDefaultSalinityBand = 0.002;
constexpr double kRestBand = 0.02;
constexpr double kGivesWayBand = 0.03;  // Na and Cl take up the charge of what is raised
constexpr SalinityRange kSalinities{42, "where the density of seawater is known"};

Result<void> read_salinity(const Fields& root, Target& target) {
    BW_TRY(salinity, salinity_of(root, "salinity", kSalinities));
    if (!salinity) {
        return root.bad(
            "", "salinity is missing: write salinity = \"35\" (practical) or \"35.165 g/kg\"");
    }
    target.salinity.target_g_per_kg = salinity->g_per_kg;
    target.salinity.practical = salinity->practical;
    BW_TRY(low, salinity_of(root, "salinity_low", kSalinities));
    BW_TRY(high, salinity_of(root, "salinity_high", kSalinities));
    target.salinity.low_g_per_kg =
        low ? low->g_per_kg : salinity->g_per_kg * (1 - kDefaultSalinityBand);
    target.salinity.high_g_per_kg =
        high ? high->g_per_kg : salinity->g_per_kg * (1 + kDefaultSalinityBand);
    if (target.salinity.low_g_per_kg > salinity->g_per_kg ||
        target.salinity.high_g_per_kg < salinity->g_per_kg) {
        return root.bad(low ? "salinity_low" : "salinity_high",
                        "the salinity does not lie between its low and its high",
                        ProblemCode::OutOfRange);
    }
    const auto density = brine::seawater_density(
        unit::PracticalSalinity(salinity->g_per_kg / g_per_kg_per_practical()),
        unit::Celsius(target.temperature_degC));
    if (!density) {
        return root.placed("temperature", density.error());
    }
    target.basis = {*density, unit::GramPerKg(salinity->g_per_kg)};
    return {};
}

Result<recipe::Aim> aim_of(const Fields& table, recipe::Aim otherwise) {
    BW_TRY(text, table.text("aim"));
    if (!text) {
        return otherwise;
    }
    if (*text == "target") {
        return recipe::Aim::Target;
    }
    if (*text == "band") {
        return recipe::Aim::Band;
    }
    return table.bad(
        "aim", fmt::format("{} is not an aim: write \"target\" or \"band\"", base::quoted(*text)));
}

/// A constituent's quantity in mol per kg of finished water, remembering the unit for display.
Result<std::optional<double>> amount_of(const Fields& table, std::string_view key, Constituent c,
                                        const Target& target, ConstituentGoal* goal) {
    BW_TRY(stated, stated_amount(table, key, c, target.basis));
    if (!stated) {
        return std::nullopt;
    }
    if (goal != nullptr && goal->shown.unit.symbol.empty()) {
        goal->shown = stated->typed;
        goal->shown_per_mol_per_kg = 1 / stated->factor;
    }
    return stated->mol_per_kg;
}

/// Per litre when the file speaks of litres, else per kilogram.
void show_in_default_unit(ConstituentGoal& goal, const Target& target) {
    const bool per_litre = std::any_of(
        target.constituents.begin(), target.constituents.end(), [](const ConstituentGoal& g) {
            return g.shown.unit.dimension == Dimension::MassPerVolume;
        });
    const bool amount = goal.constituent.is_alkalinity() || goal.constituent.symbol() == "carbon";
    goal.shown.unit = *unit::find_unit(goal.constituent.is_alkalinity() ? "meq/kg"
                                       : amount                         ? "mmol/kg"
                                       : per_litre                      ? "mg/L"
                                                                        : "mg/kg");
    const auto factor = matter::mol_per_kg_per_unit(goal.shown, goal.constituent, target.basis);
    base::expect(factor.has_value(), "a default unit states every constituent");
    goal.shown_per_mol_per_kg = 1 / *factor;
}

Result<double> natural_amount(const Fields& table, std::string_view key, Constituent c,
                              const Target& target) {
    const auto natural = matter::natural_amount_at_35(c);
    if (!natural) {
        return table.placed(key, natural.error());
    }
    return natural->mol_per_kg * target.salinity.target_g_per_kg /
           ref::reference_salinity_g_per_kg();
}

Result<Constituent> constituent_of(const Fields& table) {
    BW_TRY(symbol, table.required_text("symbol"));
    const auto c = matter::require_constituent(symbol);
    if (!c) {
        return table.placed("symbol", c.error());
    }
    return *c;
}

Result<ConstituentGoal> read_goal(const Fields& table, const Target& target, recipe::Aim aim) {
    BW_CHECK(table.allow({"symbol", "target", "low", "high", "unit", "priority", "aim", "note"}));
    ConstituentGoal goal;
    BW_TRY(c, constituent_of(table));
    goal.constituent = c;
    BW_TRY(own_aim, aim_of(table, aim));
    goal.aim = own_aim;
    BW_TRY(priority, table.whole_number("priority", 1, kLowestPriority));
    goal.priority = priority.value_or(recipe::kDefaultPriority);
    const Node* wanted = table.node("target");
    const bool natural =
        wanted != nullptr && wanted->text() != nullptr && base::trim(*wanted->text()) == "natural";
    if (natural) {
        BW_TRY(amount, natural_amount(table, "target", c, target));
        goal.target = amount;
    } else {
        BW_TRY(amount, amount_of(table, "target", c, target, &goal));
        goal.target = amount;
    }
    BW_TRY(low, amount_of(table, "low", c, target, &goal));
    BW_TRY(high, amount_of(table, "high", c, target, &goal));
    goal.low = low;
    goal.high = high;
    if (!goal.target && !goal.low && !goal.high) {
        return table.bad("", fmt::format("{} has neither target, nor low, nor high", c.symbol()));
    }
    if (goal.low && goal.high && *goal.low > *goal.high) {
        return table.bad("low", fmt::format("low of {} is above its high", c.symbol()),
                         ProblemCode::OutOfRange);
    }
    if (goal.target &&
        ((goal.low && *goal.target < *goal.low) || (goal.high && *goal.target > *goal.high))) {
        return table.bad(
            "target",
            fmt::format("the target of {} does not lie between its low and its high", c.symbol()),
            ProblemCode::OutOfRange);
    }
    if (goal.target && !goal.low) {
        goal.low = *goal.target - std::abs(*goal.target) * kDefaultBand;
    }
    if (goal.target && !goal.high) {
        goal.high = *goal.target + std::abs(*goal.target) * kDefaultBand;
    }
    if (goal.shown.unit.symbol.empty()) {
        show_in_default_unit(goal, target);
    }
    return goal;
}

Result<recipe::Ceiling> read_ceiling(const Fields& table, const Target& target) {
    BW_CHECK(table.allow({"symbol", "high", "unit", "note"}));
    BW_TRY(c, constituent_of(table));
    ConstituentGoal shown;
    BW_TRY(high, amount_of(table, "high", c, target, &shown));
    if (!high) {
        return table.bad("", "the ceiling has no high");
    }
    if (!(*high > 0)) {
        return table.bad("high", "a ceiling must be above 0: every material may bring a trace",
                         ProblemCode::OutOfRange);
    }
    return recipe::Ceiling{c, *high, shown.shown, shown.shown_per_mol_per_kg};
}

/// Fills what is not named in natural proportion to chlorinity.
Result<void> fill_rest(Target& target, recipe::Aim aim) {
    // Chlorinity: that of the salinity, or of a chloride that the file names.
    double scale = target.salinity.target_g_per_kg / ref::reference_salinity_g_per_kg();
    const matter::Amounts reference =
        matter::reference_seawater(ref::reference_salinity_g_per_kg());
    for (const ConstituentGoal& goal : target.constituents) {
        if (goal.constituent == matter::constituent("Cl") && goal.target) {
            scale = *goal.target / reference[goal.constituent];
        }
    }
    constexpr auto kRest = std::to_array<std::string_view>(
        {"Na", "K", "Mg", "Ca", "Sr", "Cl", "SO4", "Br", "F", "B", "alkalinity"});
    for (const std::string_view symbol : kRest) {
        const Constituent c = matter::constituent(symbol);
        const bool named =
            std::any_of(target.constituents.begin(), target.constituents.end(),
                        [&](const ConstituentGoal& g) { return g.constituent == c; });
        if (named) {
            continue;
        }
        const bool gives_way = symbol == "Na" || symbol == "Cl";
        const double band = gives_way ? kGivesWayBand : kRestBand;
        ConstituentGoal goal;
        goal.constituent = c;
        goal.target = reference[c] * scale;
        goal.low = *goal.target * (1 - band);
        goal.high = *goal.target * (1 + band);
        goal.priority = gives_way ? recipe::kGivesWayPriority : recipe::kRestPriority;
        goal.aim = aim;
        goal.origin = recipe::Origin::Rest;
        show_in_default_unit(goal, target);
        target.constituents.push_back(goal);
    }
    return {};
}

/// Goals, ratios and ceilings may name a constituent once each; a ratio's constituents must be
/// wanted.
Result<void> check_names(const Fields& root, const Target& target,
                         const std::vector<Fields>& ratio_tables) {
    for (std::size_t i = 0; i < target.ratios.size(); ++i) {
        for (const Constituent c : {target.ratios[i].numerator, target.ratios[i].denominator}) {
            const bool wanted = std::any_of(target.constituents.begin(), target.constituents.end(),
                                            [&](const ConstituentGoal& g) {
                                                return g.constituent == c && g.high.value_or(1) > 0;
                                            });
            if (!wanted) {
                return ratio_tables[i].bad(
                    "of",
                    fmt::format(
                        "{} is in the ratio but not among the constituents: name it, or say "
                        "rest = \"natural\"",
                        c.symbol()),
                    ProblemCode::UnknownName);
            }
        }
    }
    if (target.constituents.empty()) {
        return root.bad(
            "",
            "the target names no constituent: add [[constituent]] tables, or rest = \"natural\"");
    }
    return {};
}

}  // namespace

Result<Target> read_target(const Document& document) {
    BW_TRY(root, open_kind(document, "target"));
    BW_CHECK(root.allow({"format", "kind", "name", "source", "invented", "note", "salinity",
                         "salinity_low", "salinity_high", "temperature", "rest", "aim",
                         "constituent", "ratio", "ceiling", "limits", "batch", "purified_water"}));
    Target target;
    BW_TRY(name, root.required_text("name"));
    target.name = name;
    BW_TRY(source, root.text("source"));
    target.source = source.value_or("");
    BW_TRY(invented, root.flag("invented"));
    target.invented = invented.value_or(false);
    BW_TRY(temperature, root.value_in("temperature", Dimension::Temperature));
    target.temperature_degC = temperature.value_or(target.temperature_degC);
    BW_CHECK(read_salinity(root, target));
    BW_TRY(aim, aim_of(root, recipe::Aim::Target));
    BW_TRY(tables, root.tables("constituent"));
    for (const Fields& table : tables) {
        BW_TRY(goal, read_goal(table, target, aim));
        for (const ConstituentGoal& earlier : target.constituents) {
            if (earlier.constituent == goal.constituent) {
                return table.bad("symbol",
                                 fmt::format("{} stands twice among the constituents",
                                             goal.constituent.symbol()),
                                 ProblemCode::DuplicateName);
            }
        }
        target.constituents.push_back(goal);
    }
    BW_TRY(rest, root.text("rest"));
    if (rest && *rest != "natural") {
        return root.bad("rest",
                        fmt::format("{} is not known: write rest = \"natural\", or leave it out",
                                    base::quoted(*rest)));
    }
    if (rest) {
        BW_CHECK(fill_rest(target, aim));
    }
    BW_TRY(ratios, root.tables("ratio"));
    for (const Fields& table : ratios) {
        BW_TRY(ratio, read_ratio(table));
        for (const recipe::RatioGoal& earlier : target.ratios) {
            if (earlier.numerator == ratio.numerator && earlier.denominator == ratio.denominator) {
                return table.bad("of", fmt::format("the ratio {} stands twice", ratio.name()),
                                 ProblemCode::DuplicateName);
            }
        }
        target.ratios.push_back(ratio);
    }
    BW_TRY(ceilings, root.tables("ceiling"));
    for (const Fields& table : ceilings) {
        BW_TRY(ceiling, read_ceiling(table, target));
        for (const recipe::Ceiling& earlier : target.ceilings) {
            if (earlier.constituent == ceiling.constituent) {
                return table.bad(
                    "symbol",
                    fmt::format("{} stands twice among the ceilings", ceiling.constituent.symbol()),
                    ProblemCode::DuplicateName);
            }
        }
        target.ceilings.push_back(ceiling);
    }
    BW_TRY(purified, read_purified_water(root, target.temperature_degC));
    target.purified_water = purified;
    BW_CHECK(read_limits(root, target));
    BW_CHECK(check_names(root, target, ratios));
    return target;
}

}  // namespace bw::io
