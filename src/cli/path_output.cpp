// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// path run as text, as JSON and as comma-separated text.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/path_command.hpp"
#include "cli/table.hpp"
#include "io/sheet.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using path::Moment;
using service::PathReport;

constexpr double kMicroPerAtm = 1e6;
constexpr double kMinutesPerHour = 60;
constexpr double kSecondsPerHour = 3600;

std::string places(double value, int n) { return base::format_places(value, n); }
std::string digits(double value, int n) { return base::format_significant(value, n); }

double omega_of(const Moment& m, std::string_view key) {
    return std::exp(m.water.ln_omega[ref::mineral_place(key)]);
}

/// "10 s", "30 min", "1.5 h".
std::string time_words(double h) {
    const double s = std::round(h * kSecondsPerHour);
    return s < kMinutesPerHour   ? fmt::format("{:g} s", s)
           : s < kSecondsPerHour ? fmt::format("{:.3g} min", s / kMinutesPerHour)
                                 : fmt::format("{:.4g} h", h);
}

constexpr std::string_view kUnseen = "outside what experiments saw";

/// "14 days, x/\u00F7 5"
std::string safe_words(const path::SafeTime& safe) {
    return safe.over_a_year
               ? std::string("over a year")
               : fmt::format("{}, x/\u00F7 {:g}", path::hours_in_words(safe.hours), safe.factor);
}

std::string within_words(const path::SafeTime& safe) {
    return safe.use_within_h < path::kHoursPerYear ? path::hours_in_words(safe.use_within_h)
                                                   : "over a year";
}

std::string head(const PathReport& r) {
    const bool dust_decides = r.with_dust && r.with_dust->risk > r.verdict.risk;
    std::string out = fmt::format(
        "{}{}: {}{}\n", r.recipe, r.invented ? " (invented)" : "", path::name(r.verdict.risk),
        dust_decides ? fmt::format(" as long as the bag brings no dust of CaCO3, else {}",
                                   path::name(r.with_dust->risk))
                     : "");
    for (const std::string& reason : r.verdict.reasons) {
        out += wrapped("  ", reason);
    }
    const path::SafeTime& safe = r.verdict.safe;
    TextTable rows({{{""}, Align::Left}, {{""}, Align::Left}});
    rows.add(
        {"safe time", safe_words(safe) + (safe.in_evidence ? "" : fmt::format(", {}", kUnseen))});
    rows.add({"use within", r.verdict.time_counts
                                ? within_words(safe)
                                : fmt::format("do not count on a time: {} before",
                                              base::join_words(r.verdict.other_solids))});
    rows.add({"it has to keep", path::hours_in_words(r.keep_h)});
    if (r.with_dust) {
        double salt = 0;
        for (const path::Part& part : r.plan.parts) {
            salt += part.kg_per_kg_water;
        }
        constexpr double kSeed = PathReport::kTrialSeed_mg_per_kg;
        rows.add({"with dust of CaCO3",
                  fmt::format("{}, use within {}, where the bag holds {} mg per kg of blend",
                              safe_words(r.with_dust->safe), within_words(r.with_dust->safe),
                              digits(kSeed / salt, 2))});
    }
    if (r.bag) {
        rows.add({"its bag", fmt::format("{}, by blend dry{}", blend::name(*r.bag),
                                         *r.bag == blend::DryVerdict::StaysDry
                                             ? ""
                                             : ": do not rely on a vat without dust")});
    }
    return out + "\n" + rows.rows_only();
}

std::string order(const path::VatPlan& plan) {
    std::string out;
    for (const path::Addition& a : plan.additions) {
        if (a.at_h > 0 || a.dissolved_before) {
            out += fmt::format("{}{} {}{}", out.empty() ? "" : "; ", plan.parts[a.part].name,
                               a.at_h > 0 ? "after " + time_words(a.at_h) : "at the start",
                               a.dissolved_before ? ", as a solution" : "");
        }
    }
    return "salt into the whole of the water" +
           (out.empty() ? std::string(", all at once") : "; " + out);
}

