// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/reading_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "brine/temperature_scale.hpp"
#include "cli/measured.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

using brine::Refractometer;
using unit::Dimension;

constexpr double kKgPerM3PerKgPerL = 1000;

/// A phrase cut at its commas.
struct Phrase {
    std::string_view whole;
    std::string_view kind, value;           ///< of the first part
    std::vector<std::string_view> details;  ///< the others
    std::vector<bool> used;

    /// The rest of the detail that starts with this word, or nothing.
    std::optional<std::string_view> take(std::string_view word) {
        for (std::size_t i = 0; i < details.size(); ++i) {
            const std::string_view d = details[i];
            if (!used[i] && d.starts_with(word) &&
                (d.size() == word.size() || d[word.size()] == ' ')) {
                used[i] = true;
                return base::trim(d.substr(word.size()));
            }
        }
        return std::nullopt;
    }
};

Phrase cut(std::string_view text) {
    Phrase out;
    out.whole = text;
    std::vector<std::string_view> parts;
    for (std::string_view rest = text;;) {
        const auto comma = rest.find(", ");
        parts.push_back(base::trim(rest.substr(0, comma)));
        if (comma == std::string_view::npos) {
            break;
        }
        rest = rest.substr(comma + 1);
    }
    const auto blank = parts.front().find(' ');
    out.kind = parts.front().substr(0, blank);
    out.value = blank == std::string_view::npos ? std::string_view()
                                                : base::trim(parts.front().substr(blank));
    out.details.assign(parts.begin() + 1, parts.end());
    out.used.assign(out.details.size(), false);
    return out;
}

tl::unexpected<Problem> bad(const Phrase& phrase, std::string why) {
    return fail(ProblemCode::BadInput, std::move(why), {"", 0, base::quoted(phrase.whole)});
}

Result<unit::Celsius> celsius(const Phrase& phrase, std::string_view text) {
    return parse_celsius(base::quoted(phrase.whole), text);
}

/// One side of "20/4" or "60F/60F".
Result<unit::Celsius> mark(const Phrase& phrase, std::string_view text) {
    const bool fahrenheit = text.ends_with("F");
    const auto number = base::parse_number(text.substr(0, text.size() - (fahrenheit ? 1 : 0)));
    if (!number) {
        return bad(phrase,
                   "a hydrometer is marked with two temperatures in degC, such as 20/20, "
                   "25/25, 20/4 or 60F/60F");
    }
    return fahrenheit ? brine::from_fahrenheit(*number) : unit::Celsius(*number);
}

Result<brine::Instrument> conductivity_meter(Phrase& phrase, bool with_value) {
    brine::ConductivityMeter out;
    const bool raw = phrase.take("uncompensated").has_value();
    const auto to = phrase.take("to");
    if (raw == to.has_value()) {
        if (with_value || raw) {
            return bad(phrase,
                       "say how the meter compensates: \"to 25 degC by 2 %/K\", or "
                       "\"uncompensated\"");
        }
        return out;
    }
    if (to) {
        const auto by = to->find(" by ");
        if (by == std::string_view::npos) {
            return bad(phrase, "compensation is written \"to 25 degC by 2 %/K\"");
        }
        BW_TRY(reference, celsius(phrase, to->substr(0, by)));
        constexpr std::string_view kBy = " by ";
        BW_TRY(coefficient, parse_measured(base::quoted(phrase.whole), to->substr(by + kBy.size()),
                                           {Dimension::PerKelvin}));
        constexpr double kMost = 0.1;
        if (!(coefficient.value >= 0 && coefficient.value <= kMost)) {
            return bad(phrase, "a compensation lies between 0 and 10 %/K");
        }
        out.compensation = brine::Compensation{reference, coefficient.value};
    }
    return out;
}

/// What a dial for sodium chloride shows, where its name says so.
std::optional<Refractometer::Dial> dial_unit(std::string_view dial) {
    return dial == "sodium-chloride g/kg"  ? std::optional(Refractometer::Dial::NaclGramPerKg)
           : dial == "sodium-chloride g/L" ? std::optional(Refractometer::Dial::NaclGramPerLitre)
           : dial == "sodium-chloride 20/20"
               ? std::optional(Refractometer::Dial::NaclSpecificGravity)
               : std::nullopt;
}

