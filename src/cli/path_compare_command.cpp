// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// path compare: options, text, JSON and comma-separated text.
#include "cli/path_compare_command.hpp"

#include <algorithm>
#include <cstdio>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/measured.hpp"
#include "cli/progress.hpp"
#include "cli/table.hpp"
#include "io/sheet.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using service::PathComparison;
using service::WayResult;
using unit::Dimension;

constexpr double kMicroPerAtm = 1e6;

std::string digits(double value, int n) { return base::format_significant(value, n); }

std::string small(double omega) {
    constexpr double kLeast = 0.01;
    return omega < kLeast ? "< 0.01" : digits(omega, 2);
}

std::string safe_words(const WayResult& w) {
    constexpr double kWhileMixing = 24;  // h; a longer safe time is not why it clouds
    return !w.run                                                           ? "not reached"
           : w.risk == path::Risk::WillCloud && w.safe.hours > kWhileMixing ? "solids while mixing"
           : w.safe.over_a_year
               ? "over a year"
               : fmt::format("{}, x/\u00F7 {:g}{}", path::hours_in_words(w.safe.hours),
                             w.safe.factor, w.safe.in_evidence ? "" : " *");
}

TextTable ways(const std::string& what) {
    return TextTable({{{what}, Align::Left},
                      {{"verdict"}, Align::Left},
                      {{"safe time"}, Align::Left},
                      {{"Omega", "aragonite", "peak"}, Align::Decimal},
                      {{"Omega", "aragonite", "at the end"}, Align::Decimal},
                      {{"worst solid", "while mixing"}, Align::Left},
                      {{"its", "peak"}, Align::Decimal},
                      {{"score", "h"}, Align::Decimal}});
}

void add(TextTable& table, const WayResult& w) {
    if (!w.run) {
        table.add({w.name, "-", "not reached", "-", "-", "-", "", "-"});
        return;
    }
    const bool scored = w.score_h > 0;
    table.add({w.name, std::string(path::name(w.risk)), safe_words(w), digits(w.peak_aragonite, 2),
               digits(w.omega_at_end, 2), scored ? w.worst_solid : "none",
               scored ? digits(w.worst_peak, 2) : "", digits(w.score_h, 2)});
}

std::string onto_salt(const PathComparison& c) {
    TextTable table = ways("way in");
    add(table, c.salt_into_water);
    add(table, c.water_onto_salt);
    std::string out = "\nSalt into water, and water onto salt\n" + table.text();
    TextTable brines({{{"kg water", "per kg salt"}, Align::Decimal},
                      {{"Omega", "aragonite"}, Align::Decimal},
                      {{"Omega", "gypsum"}, Align::Decimal},
                      {{"Omega", "celestite"}, Align::Decimal},
                      {{"CO2", "uatm"}, Align::Decimal}});
    constexpr std::size_t kEach = 6;
    bool beyond = false;
    for (std::size_t i = 0; i < c.pile.size(); ++i) {
        const service::PileRow& row = c.pile[i];
        beyond = beyond || !row.in_model;
        if (!row.in_model || (c.pile.size() - 1 - i) % kEach != 0) {
            continue;
        }
        brines.add({digits(row.kg_water_per_kg_salt, 3), digits(row.omega_aragonite, 2),
                    digits(row.omega_gypsum, 2), digits(row.omega_celestite, 2),
                    digits(row.fugacity_co2_atm * kMicroPerAtm, 2)});
    }
    out += "\n  The brine between the grains while water comes onto them\n" + brines.text();
    return out + (beyond ? wrapped("  ",
                                   "Stronger brines than these, next to the dry salt, are "
                                   "beyond the model: worse than the first row.")
                         : "");
}

