// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// blend dry as text and as JSON.
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/blend_command.hpp"
#include "cli/json_values.inl"
#include "cli/table.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using blend::DryBag;
using blend::Humidity;

constexpr double kAirMbar = 0.42;
constexpr std::size_t kWidth = 98;

std::string places(double value, int n) { return base::format_places(value, n); }

/// "72.2", or "15.6 to 21.5".
std::string range(const Humidity& h) {
    return h.high - h.low < 0.05 ? places(h.low, 1) : places(h.low, 1) + " to " + places(h.high, 1);
}

std::string known(const Humidity& h) { return fmt::format("{}, {}", h.mark, h.source); }

std::string head(const service::DryBlendReport& r) {
    const DryBag& b = r.bag;
    std::string out = fmt::format("{}: {}\n", r.recipe, blend::name(b.verdict));
    for (const std::string& line : base::wrap(b.reason, kWidth)) {
        out += "  " + line + "\n";
    }
    out += fmt::format("\nbag of {} kg at {} degC", base::format_exact(b.conditions.bag_kg),
                       base::format_exact(b.conditions.temperature.value()));
    if (b.conditions.room_humidity_percent) {
        out += fmt::format(", blended at {} % humidity",
                           base::format_exact(*b.conditions.room_humidity_percent));
    }
    if (r.invented) {
        out += "; the recipe is invented";
    }
    return out + "\n";
}

std::string humidities(const DryBag& b) {
    TextTable table({{{"wet above, % humidity"}, Align::Left},
                     {{""}, Align::Left},
                     {{"known from"}, Align::Left}});
    for (const auto& p : b.humidities.pairs) {
        table.add({p.first + " with " + p.second, range(p.humidity), known(p.humidity)});
    }
    if (b.humidities.at_rest) {
        std::vector<std::string> solids;
        for (const blend::FilmSolid& s : b.humidities.at_rest->solids) {
            solids.emplace_back(s.name);
        }
        table.add({"at rest: " + base::join_words(solids),
                   places(b.humidities.at_rest->water_activity * unit::kPercent, 1),
                   "model, appelo-2015"});
    }
    table.add_rule();
    for (const auto& s : b.humidities.singles) {
        table.add({s.formula + " alone", range(s.humidity), known(s.humidity)});
    }
    return "\nHumidity at which it grows wet\n" + table.text();
}

std::string water(const DryBag& b) {
    const blend::BlendWater& w = b.water;
    Sheet sheet;
    sheet.add("loose water", w.loose, 2, "g/kg");
    sheet.add("given by hydrates, soon", w.released, 2, "g/kg");
    sheet.add("through the film", w.ingress, 2, "g/kg");
    sheet.add("bound by dry salts", -w.capacity, 2, "g/kg");
    sheet.add("left for a brine, soon", w.left(), 2, "g/kg");
    sheet.add("given by hydrates in weeks", w.released_slowly, 2, "g/kg");
    sheet.add("left for a brine, in the end", w.left_in_the_end(), 2, "g/kg");
    std::string out = "\nWater, per kg of blend\n" + sheet.text();
    TextTable table({{{"salt"}, Align::Left},
                     {{"H2O, now to then"}, Align::Left},
                     {{"g/kg"}, Align::Decimal},
                     {{"step at, % humidity"}, Align::Left},
                     {{"known from"}, Align::Left}});
    const auto add = [&](const blend::WaterLine& l, bool gives) {
        table.add({fmt::format("{} {}", l.formula, gives ? "gives" : "takes"),
                   fmt::format("{} to {}", places(l.from_waters, 1), places(l.to_waters, 1)),
                   places(l.g_per_kg, 2), range(l.step) + (l.slow ? ", slow" : ""), known(l.step)});
    };
    for (const auto& l : w.givers) {
        add(l, true);
    }
    for (const auto& l : w.takers) {
        add(l, false);
    }
    return w.givers.empty() && w.takers.empty() ? out : out + "\n" + table.text();
}