Result<brine::Instrument> refractometer(Phrase& phrase, const std::optional<Measured>& value) {
    Refractometer out;
    auto dial = phrase.take("dial");
    const auto unit = dial ? dial_unit(*dial) : std::nullopt;
    if (unit) {
        dial = "sodium-chloride";
    }
    if (!dial || (*dial != "sodium-chloride" && *dial != "seawater" && *dial != "index")) {
        return bad(phrase,
                   "say what the refractometer's dial is drawn for: \"dial "
                   "sodium-chloride\", \"dial seawater\" or \"dial index\"");
    }
    using enum Refractometer::Dial;
    const auto dimension = value ? value->dimension : std::optional(Dimension::MassPerMass);
    if (*dial != "sodium-chloride") {
        out.dial = *dial == "index" ? Index : Seawater;
        if (value && dimension) {
            return bad(phrase, fmt::format("the reading of a dial for {} is a number without unit",
                                           *dial == "index" ? "the index" : "seawater"));
        }
    } else if (dimension == Dimension::MassPerVolume) {
        out.dial = NaclGramPerLitre;
    } else if (!dimension) {
        constexpr double kLeast = 0.9;
        constexpr double kMost = 1.1;
        if (!(value->value > kLeast && value->value < kMost)) {
            return bad(phrase,
                       "a dial for sodium chloride shows g/kg, g/L, or a relative density "
                       "near 1: write the unit");
        }
        out.dial = NaclSpecificGravity;
    } else if (dimension != Dimension::MassPerMass) {
        return bad(phrase, "a dial for sodium chloride shows g/kg, g/L or a relative density");
    }
    if (unit && value && out.dial != *unit) {
        return bad(phrase, "the reading's unit is not that of the dial");
    }
    out.dial = unit.value_or(out.dial);
    out.compensated = !phrase.take("uncompensated").has_value();
    const auto zeroed = phrase.take("zeroed at");
    if (zeroed) {
        BW_TRY(t, celsius(phrase, *zeroed));
        out.zeroed_at = t;
    } else if (!out.compensated && out.dial != Index) {
        return bad(phrase,
                   "say at what temperature the uncompensated refractometer was set in "
                   "pure water: \"zeroed at 20 degC\"");
    }
    return out;
}

Result<brine::Instrument> hydrometer(Phrase& phrase, const std::optional<Measured>& value) {
    brine::Hydrometer out;
    const auto marked = phrase.take("marked");
    if (!marked) {
        return bad(phrase,
                   "say what temperatures the hydrometer is marked for: \"marked 20/20\", "
                   "or \"marked 20\" if it shows kg/m3");
    }
    const bool density = value && value->dimension;
    const auto slash = marked->find('/');
    BW_TRY(at, mark(phrase, marked->substr(0, slash)));
    out.marked_at = at;
    if (slash == std::string_view::npos) {
        if (value && !density) {
            return bad(phrase, "a relative density is marked for two temperatures, such as 20/20");
        }
        out.over.reset();
        return out;
    }
    if (density) {
        return bad(phrase, "a hydrometer for kg/m3 is marked for one temperature, such as 20");
    }
    BW_TRY(over, mark(phrase, marked->substr(slash + 1)));
    out.over = over;
    return out;
}

Result<brine::Instrument> instrument_of(Phrase& phrase, const std::optional<Measured>& value) {
    if (phrase.kind == "conductivity") {
        return conductivity_meter(phrase, value.has_value());
    }
    if (phrase.kind == "salinity-meter") {
        return brine::SalinityMeter{};
    }
    if (phrase.kind == "refractometer") {
        return refractometer(phrase, value);
    }
    if (phrase.kind == "hydrometer") {
        return hydrometer(phrase, value);
    }
    if (phrase.kind == "density") {
        return brine::DensityMeter{};
    }
    return bad(phrase, fmt::format("{} is no instrument known here: known are conductivity, "
                                   "salinity-meter, refractometer, hydrometer, density and weighed",
                                   base::quoted(phrase.kind)));
}

Result<void> check_used(const Phrase& phrase) {
    for (std::size_t i = 0; i < phrase.details.size(); ++i) {
        if (!phrase.used[i]) {
            return bad(phrase, fmt::format("{} is not understood of this instrument",
                                           base::quoted(phrase.details[i])));
        }
    }
    return {};
}

/// How much one of the reading's dimension is in the unit that the instrument shows.
Result<double> scale_of(const Phrase& phrase, const brine::Instrument& instrument,
                        const Measured& value) {
    const std::string_view unit = brine::unit_of(instrument);
    const auto is = [&](Dimension d) { return value.dimension && *value.dimension == d; };
    if (unit.empty() ? !value.dimension : unit == "mS/cm" && is(Dimension::Conductivity)) {
        return 1.0;
    }
    if ((unit == "g/kg" && is(Dimension::MassPerMass)) ||
        (unit == "g/L" && is(Dimension::MassPerVolume))) {
        return unit::kGramPerKg;
    }
    if (unit == "kg/m3" && is(Dimension::Density)) {
        return 1.0;
    }
    if (unit == "kg/m3" && is(Dimension::MassPerVolume)) {
        return kKgPerM3PerKgPerL;
    }
    return bad(phrase, unit.empty() ? fmt::format("a {} shows a number without unit here",
                                                  brine::describe(instrument))
                                    : fmt::format("a {} shows {}: write the unit",
                                                  brine::describe(instrument), unit));
}