std::string concentrates(const PathComparison& c) {
    TextTable table({{{"poured together"}, Align::Left},
                     {{"times the", "vat's strength"}, Align::Decimal},
                     {{"Omega", "aragonite"}, Align::Decimal},
                     {{"CaCO3 of itself", "after"}, Align::Left},
                     {{"Omega", "gypsum"}, Align::Decimal},
                     {{"Omega", "brucite"}, Align::Decimal}});
    for (const service::Concentrate& k : c.concentrates) {
        if (!k.omega_aragonite) {
            table.add({k.name, base::format_exact(k.strength), "beyond the model", "", "", ""});
            continue;
        }
        constexpr double kMinutesPerHour = 60;
        table.add({k.name, base::format_exact(k.strength), digits(*k.omega_aragonite, 2),
                   k.minutes_to_onset ? path::hours_in_words(*k.minutes_to_onset / kMinutesPerHour)
                                      : "never",
                   small(k.gypsum), small(k.brucite)});
    }
    return "\nCarriers of calcium, magnesium and alkalinity in little water, without the other "
           "salts\n" +
           table.text();
}

std::string seeds(const PathComparison& c) {
    std::vector<Column> columns{{{"dust of CaCO3", "mg/kg water"}, Align::Decimal}};
    for (const double t : service::kComparedTemperatures) {
        columns.push_back({{"safe time at", fmt::format("{:g} \u00B0C", t)}, Align::Left});
    }
    TextTable table(columns);
    const std::size_t order = 0;
    for (const double seed : service::kComparedSeeds) {
        std::vector<std::string> cells{base::format_exact(seed)};
        for (const service::GridCell& g : c.grid) {
            if (g.order == order && g.seed_mg_per_kg == seed) {
                cells.push_back(safe_words(g.result));
            }
        }
        table.add(std::move(cells));
    }
    return "\nDust of CaCO3 in the bag, all at once\n" + table.text();
}

/// What the tables say, in sentences.
std::vector<std::string> findings(const PathComparison& c) {
    std::vector<std::string> out;
    const WayResult& in = c.salt_into_water;
    const WayResult& onto = c.water_onto_salt;
    double gypsum = 0;
    for (const service::PileRow& row : c.pile) {
        gypsum = std::max(gypsum, row.omega_gypsum);
    }
    constexpr double kMore = 1.1;  // times, the trust in Omega
    const bool worse = onto.peak_aragonite > kMore * in.peak_aragonite || gypsum > 1 ||
                       onto.worst_peak > kMore * in.worst_peak || onto.risk > in.risk;
    out.push_back(
        worse ? fmt::format("Salt into water: Omega of aragonite goes to {} at most while "
                            "mixing. Water onto salt passes through brines with {} for "
                            "aragonite and {} for gypsum.",
                            digits(in.peak_aragonite, 2), digits(onto.peak_aragonite, 2),
                            digits(gypsum, 2))
              : "Water onto salt passes through no brine that is more supersaturated, for this "
                "salt, as far as the model reaches.");
    const WayResult& best = c.orders.front();
    // Ways that could not be followed stand last and say nothing.
    const auto followed = static_cast<std::size_t>(
        std::ranges::count_if(c.orders, [](const WayResult& w) { return w.run; }));
    const WayResult& worst = c.orders[std::max<std::size_t>(followed, 1) - 1];
    const std::string alike =
        c.orders_alike > 1
            ? fmt::format("{} of the {} orders are as good as one another, {} among them.",
                          c.orders_alike, c.orders.size(), best.name)
            : fmt::format("The best order is: {}.", best.name);
    out.push_back(c.orders_alike < followed
                      ? fmt::format("{} The worst is: {}, with Omega of aragonite up to {} on the "
                                    "way.",
                                    alike, worst.name, digits(worst.peak_aragonite, 2))
                      : "The order of additions decides nothing for this salt.");
    constexpr double kDust = 1;     // mg/kg
    constexpr double kAtRoom = 25;  // degC
    for (const service::GridCell& g : c.grid) {
        if (c.plan.seed_mg_per_kg == 0 && g.order == 0 && g.celsius == kAtRoom &&
            g.seed_mg_per_kg == kDust) {
            out.push_back(
                fmt::format("All this is without dust of CaCO3. With {:g} mg per kg of water, as "
                            "from a bag that got wet, the vat is good for {} at {:g} \u00B0C.",
                            kDust, safe_words(g.result), kAtRoom));
        }
    }
    const WayResult& cool = c.cool_then_warm;
    const WayResult& warm = c.warm_from_start;
    out.push_back(
        !cool.run || !warm.run
            ? fmt::format("A tank at {:g} \u00B0C could not be followed.", c.warm_celsius)
        : cool.safe.hours > warm.safe.hours || cool.score_h < warm.score_h
            ? fmt::format("For a tank at {:g} \u00B0C: mixed cool and heated afterwards Omega of "
                          "aragonite goes to {} while mixing and the vat is good for {}; mixed "
                          "warm, to {} and {}.",
                          c.warm_celsius, digits(cool.peak_aragonite, 2), safe_words(cool),
                          digits(warm.peak_aragonite, 2), safe_words(warm))
            : fmt::format("For a tank at {:g} \u00B0C mixing cool first gains nothing.",
                          c.warm_celsius));
    if (c.neutral_carbonate_share) {
        out.push_back(fmt::format(
            "In balance with the air as soon as it is mixed, its pH at rest: {} % of the "
            "carriers' alkalinity as carbonate, the rest as hydrogencarbonate.",
            digits(*c.neutral_carbonate_share * unit::kPercent, 2)));
    }
    return out;
}

