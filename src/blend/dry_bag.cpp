// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/dry_bag.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::blend {
namespace {

constexpr double kVapourBar = 0.010;  // 32 % humidity at 25 degC: a bag with magnesium chloride

Result<void> check(const BagConditions& c) {
    struct Limit {
        std::string_view field, what;
        double value, low, high;
        bool above;  ///< low itself is refused
    };
    constexpr double kMost = 1e6;
    constexpr double kMostPercent = 100;
    const Limit limits[] = {
        {"humidity", "% relative humidity", c.room_humidity_percent.value_or(0), 0, kMostPercent,
         false},
        {"bag", "kg", c.bag_kg, 0, kMost, true},
        {"days", "days", c.days, 0, kMost, false},
        {"wvtr", "g/m2/day", c.wvtr_g_per_m2_day, 0, kMost, false},
        {"area", "m2", c.area_m2, 0, kMost, false},
    };
    for (const Limit& l : limits) {
        if (!(l.value >= l.low && l.value <= l.high) || (l.above && l.value == l.low)) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("{} {} is not {} {} to {}", base::format_exact(l.value), l.what,
                                    l.above ? "above" : "from", base::format_exact(l.low),
                                    base::format_exact(l.high)),
                        {"", 0, std::string(l.field)});
        }
    }
    return {};
}

double mol(const BagSalts& salts, std::string_view dry, double times) {
    double sum = 0;
    for (const BagSalt& s : salts.salts) {
        sum += s.dry == dry ? s.mol_per_kg * times : 0;
    }
    return sum;
}

BagContents contents_of(const BagSalts& salts, const BagConditions& c) {
    BagContents out;
    out.bicarbonate_mol = mol(salts, "NaHCO3", c.bag_kg) + mol(salts, "KHCO3", c.bag_kg);
    out.carbonate_mol = mol(salts, "Na2CO3", c.bag_kg);
    out.calcium_mol = mol(salts, "CaCl2", c.bag_kg);
    for (const std::string_view sulfate : {"MgSO4", "Na2SO4", "K2SO4"}) {
        out.sulfate_mol += mol(salts, sulfate, c.bag_kg);
    }
    out.celsius = c.temperature.value();
    if (c.blend_g_per_kg_water > 0) {
        out.finished_kg = c.bag_kg * (1 + unit::kGramPerKg / c.blend_g_per_kg_water);
    }
    return out;
}

/// Water that grains hold without sticking, and water that surely makes a brine [g per kg of
/// blend]; judgements.
constexpr double kLittle = 0.5;
constexpr double kMuch = 2;

std::string grams(double value) { return base::format_significant(value, 2) + " g"; }

std::string where_from(const BlendWater& w) {
    std::string out;
    if (w.released > 0) {
        const auto most = std::max_element(
            w.givers.begin(), w.givers.end(), [](const WaterLine& a, const WaterLine& b) {
                return (a.slow ? 0 : a.g_per_kg) < (b.slow ? 0 : b.g_per_kg);
            });
        out = fmt::format("{} gives {} of its water per kg of blend", most->formula,
                          grams(w.released));
    }
    if (w.loose + w.ingress > kLittle || out.empty()) {
        out +=
            fmt::format("{}{} of water {} loose or come through the film", out.empty() ? "" : ", ",
                        grams(w.loose + w.ingress), out.empty() ? "per kg of blend are" : "are");
    }
    return out;
}

void judge(DryBag& bag) {
    const BlendWater& w = bag.water;
    const std::string lowest = base::format_places(bag.humidities.lowest.low, 0);
    if (w.left() > kLittle) {
        bag.verdict = w.left() > kMuch ? DryVerdict::GetsWet : DryVerdict::Watch;
        bag.reason = fmt::format(
            "{}, and the dry salts can bind {}. The rest makes a brine, for {} is wet above {} % "
            "humidity.",
            where_from(w), grams(w.capacity), bag.humidities.lowest_of, lowest);
    } else if (w.left_in_the_end() > kLittle) {
        bag.verdict = DryVerdict::Watch;
        bag.reason = fmt::format(
            "Its loose water is bound for now, but hydrates give {} more per kg of blend in the "
            "course of weeks, and {} is wet above {} % humidity.",
            grams(w.released_slowly), bag.humidities.lowest_of, lowest);
    } else {
        bag.reason = fmt::format(
            "The dry salts can bind {} of water per kg of blend and {} are there; keep it below {} "
            "% humidity, above which {} is wet.",
            grams(w.capacity), grams(w.loose + w.released + w.ingress), lowest,
            bag.humidities.lowest_of);
    }
}