std::string conditions(const PathReport& r) {
    const path::VatPlan& p = r.plan;
    double salt = 0;
    for (const path::Part& part : p.parts) {
        salt += part.kg_per_kg_water;
    }
    const double water = r.volume_L * r.finished_kg_per_L / (1 + salt);
    TextTable rows({{{""}, Align::Left}, {{""}, Align::Left}});
    rows.add({"vat", fmt::format("{} L: {} kg of purified water, {} kg of blend",
                                 base::format_exact(r.volume_L), digits(water, 5),
                                 digits(water * salt, 4))});
    std::string warmth = fmt::format("water {} \u00B0C", base::format_exact(p.start_celsius));
    if (p.drift_per_h > 0) {
        warmth +=
            fmt::format(", room {} \u00B0C, drift {} of the difference per hour",
                        base::format_exact(p.room_celsius), base::format_exact(p.drift_per_h));
    }
    if (p.heating) {
        warmth +=
            fmt::format(", from {} on heated to {} \u00B0C at {} K/h",
                        time_words(p.heating->from_h), base::format_exact(p.heating->to_celsius),
                        base::format_exact(p.heating->celsius_per_h));
    }
    rows.add({"temperature", warmth});
    rows.add({"order", order(p)});
    rows.add({"air", p.kla_per_h > 0
                         ? fmt::format("{:.5g} uatm of CO2, exchange {} per hour",
                                       r.air_pressure_atm * kMicroPerAtm, digits(p.kla_per_h, 2))
                         : std::string("closed: no exchange of CO2")});
    rows.add({"dust", fmt::format("{} mg of CaCO3 per kg of water; other particles x {}",
                                  digits(p.seed_mg_per_kg, 3), base::format_exact(p.particles))});
    rows.add({"stirring", fmt::format("{} W/kg", base::format_exact(p.stirring.power_W_per_kg))});
    return "\nThe vat\n" + rows.rows_only();
}

/// Whether a moment stands in the text: the start, round times, the end.
bool shown(const PathReport& r, std::size_t i) {
    constexpr std::array kShown{0.0, 10.0 / 3600, 1.0 / 60, 5.0 / 60, 0.25, 0.5,  1.0,
                                2.0, 4.0,         8.0,      16.0,     32.0, 64.0, 128.0};
    const double h = r.course.moments[i].h;
    return i + 1 == r.course.moments.size() ||
           std::ranges::any_of(kShown, [h](double t) { return std::abs(h - t) < 1e-9 * (1 + t); });
}