Json json_of(const WayResult& w) {
    return {{"name", w.name},
            {"reached", w.run},
            {"risk", path::name(w.risk)},
            {"safe_h", w.safe.hours},
            {"factor", w.safe.factor},
            {"over_a_year", w.safe.over_a_year},
            {"in_evidence", w.safe.in_evidence},
            {"peak_omega_aragonite", w.peak_aragonite},
            {"end_omega_aragonite", w.omega_at_end},
            {"worst_solid", w.worst_solid},
            {"worst_peak_omega", w.worst_peak},
            {"score_h", w.score_h}};
}

Json json_of(const std::vector<WayResult>& ways) {
    Json out = Json::array();
    for (const WayResult& w : ways) {
        out.push_back(json_of(w));
    }
    return out;
}

std::string order_name(const PathComparison& c, std::size_t order) {
    return path::usual_orders(c.plan.parts, c.step_h)[order].name;
}

io::Sheet grid_sheet(const PathComparison& c) {
    io::Sheet sheet{"vats",
                    {"order", "temperature degC", "seed mg/kg water", "verdict", "safe time h",
                     "factor", "peak Omega aragonite", "Omega aragonite at the end", "score h"},
                    {}};
    for (const service::GridCell& g : c.grid) {
        sheet.rows.push_back({g.result.name, g.celsius, g.seed_mg_per_kg,
                              std::string(path::name(g.result.risk)), g.result.safe.hours,
                              g.result.safe.factor, g.result.peak_aragonite, g.result.omega_at_end,
                              g.result.score_h});
    }
    return sheet;
}

/// Whether a time with a star stands in the tables.
bool unseen(const PathComparison& c) {
    const auto starred = [](const WayResult& w) {
        return w.run && !w.safe.over_a_year && !w.safe.in_evidence;
    };
    return starred(c.salt_into_water) || starred(c.cool_then_warm) || starred(c.warm_from_start) ||
           starred(c.open) || starred(c.closed) || std::ranges::any_of(c.orders, starred) ||
           std::ranges::any_of(c.temperatures, starred) ||
           std::ranges::any_of(c.carbonate, starred) ||
           std::ranges::any_of(c.grid, starred, &service::GridCell::result);
}