void judge_room(DryBag& bag) {
    const auto room = bag.conditions.room_humidity_percent;
    if (!room || *room < bag.humidities.lowest.low) {
        return;
    }
    bag.reason += fmt::format(" The blending room at {} % humidity is too wet for it.",
                              base::format_exact(*room));
    if (bag.verdict == DryVerdict::StaysDry) {
        bag.verdict = DryVerdict::Watch;
    }
}

void note(DryBag& bag) {
    if (!bag.salts.no_salt.empty()) {
        bag.notices.push_back({"no_salt", fmt::format("No salt could be told in {}: not counted.",
                                                      base::join_words(bag.salts.no_salt))});
    }
    if (!bag.humidities.traces.empty()) {
        bag.notices.push_back(
            {"traces", fmt::format("Below 0.1 % of the blend and not let rule it: {}. Some draw "
                                   "water from drier air, in films too small to matter (estimate).",
                                   base::join_words(bag.humidities.traces))});
    }
    if (find_salt(bag.salts, "CaCl2") != nullptr) {
        bag.notices.push_back(
            {"calcium_published",
             "Brines of calcium chloride are beyond the model; their humidities are published "
             "ranges at 25 degC, used at every temperature."});
    }
    bag.notices.push_back(
        {"films_beyond",
         "The model's parameters are trusted in waters up to 8 mol/kg of ionic strength; films on "
         "dry salts reach 18. Humidities over single salts are met within 1 % at 25 degC."});
    bag.notices.push_back(
        {"no_rate",
         "How fast water moves and salts react in a bag is not known: losses are shown, "
         "not foretold."});
}

}  // namespace

std::string_view name(DryVerdict verdict) {
    switch (verdict) {
        case DryVerdict::StaysDry:
            return "stays dry";
        case DryVerdict::Watch:
            return "watch it";
        case DryVerdict::GetsWet:
            return "gets wet";
    }
    return "";
}

Result<DryBag> dry_bag(std::span<const BagPart> parts, const BagConditions& c) {
    DryBag out;
    auto model = FilmModel::at(c.temperature);
    if (!model) {
        Problem problem = model.error();
        problem.place.field = "temperature";
        return tl::make_unexpected(std::move(problem));
    }
    BW_CHECK(check(c));
    out.conditions = c;
    out.salts = bag_salts(parts);
    const double celsius = c.temperature.value();
    out.humidities = blend_humidities(out.salts, *model, celsius);
    if (out.humidities.lowest_of.empty()) {
        return fail(ProblemCode::BadInput,
                    "none of the blend's salts is in the table of the dry bag, so nothing can be "
                    "said: name the materials' formulas, such as \"MgCl2.6H2O\"");
    }
    const double ingress = c.wvtr_g_per_m2_day * c.area_m2 * c.days / c.bag_kg;
    out.water = blend_water(out.salts, out.humidities, ingress, celsius);
    out.wettings = wettings(out.salts, out.humidities, celsius);
    out.contents = contents_of(out.salts, c);
    if (out.contents.bicarbonate_mol + out.contents.carbonate_mol > 0 &&
        out.contents.calcium_mol > 0) {
        for (const double loss : kLosses) {
            out.losses.push_back(carbonate_loss(out.contents, loss));
        }
    }
    if (out.contents.calcium_mol > 0 && out.contents.sulfate_mol > 0) {
        constexpr double kOnePercent = 0.01;
        out.gypsum = gypsum_made(out.contents, kOnePercent);
    }
    if (out.contents.bicarbonate_mol > 0) {
        out.co2_pressure_mbar = decarbonation_pressure_bar(celsius, kVapourBar) * unit::kGramPerKg;
    }
    judge(out);
    judge_room(out);
    note(out);
    out.advice = storage_advice(out);
    return out;
}

}  // namespace bw::blend