/// One line per salt that gives water, with all that it wets.
std::string wettings(const DryBag& b) {
    std::string out;
    for (std::size_t i = 0; i < b.wettings.size(); ++i) {
        const blend::Wetting& first = b.wettings[i];
        if (i > 0 && b.wettings[i - 1].giver == first.giver) {
            continue;
        }
        std::vector<std::string> takers;
        for (const blend::Wetting& w : b.wettings) {
            if (w.giver == first.giver) {
                takers.push_back(fmt::format("{} ({} %)", w.taker, range(w.wet_above)));
            }
        }
        out += wrapped("  - ",
                       fmt::format("{} gives water below {} % humidity ({}). With no water from "
                                   "outside it wets what is wet there already: {}.",
                                   first.giver, range(first.gives_below), known(first.gives_below),
                                   base::join_words(takers)));
    }
    if (!b.humidities.pairs.empty()) {
        const blend::PairHumidity& lowest = b.humidities.pairs.front();
        out += wrapped(
            "  - ", fmt::format("{} and {} where they touch are wet above {} %, below what either "
                                "needs alone.",
                                lowest.first, lowest.second, range(lowest.humidity)));
    }
    return out.empty() ? out : "\nWhich wet one another\n" + out;
}

std::string reactions(const DryBag& b) {
    std::string out;
    if (!b.losses.empty()) {
        TextTable table({{{"carbonates", "lost, %"}, Align::Decimal},
                         {{"CO2 in bag", "L"}, Align::Decimal},
                         {{"CaCO3", "g"}, Align::Decimal},
                         {{"seed in water", "mg/kg"}, Align::Decimal},
                         {{"alkalinity lost", "meq/kg"}, Align::Decimal}});
        for (const blend::CarbonateLoss& l : b.losses) {
            table.add({base::format_exact(l.loss * unit::kPercent), places(l.co2_L, 3),
                       places(l.calcium_carbonate_g, 3), places(l.seed_mg_per_kg_water, 3),
                       places(l.alkalinity_lost_mmol_per_kg_water, 4)});
        }
        out += fmt::format(
                   "\nIf it gets wet: 2 NaHCO3 + CaCl2 -> CaCO3 + 2 NaCl + CO2 + H2O and Na2CO3 + "
                   "CaCl2 -> CaCO3 + 2 NaCl\n"
                   "in a bag with {} mol of hydrogencarbonate and {} of carbonate, which makes {} "
                   "kg of water\n",
                   places(b.contents.bicarbonate_mol, 2), places(b.contents.carbonate_mol, 2),
                   places(b.contents.finished_kg, 0)) +
               table.text();
    }
    if (b.gypsum) {
        out += wrapped(
            "  - ",
            fmt::format("Calcium and sulfate: each per cent that meets makes {} g of gypsum "
                        "in the bag, {} mg per kg of water.",
                        places(b.gypsum->gypsum_g, 1), places(b.gypsum->mg_per_kg_water, 1)));
    }
    if (b.co2_pressure_mbar) {
        out += wrapped(
            "  - ",
            fmt::format("Hydrogencarbonate alone is in balance with {} mbar of CO2 at {} degC and "
                        "10 mbar of "
                        "water vapour; air has 0.42 mbar, so it {} (computed, extended-uniquac).",
                        base::format_significant(*b.co2_pressure_mbar, 2),
                        base::format_exact(b.conditions.temperature.value()),
                        *b.co2_pressure_mbar < kAirMbar ? "keeps in air"
                                                        : "turns to carbonate in moving air"));
    }
    return out;
}

Json json_of(const Humidity& h) {
    return {
        {"low_percent", h.low}, {"high_percent", h.high}, {"mark", h.mark}, {"source", h.source}};
}

Json json_of(const std::vector<blend::WaterLine>& lines) {
    Json out = Json::array();
    for (const auto& l : lines) {
        out.push_back({{"salt", l.formula},
                       {"from_waters", l.from_waters},
                       {"to_waters", l.to_waters},
                       {"g_per_kg_blend", l.g_per_kg},
                       {"slow", l.slow},
                       {"step_humidity", json_of(l.step)}});
    }
    return out;
}

Json humidities_json(const DryBag& b) {
    Json out = {{"lowest", json_of(b.humidities.lowest)}, {"lowest_of", b.humidities.lowest_of}};
    out["pairs"] = Json::array();
    for (const auto& p : b.humidities.pairs) {
        Json row = {{"salts", {p.first, p.second}}, {"humidity", json_of(p.humidity)}};
        row["ionic_strength_mol_per_kg_water"] = p.ionic_strength_mol_per_kg_water
                                                     ? Json(*p.ionic_strength_mol_per_kg_water)
                                                     : Json(nullptr);
        out["pairs"].push_back(std::move(row));
    }
    out["singles"] = Json::array();
    for (const auto& s : b.humidities.singles) {
        out["singles"].push_back({{"salt", s.formula}, {"humidity", json_of(s.humidity)}});
    }
    out["at_rest"] = nullptr;
    if (b.humidities.at_rest) {
        Json solids = Json::array();
        for (const blend::FilmSolid& s : b.humidities.at_rest->solids) {
            solids.push_back(s.name);
        }
        out["at_rest"] = {
            {"humidity_percent", b.humidities.at_rest->water_activity * unit::kPercent},
            {"solids", std::move(solids)}};
    }
    return out;
}