std::string course(const PathReport& r) {
    TextTable table({{{"time"}, Align::Right},
                     {{"temp.", "\u00B0C"}, Align::Decimal},
                     {{"dissolved", "%"}, Align::Decimal},
                     {{"pH", "total"}, Align::Decimal},
                     {{"CO2", "uatm"}, Align::Decimal},
                     {{"Omega", "aragonite"}, Align::Decimal},
                     {{"Omega", "gypsum"}, Align::Decimal},
                     {{"Omega", "brucite"}, Align::Decimal},
                     {{"CaCO3 fallen", "mg/kg water"}, Align::Decimal},
                     {{"alkalinity", "lost, %"}, Align::Decimal}});
    for (std::size_t i = 0; i < r.course.moments.size(); ++i) {
        const Moment& m = r.course.moments[i];
        if (!shown(r, i)) {
            continue;
        }
        if (m.water.ln_omega.empty()) {  // purified water
            table.add({time_words(m.h), places(m.celsius, 1),
                       places(m.dissolved_share * unit::kPercent, 1), "-", "-", "-", "-", "-",
                       places(m.caco3_mg, 2), places(m.alkalinity_lost_share * unit::kPercent, 2)});
            continue;
        }
        table.add({time_words(m.h), places(m.celsius, 1),
                   places(m.dissolved_share * unit::kPercent, 1), places(m.water.ph_total, 2),
                   digits(m.water.fugacity_co2_atm() * kMicroPerAtm, 3),
                   digits(m.omega_aragonite, 2), digits(omega_of(m, "gypsum"), 2),
                   digits(omega_of(m, "brucite"), 2), places(m.caco3_mg, 2),
                   places(m.alkalinity_lost_share * unit::kPercent, 2)});
    }
    std::string out = "\nIts course\n" + table.text();
    const path::Marks& k = r.course.marks;
    std::vector<std::string> marks;
    const auto mark = [&](const std::optional<double>& h, const char* what) {
        if (h) {
            marks.push_back(fmt::format("{} after {}", what, path::hours_in_words(*h)));
        }
    };
    mark(k.dissolved, "99.9 % dissolved");
    mark(k.onset, "CaCO3 of itself");
    mark(k.lost_1_percent, "1 % of alkalinity lost");
    mark(k.lost_5_percent, "5 % lost");
    out += marks.empty() ? "" : wrapped("  ", base::join_words(marks) + ".");
    if (r.losses.calcium_share > 1e-4) {
        const PathReport::Losses& lost = r.losses;
        out += wrapped(
            "  ",
            fmt::format("Lost by the end, per kg of water: {} mg of calcium ({} %), {} meq of "
                        "alkalinity ({} %), about {} % of the strontium; less than 0.1 % of "
                        "the magnesium.",
                        digits(lost.calcium_mg_per_kg_water, 2),
                        digits(lost.calcium_share * unit::kPercent, 2),
                        digits(lost.alkalinity_meq_per_kg_water, 2),
                        digits(lost.alkalinity_share * unit::kPercent, 2),
                        digits(lost.strontium_share * unit::kPercent, 2)));
    }
    return out;
}

std::string exposures(const PathReport& r) {
    constexpr double kWorthTelling = 0.2;
    constexpr std::size_t kMost = 8;
    TextTable table({{{"solid"}, Align::Left},
                     {{"Omega,", "at most"}, Align::Decimal},
                     {{"trusted", "x/\u00F7"}, Align::Decimal},
                     {{"reached", "after"}, Align::Right},
                     {{"above its", "limit for"}, Align::Right},
                     {{"it can fall"}, Align::Left}});
    constexpr std::array kFalls{"within minutes", "within hours", "within days"};
    std::size_t rows = 0;
    std::vector<path::Exposure> by_peak = r.exposures;
    std::ranges::stable_sort(by_peak, std::ranges::greater(), &path::Exposure::peak_omega);
    for (const path::Exposure& e : by_peak) {
        if (e.peak_omega < kWorthTelling || ++rows > kMost) {
            continue;
        }
        table.add({fmt::format("{}, {}", e.solid->name, e.solid->formula), digits(e.peak_omega, 2),
                   digits(e.trusted, 2), time_words(e.peak_at_h),
                   e.hours_over > 0 ? path::hours_in_words(e.hours_over) : "-",
                   kFalls[static_cast<std::size_t>(e.soon)]});
    }
    return rows == 0 ? ""
                     : "\nHow near each solid came to falling: Omega is 1 where the water is "
                       "saturated, and its "
                       "limit is 1,\nbut 5 for aragonite\n" +
                           table.text();
}

std::string temperatures(const PathReport& r) {
    TextTable table({{{"temperature,", "\u00B0C"}, Align::Left},
                     {{"verdict"}, Align::Left},
                     {{"safe time"}, Align::Left},
                     {{"use within"}, Align::Left},
                     {{"Omega aragonite", "at the end"}, Align::Decimal}});
    bool unseen = false;
    const auto add = [&](std::string where, path::Risk risk, const path::SafeTime& safe,
                         double omega, bool complete) {
        unseen = unseen || !safe.in_evidence;
        table.add({std::move(where), std::string(path::name(risk)),
                   complete ? safe_words(safe) + (safe.in_evidence ? "" : " *")
                            : "followed for " + path::hours_in_words(safe.hours),
                   within_words(safe), digits(omega, 2)});
    };
    const Moment& last = r.course.moments.back();
    add("as above, " + places(last.celsius, 1), r.verdict.risk, r.verdict.safe,
        last.omega_aragonite, r.course.complete);
    table.add_rule();
    for (const service::AtTemperature& at : r.temperatures) {
        add("held at " + base::format_exact(at.celsius), at.risk, at.safe, at.omega_aragonite,
            at.complete);
    }
    return "\nThe same vat, held at other temperatures\n" + table.text() +
           (unseen ? fmt::format("  * {}.\n", kUnseen) : "");
}