/// "36.5 g in 1000 g, anhydrous 95 +- 0.3 %".
Result<brine::Reading> weighed(Phrase& phrase) {
    constexpr std::string_view kIn = " in ";
    const auto in = phrase.value.find(kIn);
    if (in == std::string_view::npos) {
        return bad(phrase, "write salt and water: \"weighed 36.5 g in 1000 g\"");
    }
    const std::string field = base::quoted(phrase.whole);
    BW_TRY(salt, parse_measured(field, phrase.value.substr(0, in), {Dimension::Mass}));
    BW_TRY(water, parse_measured(field, phrase.value.substr(in + kIn.size()), {Dimension::Mass}));
    Measured share{1, std::nullopt, std::nullopt};
    if (const auto anhydrous = phrase.take("anhydrous")) {
        BW_TRY(stated, parse_measured(field, *anhydrous, {Dimension::Fraction}));
        share = stated;
    }
    BW_CHECK(check_used(phrase));
    constexpr double kUsualMassPart = 0.001;  // 0.1 % of each mass, as a limit
    constexpr double kUsualShare = 0.003;     // 0.3 % of moisture, as a limit
    const double u_mass = salt.u ? *salt.u / salt.value : kUsualMassPart / std::sqrt(3.0);
    auto out = brine::weighed_in(salt.value, water.value, share.value, u_mass,
                                 share.u.value_or(kUsualShare / std::sqrt(3.0)));
    if (!out) {
        return in_field(field, std::move(out).error());
    }
    return out;
}

Result<void> state_temperature(const Phrase& phrase, std::optional<std::string_view> at,
                               const std::optional<Measured>& usual_at, brine::Reading& out) {
    if (at) {
        BW_TRY(t, parse_measured(base::quoted(phrase.whole), *at, {Dimension::Temperature}));
        out.temperature = unit::Celsius(t.value);
        out.u.temperature = t.u.value_or(out.u.temperature);
        return {};
    }
    const auto* optical = std::get_if<Refractometer>(&out.instrument);
    if (usual_at) {
        out.temperature = unit::Celsius(usual_at->value);
        out.u.temperature = usual_at->u.value_or(out.u.temperature);
    } else if (optical != nullptr && optical->compensated) {
        out.temperature = unit::Celsius(20);
    } else {
        return bad(phrase,
                   "the temperature of the water is missing: add \"at 25 degC\", or --at "
                   "for all readings");
    }
    return {};
}

}  // namespace

Result<brine::Reading> parse_reading(std::string_view text,
                                     const std::optional<Measured>& usual_at) {
    Phrase phrase = cut(base::trim(text));
    if (phrase.kind == "weighed") {
        BW_TRY(out, weighed(phrase));
        out.temperature = unit::Celsius(usual_at ? usual_at->value : out.temperature.value());
        return out;
    }
    const std::string field = base::quoted(phrase.whole);
    constexpr std::array kKinds = {"conductivity", "salinity-meter", "refractometer", "hydrometer",
                                   "density"};
    const bool known = std::find(kKinds.begin(), kKinds.end(), phrase.kind) != kKinds.end();
    if (known && phrase.value.empty()) {
        return bad(phrase,
                   "the reading has no value: write, for example, \"hydrometer 1.0253, "
                   "marked 20/20\"");
    }
    Measured value;
    if (known) {
        auto read = parse_measured(phrase.value);
        if (!read) {
            return in_field(field, std::move(read).error());
        }
        value = *read;
    }
    const auto at = phrase.take("at");
    const auto standard = phrase.take("standard +-");
    BW_TRY(instrument, instrument_of(phrase, value));
    BW_CHECK(check_used(phrase));
    BW_TRY(scale, scale_of(phrase, instrument, value));
    brine::Reading out;
    out.instrument = instrument;
    out.shown = value.value * scale;
    out.u = brine::usual_uncertainty(instrument, out.shown);
    out.u.shown = value.u ? *value.u * scale : out.u.shown;
    BW_CHECK(state_temperature(phrase, at, usual_at, out));
    if (standard) {
        auto u = parse_measured(*standard);
        if (!u) {
            return in_field(field, std::move(u).error());
        }
        BW_TRY(u_scale, scale_of(phrase, instrument, *u));
        if (!(u->value >= 0)) {
            return bad(phrase, "an uncertainty is not below 0");
        }
        out.u.standard = u->value * u_scale;
    }
    return out;
}

int places_shown(const brine::Instrument& instrument) {
    const auto* optical = std::get_if<Refractometer>(&instrument);
    const bool salinity = std::holds_alternative<brine::SalinityMeter>(instrument) ||
                          (optical != nullptr && optical->dial == Refractometer::Dial::Seawater);
    // Without a unit stand salinities, and relative densities and indices, which are near 1.
    return brine::unit_of(instrument).empty() && !salinity ? 5 : 2;
}

Result<brine::Instrument> parse_instrument(std::string_view text) {
    Phrase phrase = cut(base::trim(text));
    if (!phrase.value.empty()) {
        return bad(phrase, "name the instrument only, without a reading");
    }
    BW_TRY(out, instrument_of(phrase, std::nullopt));
    BW_CHECK(check_used(phrase));
    return out;
}

}  // namespace bw::cli