Json reactions_json(const DryBag& b) {
    Json out;
    out["hydrogencarbonate_mol"] = b.contents.bicarbonate_mol;
    out["carbonate_mol"] = b.contents.carbonate_mol;
    out["calcium_mol"] = b.contents.calcium_mol;
    out["sulfate_mol"] = b.contents.sulfate_mol;
    out["finished_water_kg"] = b.contents.finished_kg;
    out["losses"] = Json::array();
    for (const auto& l : b.losses) {
        out["losses"].push_back(
            {{"loss_percent", l.loss * unit::kPercent},
             {"co2_L", l.co2_L},
             {"calcium_carbonate_g", l.calcium_carbonate_g},
             {"seed_mg_per_kg_water", l.seed_mg_per_kg_water},
             {"alkalinity_lost_meq_per_kg_water", l.alkalinity_lost_mmol_per_kg_water},
             {"calcium_lost_mmol_per_kg_water", l.calcium_lost_mmol_per_kg_water}});
    }
    out["gypsum_per_percent"] = nullptr;
    if (b.gypsum) {
        out["gypsum_per_percent"] = {{"g", b.gypsum->gypsum_g},
                                     {"mg_per_kg_water", b.gypsum->mg_per_kg_water}};
    }
    out["co2_pressure_mbar"] = b.co2_pressure_mbar ? Json(*b.co2_pressure_mbar) : Json(nullptr);
    return out;
}

}  // namespace

std::string dry_text(const service::DryBlendReport& r) {
    const DryBag& b = r.bag;
    std::string out = head(r) + humidities(b) + water(b) + wettings(b) + reactions(b);
    out += "\nWhat to do\n";
    for (const blend::Advice& a : b.advice) {
        out += wrapped("  - ", fmt::format("{} [{}]", a.text, a.basis));
    }
    out += "\nTo know\n";
    out += dashes(b.notices);
    return out;
}

std::string dry_json(const service::DryBlendReport& r) {
    const DryBag& b = r.bag;
    Json out = {{"version", 1},
                {"recipe", r.recipe},
                {"verdict", blend::name(b.verdict)},
                {"stays_dry", b.verdict != blend::DryVerdict::GetsWet},
                {"reason", b.reason},
                {"temperature_degC", b.conditions.temperature.value()},
                {"bag_kg", b.conditions.bag_kg},
                {"days", b.conditions.days}};
    out["room_humidity_percent"] = b.conditions.room_humidity_percent
                                       ? Json(*b.conditions.room_humidity_percent)
                                       : Json(nullptr);
    out["humidity"] = humidities_json(b);
    const blend::BlendWater& w = b.water;
    out["water"] = {{"loose_g_per_kg_blend", w.loose},
                    {"released_g_per_kg_blend", w.released},
                    {"released_slowly_g_per_kg_blend", w.released_slowly},
                    {"ingress_g_per_kg_blend", w.ingress},
                    {"capacity_g_per_kg_blend", w.capacity},
                    {"left_g_per_kg_blend", w.left()},
                    {"givers", json_of(w.givers)},
                    {"takers", json_of(w.takers)}};
    out["wettings"] = Json::array();
    for (const auto& x : b.wettings) {
        out["wettings"].push_back({{"giver", x.giver},
                                   {"taker", x.taker},
                                   {"gives_below", json_of(x.gives_below)},
                                   {"wet_above", json_of(x.wet_above)}});
    }
    out["reactions"] = reactions_json(b);
    out["advice"] = Json::array();
    for (const auto& a : b.advice) {
        out["advice"].push_back({{"text", a.text}, {"basis", a.basis}});
    }
    out["notices"] = Json::array();
    for (const auto& n : b.notices) {
        out["notices"].push_back(n.text);
    }
    return json_text(out);
}

}  // namespace bw::cli
