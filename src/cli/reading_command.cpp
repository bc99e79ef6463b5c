// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/reading_command.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/agreement.hpp"
#include "cli/answer.hpp"
#include "cli/json_values.inl"
#include "cli/reading_words.hpp"

namespace bw::cli {
namespace {

using base::format_places;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

/// What other instruments show in the water found.
struct Shown {
    std::string key, words, unit;
    int places = 0;
    double value = kNone;
};

struct ReadingReport {
    std::unique_ptr<brine::SaltLaw> law;
    std::string salt;
    std::vector<brine::Reading> readings;
    brine::Agreement found;  ///< of a salinity stated: no more than the water
    unit::Celsius temperature{25};
    std::vector<Shown> shown;
    base::Notices notices;
};

brine::Hydrometer relative(double celsius) {
    // A density meter that shows relative density: no glass.
    return {unit::Celsius(celsius), unit::Celsius(celsius), 0};
}

void show_others(ReadingReport& report) {
    using brine::Refractometer;
    const unit::Celsius t = report.temperature;
    const unit::Celsius twenty(20);
    const unit::Celsius twenty_five(25);
    const auto add = [&](std::string key, std::string words, std::string unit, int places,
                         const brine::Instrument& instrument, unit::Celsius at) {
        Shown s{std::move(key), std::move(words), std::move(unit), places, kNone};
        auto value = brine::expected_reading(*report.law, instrument, report.found.dissolved, at);
        if (value) {
            s.value = *value;
        } else if (std::none_of(report.notices.begin(), report.notices.end(), [&](const auto& n) {
                       return n.text == value.error().message + ".";
                   })) {
            report.notices.push_back({"not_known", value.error().message + "."});
        }
        report.shown.push_back(std::move(s));
    };
    add("conductivity_mS_per_cm", "conductivity at the water's temperature", "mS/cm", 2,
        brine::ConductivityMeter{}, t);
    add("conductivity_25C_mS_per_cm", "conductivity at 25 degC", "mS/cm", 2,
        brine::ConductivityMeter{}, twenty_five);
    add("sg_20_20", "relative density 20/20", "", 5, relative(twenty.value()), twenty);
    add("sg_25_25", "relative density 25/25", "", 5, relative(twenty_five.value()), twenty_five);
    add("density_kg_per_m3", "density at the water's temperature", "kg/m3", 2,
        brine::DensityMeter{}, t);
    add("refractive_index", "refractive index at 20 degC", "", 5,
        Refractometer{Refractometer::Dial::Index, true, twenty}, t);
    add("nacl_scale_ppt", "refractometer, dial for sodium chloride", "g/kg", 2, Refractometer{}, t);
    add("nacl_scale_sg_20_20", "refractometer, dial for sodium chloride 20/20", "", 5,
        Refractometer{Refractometer::Dial::NaclSpecificGravity, true, twenty}, t);
    add("hydrometer_20_20", "hydrometer 20/20 in the water as it is", "", 5, brine::Hydrometer{},
        t);
    add("hydrometer_25_25", "hydrometer 25/25 in the water as it is", "", 5,
        brine::Hydrometer{twenty_five, twenty_five}, t);
}

/// What can be right and is more often a slip.
void note_likely_slip(const brine::Reading& reading, base::Notices& out) {
    const auto* optical = std::get_if<brine::Refractometer>(&reading.instrument);
    constexpr double kLeastGravity = 0.99;
    constexpr double kMostGravity = 1.04;
    if (optical != nullptr && optical->dial == brine::Refractometer::Dial::Seawater &&
        reading.shown > kLeastGravity && reading.shown < kMostGravity) {
        out.push_back(
            {"dial_or_gravity",
             fmt::format("{} on the dial for seawater is taken for a salinity; if it is "
                         "the side with the relative density 20/20, write \"hydrometer "
                         "{}, marked 20/20, at 20 degC\".",
                         base::format_exact(reading.shown), base::format_exact(reading.shown))});
    }
    constexpr double kWeak = 0.1;  // mS/cm, a fiftieth of the weakest brackish water's
    if (std::holds_alternative<brine::ConductivityMeter>(reading.instrument) && reading.shown > 0 &&
        reading.shown < kWeak) {
        out.push_back(
            {"unit_doubtful", fmt::format("{} mS/cm is what nearly pure water shows: is the unit a "
                                          "thousand times too small (uS/cm for mS/cm)?",
                                          base::format_exact(reading.shown))});
    }
}

Result<void> take_salinity(const ReadingConvertArguments& a, ReadingReport& report) {
    BW_TRY(strength, parse_salinity("--salinity", a.salinity, *report.law));
    report.found.dissolved = strength.dissolved;
    report.found.u_g_per_kg = strength.u_g_per_kg;
    BW_TRY(salinity, report.law->practical_salinity_of(strength.dissolved));
    report.found.practical_salinity = salinity;
    return {};
}

Result<ReadingReport> report_of(const ReadingConvertArguments& a) {
    ReadingReport report;
    BW_TRY(law, law_from_options(a.salt));
    report.law = std::move(law);
    report.salt = salt_in_words(a.salt, *report.law, a.salinity.empty());
    std::optional<Measured> at;
    if (!a.at.empty()) {
        BW_TRY(t, parse_measured("--at", a.at, {unit::Dimension::Temperature}));
        at = t;
        report.temperature = unit::Celsius(t.value);
    }
    if (a.readings.empty() == a.salinity.empty()) {
        return fail(ProblemCode::BadInput,
                    a.readings.empty() ? "nothing to convert: give a reading, such as "
                                         "\"refractometer 36.4 g/kg, dial sodium-chloride\", or "
                                         "--salinity"
                                       : "readings and --salinity go the two ways: give one of "
                                         "them");
    }
    if (!a.salinity.empty()) {
        BW_CHECK(take_salinity(a, report));
    } else {
        for (const std::string& phrase : a.readings) {
            BW_TRY(reading, parse_reading(phrase, at));
            auto alone = brine::convert(*report.law, reading);
            if (!alone) {
                return in_field(base::quoted(phrase), std::move(alone).error());
            }
            note_likely_slip(reading, report.notices);
            report.readings.push_back(reading);
        }
        if (!at) {
            report.temperature = report.readings.front().temperature;
        }
        BW_TRY(found, brine::combine(*report.law, report.readings));
        report.found = std::move(found);
    }
    show_others(report);
    return report;
}

Json causes_json(const ReadingReport& r) {
    Json out = Json::array();
    for (const brine::Cause& c : r.found.causes) {
        out.push_back({{"code", c.code},
                       {"text", c.text},
                       {"reading", c.reading + 1},
                       {"reconciles", c.reconciles},
                       {"chi_square", c.chi_square},
                       {"probability", c.probability},
                       {"salinity_g_per_kg", c.dissolved.value()}});
    }
    return out;
}

Json given_json(const ReadingReport& r) {
    Json out = Json::array();
    for (std::size_t i = 0; i < r.readings.size(); ++i) {
        const brine::Converted& c = r.found.converted[i];
        out.push_back({{"instrument", brine::describe(r.readings[i].instrument)},
                       {"kind", brine::kind_of(r.readings[i].instrument)},
                       {"shown", r.readings[i].shown},
                       {"unit", brine::unit_of(r.readings[i].instrument)},
                       {"temperature_degC", r.readings[i].temperature.value()},
                       {"salinity_g_per_kg", c.dissolved.value()},
                       {"practical_salinity", c.practical_salinity.value()},
                       {"standard_uncertainty_g_per_kg", c.u_g_per_kg},
                       {"residual_g_per_kg", r.found.residual_g_per_kg[i]},
                       {"expected", r.found.expected[i]},
                       {"budget", json_budget(c.budget)}});
    }
    return out;
}

std::string json_of(const ReadingReport& r) {
    Json readings = Json::object();
    for (const Shown& s : r.shown) {
        readings[s.key] = json_number(s.value);
    }
    Json out = {{"version", 1},
                {"salt", r.law->name()},
                {"temperature_degC", r.temperature.value()},
                {"practical_salinity", r.found.practical_salinity.value()},
                {"salinity_g_per_kg", r.found.dissolved.value()},
                {"standard_uncertainty_g_per_kg", r.found.u_g_per_kg},
                {"readings", std::move(readings)}};
    if (!r.readings.empty()) {
        out["given"] = given_json(r);
    }
    if (r.readings.size() > 1) {
        out["consistent"] = r.found.consistent;
        out["chi_square"] = r.found.chi_square;
        out["degrees_of_freedom"] = r.found.degrees_of_freedom;
        out["probability"] = r.found.probability;
        out["birge_ratio"] = r.found.birge_ratio;
        out["decisive"] = r.found.decisive;
        out["causes"] = causes_json(r);
        out["odd_reading"] = r.found.odd_one ? Json(*r.found.odd_one + 1) : Json(nullptr);
        out["without"] = Json::array();
        for (const brine::WithoutOne& w : r.found.without) {
            out["without"].push_back({{"left_out", w.reading + 1},
                                      {"salinity_g_per_kg", w.dissolved.value()},
                                      {"standard_uncertainty_g_per_kg", w.u_g_per_kg},
                                      {"chi_square", w.chi_square},
                                      {"probability", w.probability},
                                      {"consistent", w.consistent}});
        }
    }
    out["notices"] = json_notices(r.notices);
    return json_text(out);
}

std::string shown_text(double value, const brine::Instrument& instrument) {
    const std::string_view unit = brine::unit_of(instrument);
    return format_places(value, places_shown(instrument)) + (unit.empty() ? "" : " ") +
           std::string(unit);
}

std::string readings_table(const ReadingReport& r) {
    TextTable table({{{""}, Align::Right},
                     {{"reading"}, Align::Left},
                     {{"at", "degC"}, Align::Decimal},
                     {{"shown"}, Align::Decimal},
                     {{"S_P"}, Align::Decimal},
                     {{"dissolved", "g/kg"}, Align::Decimal},
                     {{"off mean", "in u"}, Align::Decimal},
                     {{"should", "show"}, Align::Decimal}});
    const bool several = r.readings.size() > 1;
    for (std::size_t i = 0; i < r.readings.size(); ++i) {
        const brine::Converted& c = r.found.converted[i];
        const brine::Reading& reading = r.readings[i];
        const double off = r.found.residual_g_per_kg[i] / c.u_g_per_kg;
        table.add({several ? fmt::format("{}", i + 1) : "", brine::describe(reading.instrument),
                   format_places(reading.temperature.value(), 1),
                   shown_text(reading.shown, reading.instrument),
                   format_places(c.practical_salinity.value(), 2),
                   base::format_with_uncertainty(c.dissolved.value(), c.u_g_per_kg).text(),
                   several ? (off >= 0 ? "+" : "") + format_places(off, 1) : "",
                   several ? shown_text(r.found.expected[i], reading.instrument) : ""});
    }
    return table.text();
}

std::string budget_table(const ReadingReport& r) {
    TextTable table({{{""}, Align::Right},
                     {{"standard uncertainty u, g/kg"}, Align::Left},
                     {{"reading"}, Align::Decimal},
                     {{"standard"}, Align::Decimal},
                     {{"temperature"}, Align::Decimal},
                     {{"formula"}, Align::Decimal},
                     {{"composition"}, Align::Decimal},
                     {{"in all"}, Align::Decimal}});
    for (std::size_t i = 0; i < r.readings.size(); ++i) {
        std::vector<std::string> cells{r.readings.size() > 1 ? fmt::format("{}", i + 1) : "",
                                       brine::describe(r.readings[i].instrument)};
        for (const brine::BudgetPart& part : r.found.converted[i].budget) {
            cells.push_back(format_places(part.g_per_kg, 3));
        }
        cells.push_back(format_places(r.found.converted[i].u_g_per_kg, 3));
        table.add(std::move(cells));
    }
    return table.text();
}

/// Which reading stands out, and the water with it and without.
std::string odd_one_text(const brine::Agreement& f) {
    if (f.without.empty()) {
        return "Two readings cannot tell which of them is wrong: take a third that rests on "
               "another property.\n";
    }
    if (!f.odd_one) {
        return "Leaving out one reading does not settle it: no other, or more than one other, "
               "would leave "
               "the rest in agreement.\n";
    }
    const brine::WithoutOne& rest = f.without[*f.odd_one];
    return fmt::format(
        "Reading {} stands out: without it the others agree (chi-square {}).\n"
        "Dissolved salt {} g/kg with it, {} g/kg without it.\n",
        rest.reading + 1, format_places(rest.chi_square, 2),
        base::format_with_uncertainty(f.dissolved.value(), f.u_g_per_kg).text(),
        base::format_with_uncertainty(rest.dissolved.value(), rest.u_g_per_kg).text());
}

std::string verdict_text(const ReadingReport& r) {
    const brine::Agreement& f = r.found;
    constexpr double kLeastShown = 5e-4;
    std::string out = fmt::format(
        "\nThe readings {}: chi-square {} with {} degree{} of freedom;\nchance alone gives as much "
        "or more in {} % of cases.\n",
        f.consistent ? "agree" : "contradict one another", format_places(f.chi_square, 2),
        f.degrees_of_freedom, f.degrees_of_freedom == 1 ? "" : "s",
        f.probability < kLeastShown ? "less than 0.1" : format_places(f.probability * 100, 1));
    if (f.birge_ratio > 1) {
        out += fmt::format("The uncertainty of the mean is widened {} times (Birge ratio).\n",
                           format_places(f.birge_ratio, 2));
    }
    if (f.consistent) {
        return out;
    }
    out += odd_one_text(f);
    if (f.causes.empty()) {
        return out + "None of the usual causes would bring them nearer together.\n";
    }
    const bool or_instrument = std::ranges::any_of(f.causes, [&](const brine::Cause& c) {
        return c.code == brine::kInstrumentItself && c.reconciles;
    });
    out +=
        f.decisive && or_instrument
            ? "\nOne slip explains it and no other slip does nearly as well; an instrument that "
              "is off\nwould too, so check it in its fluid (calibration-fluid plan):\n"
        : f.decisive ? "\nOne slip explains it and nothing else does nearly as well:\n"
        : f.causes[0].reconciles && f.causes[0].code == brine::kInstrumentItself
            ? "\nAn error of an instrument itself fits best; set it in its calibration fluid\n"
              "(calibration-fluid plan). What else may be the cause:\n"
        : f.causes[0].reconciles
            ? "\nWhat may be the cause, likeliest first; no one stands out enough to decide:\n"
        : f.causes[0].code == brine::kInstrumentItself
            ? "\nNo usual slip makes them agree; an instrument would have to be off by more than "
              "is usual:\n"
            : "\nNone of the usual causes makes them agree; nearest come:\n";
    TextTable table({{{"reading"}, Align::Right},
                     {{"if this were so"}, Align::Left},
                     {{"chi-square"}, Align::Decimal},
                     {{"agree"}, Align::Left},
                     {{"dissolved", "g/kg"}, Align::Decimal}});
    for (const brine::Cause& c : f.causes) {
        table.add({fmt::format("{}", c.reading + 1), c.text, format_places(c.chi_square, 2),
                   c.reconciles ? "yes" : "no", format_places(c.dissolved.value(), 2)});
    }
    return out + table.text();
}

std::string text_of(const ReadingReport& r) {
    std::string out = "salt  " + r.salt + "\n\n";
    if (!r.readings.empty()) {
        out += readings_table(r) + "\n" + budget_table(r);
    }
    if (r.readings.size() > 1) {
        out += verdict_text(r);
    }
    out += r.readings.empty() ? "" : "\n";
    Sheet water;
    const double w = r.found.dissolved.value();
    const double per_practical = w > 0 ? r.found.practical_salinity.value() / w : 1;
    water.add_with_u("practical salinity S_P", r.found.practical_salinity.value(),
                     r.found.u_g_per_kg * per_practical, 3, "");
    water.add_with_u("dissolved salt", r.found.dissolved.value(), r.found.u_g_per_kg, 3, "g/kg");
    out +=
        std::string(r.readings.size() < 2 ? "The water"
                    : r.found.consistent  ? "The water, by the mean of the readings"
                                          : "The water, by a mean of readings that do not agree") +
        (r.found.u_g_per_kg > 0 ? " (\u00B1: standard uncertainty)" : "") + "\n" + water.text();
    out += fmt::format("\nWhat faultless instruments show in it at {} degC\n",
                       base::format_exact(r.temperature.value()));
    Sheet shown;
    for (const Shown& s : r.shown) {
        if (std::isfinite(s.value)) {
            shown.add(s.words, s.value, s.places, s.unit);
        }
    }
    return out + shown.text() + dashes(r.notices);
}

}  // namespace

Command add_reading_convert(Command reading, ReadingConvertArguments& a) {
    const Command convert = reading.add_subcommand(
        "convert", "Readings of one water to its true salinity, and what other instruments show");
    convert.add_option("READING", a.readings,
                       "Phrases such as \"hydrometer 1.0253, marked 20/20, at 25 degC\"");
    convert.add_option("--at", a.at, "Temperature of the water where a reading names none");
    convert.add_option("--salinity", a.salinity,
                       "The other way: true salinity, \"35\" or \"35.165 g/kg\"");
    add_salt_options(convert, a.salt);
    add_output_flags(convert, a.json, a.quiet);
    convert.footer(
        "Example:\n  brinewright reading convert \"refractometer 36.4 g/kg, dial sodium-chloride\" "
        "\"conductivity 53.1 mS/cm, uncompensated\" --at \"25 degC\"\n\n"
        "Exit codes: 0 done; 1 the readings contradict one another; 2 bad input.");
    return convert;
}

int reading_convert(const ReadingConvertArguments& a, const Streams& streams) {
    const auto report = report_of(a);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    if (a.json) {
        put(json_of(*report), streams);
    } else if (!a.quiet) {
        put(text_of(*report), streams);
    }
    return report->found.consistent ? 0 : 1;
}

}  // namespace bw::cli