std::string limit(const PathReport& r) {
    std::string out = r.at_rest || r.limit ? "\nIf it is left for ever\n" : "";
    if (r.at_rest) {
        out +=
            wrapped("  ", fmt::format("At rest with the air, before anything falls: pH {}, Omega "
                                      "of aragonite {}.",
                                      places(r.at_rest->ph_total, 2),
                                      digits(r.at_rest->omega_aragonite, 2)));
    }
    if (!r.limit) {
        return out;
    }
    std::vector<std::string> fallen;
    for (const auto& s : r.limit->fallen) {
        fallen.push_back(fmt::format("{} mg of {}", digits(s.mg_per_kg, 3), s.solid->name));
    }
    return out +
           wrapped("  ", fallen.empty()
                             ? std::string("Nothing falls, for no solid is above saturation.")
                             : fmt::format("At equilibrium with its solids: {} fall per kg of "
                                           "water, and pH {} is left.",
                                           base::join_words(fallen), places(r.limit->ph_total, 2)));
}

Json mark(const std::optional<double>& h) { return h ? Json(*h) : Json(nullptr); }

Json moment_json(const Moment& m) {
    const bool known = !m.water.ln_omega.empty();  // purified water has no state
    const auto of_water = [known](auto value) { return known ? Json(value()) : Json(nullptr); };
    const auto omega = [&](const char* key) { return of_water([&] { return omega_of(m, key); }); };
    return {
        {"h", m.h},
        {"celsius", m.celsius},
        {"dissolved_percent", std::max(0.0, m.dissolved_share) * unit::kPercent},
        {"ph_total", of_water([&] { return m.water.ph_total; })},
        {"fugacity_co2_uatm", of_water([&] { return m.water.fugacity_co2_atm() * kMicroPerAtm; })},
        {"omega_aragonite", of_water([&] { return m.omega_aragonite; })},
        {"omega_gypsum", omega("gypsum")},
        {"omega_brucite", omega("brucite")},
        {"omega_celestite", omega("celestite")},
        {"omega_strontianite", omega("strontianite")},
        {"caco3_mg_per_kg_water", m.caco3_mg},
        {"alkalinity_lost_percent", m.alkalinity_lost_share * unit::kPercent}};
}

Json safe_json(const path::SafeTime& safe) {
    return {{"hours", safe.hours},
            {"factor", safe.factor},
            {"use_within_h", safe.use_within_h},
            {"over_a_year", safe.over_a_year},
            {"by_growth_on_seed", safe.seeded},
            {"in_evidence", safe.in_evidence}};
}

}  // namespace

std::string path_text(const PathReport& r) {
    std::string out = head(r);
    out += "\nWhat to do\n";
    for (const std::string& text : r.verdict.instructions) {
        out += wrapped("  - ", text);
    }
    out += conditions(r) + course(r) + exposures(r) + temperatures(r) + limit(r);
    out += "\nTo know\n" + dashes(r.notices);
    return out;
}