std::string text_of(const PathComparison& c) {
    std::string out =
        fmt::format("{}{}: ways of making the vat\n", c.recipe, c.invented ? " (invented)" : "");
    out += dashes(findings(c));
    out += fmt::format(
        "\n  vat held at {} \u00B0C, air {:.5g} uatm of CO2, gas exchange {} per hour, dust of "
        "CaCO3 {} mg/kg; it has to keep {}\n",
        base::format_exact(c.plan.start_celsius), c.air_pressure_atm * kMicroPerAtm,
        digits(c.plan.kla_per_h, 2), digits(c.plan.seed_mg_per_kg, 3),
        path::hours_in_words(c.keep_h));
    out += onto_salt(c);
    TextTable orders = ways("order, best first");
    for (const WayResult& w : c.orders) {
        add(orders, w);
    }
    out += fmt::format("\nOrders of addition, {} between two, into the whole of the water\n",
                       path::hours_in_words(c.step_h)) +
           orders.text() +
           wrapped("  ", "Score: the largest product, over the mixing and " +
                             path::hours_in_words(c.step_h) +
                             " after it, of ln(Omega / critical) and the time at that Omega or "
                             "above; critical is 5 for aragonite, 1 for other solids.");
    TextTable temperatures = ways("temperature");
    for (const WayResult& w : c.temperatures) {
        add(temperatures, w);
    }
    temperatures.add_rule();
    add(temperatures, c.cool_then_warm);
    add(temperatures, c.warm_from_start);
    out += "\nTemperatures\n" + temperatures.text();
    TextTable air = ways("vat");
    add(air, c.open);
    add(air, c.closed);
    out += "\nOpen and closed\n" + air.text();
    if (!c.carbonate.empty()) {
        TextTable carbonate = ways("alkalinity as");
        for (const WayResult& w : c.carbonate) {
            add(carbonate, w);
        }
        out += "\nHydrogencarbonate or carbonate, all at once\n" + carbonate.text();
    }
    out += seeds(c);
    if (unseen(c)) {
        out += "  * outside what experiments saw.\n";
    }
    out += concentrates(c);
    return out + "\nTo know\n" + dashes(c.notices);
}

std::string comparison_json(const PathComparison& c) {
    Json out = {
        {"version", 1}, {"recipe", c.recipe}, {"invented", c.invented}, {"findings", findings(c)}};
    out["salt_into_water"] = json_of(c.salt_into_water);
    out["water_onto_salt"] = json_of(c.water_onto_salt);
    out["pile"] = Json::array();
    for (const service::PileRow& row : c.pile) {
        Json brine = {{"kg_water_per_kg_salt", row.kg_water_per_kg_salt},
                      {"in_model", row.in_model}};
        if (row.in_model) {
            brine["omega_aragonite"] = row.omega_aragonite;
            brine["omega_gypsum"] = row.omega_gypsum;
            brine["omega_celestite"] = row.omega_celestite;
            brine["fugacity_co2_atm"] = row.fugacity_co2_atm;
        }
        out["pile"].push_back(std::move(brine));
    }
    out["orders"] = json_of(c.orders);
    out["temperatures"] = json_of(c.temperatures);
    out["cool_then_warm"] = json_of(c.cool_then_warm);
    out["warm_from_start"] = json_of(c.warm_from_start);
    out["open"] = json_of(c.open);
    out["closed"] = json_of(c.closed);
    out["carbonate"] = json_of(c.carbonate);
    out["neutral_carbonate_share"] =
        c.neutral_carbonate_share ? Json(*c.neutral_carbonate_share) : Json(nullptr);
    out["concentrates"] = Json::array();
    for (const service::Concentrate& k : c.concentrates) {
        out["concentrates"].push_back(
            {{"parts", k.name},
             {"strength", k.strength},
             {"omega_aragonite", k.omega_aragonite ? Json(*k.omega_aragonite) : Json(nullptr)},
             {"minutes_to_onset", k.minutes_to_onset ? Json(*k.minutes_to_onset) : Json(nullptr)},
             {"omega_gypsum", k.gypsum},
             {"omega_brucite", k.brucite}});
    }
    out["vats"] = Json::array();
    for (const service::GridCell& g : c.grid) {
        Json vat = json_of(g.result);
        vat["order"] = order_name(c, g.order);
        vat["celsius"] = g.celsius;
        vat["seed_mg_per_kg"] = g.seed_mg_per_kg;
        out["vats"].push_back(std::move(vat));
    }
    out["notices"] = sentences_of(c.notices);
    return json_text(out);
}