std::string path_json(const PathReport& r) {
    Json out = {{"version", 1},
                {"recipe", r.recipe},
                {"invented", r.invented},
                {"risk", path::name(r.verdict.risk)},
                {"reasons", r.verdict.reasons},
                {"safe_time", safe_json(r.verdict.safe)},
                {"use_within_h", r.verdict.safe.use_within_h},
                {"time_counts", r.verdict.time_counts},
                {"other_solids", r.verdict.other_solids},
                {"stir_h", r.verdict.stir_h},
                {"keep_h", r.keep_h},
                {"instructions", r.verdict.instructions},
                {"complete", r.course.complete},
                {"reached_h", r.course.reached_h}};
    const path::Marks& k = r.course.marks;
    out["marks_h"] = {{"dissolved", mark(k.dissolved)},
                      {"onset", mark(k.onset)},
                      {"lost_1_percent", mark(k.lost_1_percent)},
                      {"lost_5_percent", mark(k.lost_5_percent)}};
    out["gas_exchange_per_h"] = r.plan.kla_per_h;
    out["losses"] = {{"calcium_mg_per_kg_water", r.losses.calcium_mg_per_kg_water},
                     {"calcium_percent", r.losses.calcium_share * unit::kPercent},
                     {"alkalinity_meq_per_kg_water", r.losses.alkalinity_meq_per_kg_water},
                     {"alkalinity_percent", r.losses.alkalinity_share * unit::kPercent},
                     {"strontium_percent", r.losses.strontium_share * unit::kPercent}};
    out["course"] = Json::array();
    for (const Moment& m : r.course.moments) {
        out["course"].push_back(moment_json(m));
    }
    out["exposures"] = Json::array();
    for (const path::Exposure& e : r.exposures) {
        out["exposures"].push_back({{"solid", e.solid->key},
                                    {"peak_omega", e.peak_omega},
                                    {"peak_at_h", e.peak_at_h},
                                    {"trusted_within_factor", e.trusted},
                                    {"hours_over", e.hours_over},
                                    {"score_h", e.score}});
    }
    out["temperatures"] = Json::array();
    for (const service::AtTemperature& at : r.temperatures) {
        out["temperatures"].push_back({{"celsius", at.celsius},
                                       {"risk", path::name(at.risk)},
                                       {"safe_time", safe_json(at.safe)},
                                       {"omega_aragonite", at.omega_aragonite},
                                       {"complete", at.complete}});
    }
    out["temperature_words"] = r.temperature_words;
    out["with_dust"] = nullptr;
    if (r.with_dust) {
        out["with_dust"] = {{"seed_mg_per_kg_water", PathReport::kTrialSeed_mg_per_kg},
                            {"risk", path::name(r.with_dust->risk)},
                            {"safe_time", safe_json(r.with_dust->safe)}};
    }
    out["bag"] = r.bag ? Json(blend::name(*r.bag)) : Json(nullptr);
    out["undissolved_percent"] = Json::object();
    for (std::size_t p = 0; p < r.course.left.size(); ++p) {
        out["undissolved_percent"][r.plan.parts[p].name] = r.course.left[p] * unit::kPercent;
    }
    out["at_rest_with_air"] = nullptr;
    if (r.at_rest) {
        out["at_rest_with_air"] = {{"ph_total", r.at_rest->ph_total},
                                   {"omega_aragonite", r.at_rest->omega_aragonite}};
    }
    out["limit"] = nullptr;
    if (r.limit) {
        Json fallen = Json::object();
        for (const auto& s : r.limit->fallen) {
            fallen[std::string(s.solid->key)] = s.mg_per_kg;
        }
        out["limit"] = {{"ph_total", r.limit->ph_total},
                        {"omega_aragonite", r.limit->omega_aragonite},
                        {"fallen_mg_per_kg", std::move(fallen)}};
    }
    out["notices"] = sentences_of(r.notices);
    return json_text(out);
}

std::string path_csv(const PathReport& r) {
    io::Sheet sheet{"course",
                    {"h", "temperature degC", "dissolved %", "pH total", "CO2 uatm",
                     "Omega aragonite", "Omega gypsum", "Omega brucite", "Omega celestite",
                     "Omega strontianite", "CaCO3 fallen mg/kg water", "alkalinity lost %"},
                    {}};
    for (const Moment& m : r.course.moments) {
        std::vector<io::Cell> row;
        const Json values = moment_json(m);
        for (const Json& value : values) {
            if (value.is_null()) {
                row.emplace_back(std::monostate());
            } else {
                row.emplace_back(value.get<double>());
            }
        }
        sheet.rows.push_back(std::move(row));
    }
    return io::delimited(sheet);
}

}  // namespace bw::cli