Result<service::PathCompareRequest> request_of(const PathCompareArguments& a) {
    service::PathCompareRequest out;
    BW_TRY(run, request_of(a.vat));
    out.run = std::move(run);
    BW_TRY(step, parse_plain("--step", a.step, {Dimension::Time}));
    BW_TRY(pour, parse_plain("--pour", a.pour, {Dimension::Time}));
    BW_TRY(tank, parse_celsius("--tank", a.tank));
    constexpr double kColdest = 5;
    constexpr double kWarmest = 40;
    if (!(tank.value() >= kColdest && tank.value() <= kWarmest)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the tank's temperature is {:g} degC, but {:g} to {:g} is allowed",
                                tank.value(), kColdest, kWarmest),
                    {"", 0, "--tank"});
    }
    if (!(step > 0 && step * 3 <= out.run.conditions.hours)) {
        return fail(ProblemCode::OutOfRange,
                    "three steps between additions have to fit into --hours, and a step is above 0",
                    {"", 0, "--step"});
    }
    constexpr double kLongestPour = 24;
    if (!(pour > 0 && pour <= kLongestPour)) {
        return fail(ProblemCode::OutOfRange, "water is poured in between 0 and 24 h",
                    {"", 0, "--pour"});
    }
    out.step_h = step;
    out.pour_h = pour;
    out.warm_celsius = tank.value();
    return out;
}

}  // namespace

Command add_path_compare(Command path, PathCompareArguments& a) {
    const Command compare = path.add_subcommand(
        "compare", "Ways of making the vat side by side: order, temperature, dust, air, carbonate");
    add_vat_arguments(compare, a.vat);
    compare.add_option("--step", a.step, "Time between two additions").capture_default_str();
    compare.add_option("--pour", a.pour, "Time in which water comes onto the salt")
        .capture_default_str();
    compare.add_option("--tank", a.tank, "Temperature of the tank that the water is for")
        .capture_default_str();
    compare
        .add_option("--csv", a.csv,
                    "Write every vat (8 orders, 4 temperatures, 5 doses of dust) as "
                    "comma-separated text")
        .check(named);
    add_output_flags(compare, a.json, a.quiet, true);
    compare.footer(
        "Example:\n  brinewright path compare raised-recipe.toml --materials "
        "examples/works/materials.toml\n\n"
        "Exit codes: 0 done; 2 bad input; 3 a file could not be written.");
    return compare;
}

int path_compare(const PathCompareArguments& a, const Streams& streams) {
    auto request = request_of(a);
    if (!request) {
        return complain_of(request.error(), streams);
    }
    Progress progress(streams, !a.quiet, "vats");
    request->progress = [&](double share) { return progress.tell(share); };
    const auto compared = service::path_compare(*request);
    if (!compared) {
        return complain_of(as_option(compared.error()), streams);
    }
    if (!a.csv.empty()) {
        if (const auto written = write_files(
                {{"--csv", a.csv, io::delimited(grid_sheet(*compared))}}, files_of(a.vat));
            !written) {
            return complain_of(written.error(), streams);
        }
    }
    if (a.json) {
        put(comparison_json(*compared), streams);
    } else if (!a.quiet) {
        put(text_of(*compared), streams);
    }
    return 0;
}

}  // namespace bw::cli
