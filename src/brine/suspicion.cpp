// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/suspicion.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/calibration_fluid.hpp"
#include "brine/natural_seawater.hpp"
#include "brine/refractometer_dial.hpp"
#include "brine/temperature_scale.hpp"
#include "unit/factors.hpp"

namespace bw::brine {
namespace {

Suspicion suspect(std::string code, std::string text, const Reading& reading, std::size_t number) {
    return {std::move(code), std::move(text), number, reading, 0};
}

void suspect_dial(const Reading& reading, const Refractometer& meter, std::size_t number,
                  std::vector<Suspicion>& out) {
    using enum Refractometer::Dial;
    const auto as = [&](std::string code, std::string text, Refractometer::Dial dial) {
        Suspicion s = suspect(std::move(code), std::move(text), reading, number);
        Refractometer other = meter;
        other.dial = dial;
        s.instead.instrument = other;
        out.push_back(std::move(s));
    };
    if (meter.dial == Seawater) {
        as("dial_is_nacl",
           "the refractometer's dial is drawn for sodium chloride, not for seawater",
           NaclGramPerKg);
    } else if (meter.dial == NaclGramPerKg) {
        as("dial_is_seawater",
           "the refractometer's dial is drawn for seawater, not for sodium chloride", Seawater);
        as("dial_is_per_litre", "the refractometer's dial shows g per litre, not g per kg",
           NaclGramPerLitre);
    } else if (meter.dial == NaclGramPerLitre) {
        as("dial_is_per_kg", "the refractometer's dial shows g per kg, not g per litre",
           NaclGramPerKg);
    }
    Suspicion s = suspect("compensation_differs",
                          meter.compensated
                              ? "the refractometer does not compensate for temperature (zeroed at "
                                "20 degC)"
                              : "the refractometer compensates for temperature",
                          reading, number);
    Refractometer other = meter;
    other.compensated = !meter.compensated;
    s.instead.instrument = other;
    out.push_back(std::move(s));
}

/// "20/20" of "hydrometer marked 20/20".
std::string marks_of(const Hydrometer& meter) {
    const std::string words = describe(meter);
    return words.substr(words.rfind(' ') + 1);
}

void suspect_marks(const Reading& reading, const Hydrometer& meter, std::size_t number,
                   std::vector<Suspicion>& out) {
    if (!meter.over) {
        return;
    }
    struct Marks {
        double at, over;
    };
    for (const Marks& marks : {Marks{kSixtyFahrenheit.value(), kSixtyFahrenheit.value()},
                               Marks{15, 4}, Marks{20, 20}, Marks{20, 4}, Marks{25, 25}}) {
        constexpr double kSame = 0.6;  // 15/15 and 60F/60F are one for this
        if (std::abs(marks.at - meter.marked_at.value()) < kSame &&
            std::abs(marks.over - meter.over->value()) < kSame) {
            continue;
        }
        Hydrometer other = meter;
        other.marked_at = unit::Celsius(marks.at);
        other.over = unit::Celsius(marks.over);
        Suspicion s = suspect(
            "hydrometer_marks_differ",
            fmt::format("the hydrometer is marked {}, not {}", marks_of(other), marks_of(meter)),
            reading, number);
        s.instead.instrument = other;
        out.push_back(std::move(s));
    }
}

void suspect_compensation(const Reading& reading, const ConductivityMeter& meter,
                          std::size_t number, std::vector<Suspicion>& out) {
    constexpr double kClose = 0.0005;
    constexpr double kUnmoved = 0.2;  // degC from the reference, where no compensation matters
    const unit::Celsius usual =
        meter.compensation ? meter.compensation->reference : unit::Celsius(25);
    if (std::abs((reading.temperature - usual).value()) < kUnmoved) {
        return;
    }
    if (meter.compensation) {
        Suspicion s =
            suspect("meter_is_uncompensated",
                    "the conductivity meter does not compensate for temperature", reading, number);
        s.instead.instrument = ConductivityMeter{};
        out.push_back(std::move(s));
    }
    constexpr std::array kUsual = {0.0191, 0.02, 0.021, 0.022};
    for (const double a : kUsual) {
        if (meter.compensation && std::abs(a - meter.compensation->per_kelvin) < kClose) {
            continue;
        }
        const ConductivityMeter other{Compensation{usual, a}};
        Suspicion s = suspect("compensation_coefficient",
                              fmt::format("the conductivity meter works to {} degC by {} %/K",
                                          base::format_exact(usual.value()),
                                          base::format_exact(std::round(a * 1e5) / 1e3)),
                              reading, number);
        s.instead.instrument = other;
        out.push_back(std::move(s));
    }
}

/// A meter told that the potassium chloride standard is seawater of 35 at 25 degC shows too much.
void suspect_fluid(const Reading& reading, std::size_t number, std::vector<Suspicion>& out) {
    const unit::Celsius usual(25);
    const auto fluid = kcl_conductivity_mS_per_cm(unit::GramPerKg(kKclStandardGramPerKg), usual);
    const auto sea = meter_conductivity(unit::PracticalSalinity(35), usual);
    if (!fluid || !sea) {
        return;
    }
    const double factor = *fluid / *sea;
    Suspicion s = suspect("meter_set_with_kcl",
                          "the meter was set at 25 degC in the potassium chloride standard as if "
                          "that were 35",
                          reading, number);
    if (std::holds_alternative<ConductivityMeter>(reading.instrument)) {
        s.instead.shown = reading.shown * factor;
    } else {
        const auto kappa =
            meter_conductivity(unit::PracticalSalinity(reading.shown), reading.temperature);
        const auto salinity = kappa ? meter_salinity(*kappa * factor, reading.temperature)
                                    : Result<unit::PracticalSalinity>(unit::PracticalSalinity(0));
        if (!kappa || !salinity) {
            return;
        }
        s.instead.shown = salinity->value();
    }
    out.push_back(std::move(s));
}

}  // namespace

std::vector<Suspicion> suspicions(const Reading& reading, std::size_t number) {
    std::vector<Suspicion> out;
    if (const auto* optical = std::get_if<Refractometer>(&reading.instrument)) {
        suspect_dial(reading, *optical, number, out);
    } else if (const auto* glass = std::get_if<Hydrometer>(&reading.instrument)) {
        suspect_marks(reading, *glass, number, out);
    } else if (const auto* meter = std::get_if<ConductivityMeter>(&reading.instrument)) {
        suspect_compensation(reading, *meter, number, out);
        suspect_fluid(reading, number, out);
    } else if (std::holds_alternative<SalinityMeter>(reading.instrument)) {
        suspect_fluid(reading, number, out);
    }
    return out;
}

std::vector<Suspicion> suspect_unit(const Reading& reading, std::size_t number) {
    std::vector<Suspicion> out;
    if (std::holds_alternative<WeighedIn>(reading.instrument)) {
        return out;
    }
    constexpr double kThousand = 1000;
    const std::string_view unit = unit_of(reading.instrument);
    const std::string after = unit.empty() ? "" : " " + std::string(unit);
    for (const double factor : {kThousand, 1 / kThousand}) {
        const double shown = reading.shown * factor;
        Suspicion s =
            suspect(std::string(kUnitSlip),
                    fmt::format("the unit is wrong by a thousand: it is {:.6g}{}, not {:.6g}{}",
                                shown, after, reading.shown, after),
                    reading, number);
        s.instead.shown = shown;
        s.instead.u.shown *= factor;
        s.instead.u.standard *= factor;
        out.push_back(std::move(s));
    }
    return out;
}

std::optional<Suspicion> suspect_temperature(const SaltLaw& law, const Reading& reading,
                                             std::size_t number, const Converted& converted,
                                             const Others& others) {
    const auto* optical = std::get_if<Refractometer>(&reading.instrument);
    if (std::holds_alternative<WeighedIn>(reading.instrument) ||
        (optical != nullptr && optical->compensated)) {
        return std::nullopt;
    }
    constexpr double kStep = 0.5;
    Reading moved = reading;
    moved.temperature = unit::Celsius(reading.temperature.value() - kStep);
    const auto there = convert(law, moved);
    if (!there) {
        return std::nullopt;
    }
    const double per_kelvin = (converted.dissolved - there->dissolved).value() / kStep;
    const double variance = converted.u_g_per_kg * converted.u_g_per_kg + others.u * others.u;
    const double apart = converted.dissolved.value() - others.g_per_kg;
    constexpr double kLikely = 1;  // K, see suspicion.hpp
    constexpr double kMost = 10;
    const double shift =
        std::clamp(-apart * per_kelvin / (per_kelvin * per_kelvin + variance / (kLikely * kLikely)),
                   -kMost, kMost);
    constexpr double kDecimals = 10;
    const double celsius =
        std::round((reading.temperature.value() + shift) * kDecimals) / kDecimals;
    if (celsius == reading.temperature.value()) {
        return std::nullopt;
    }
    Suspicion s = suspect(
        "temperature",
        fmt::format("the water was at {} degC, not {} degC ({})", base::format_exact(celsius),
                    base::format_exact(reading.temperature.value()), kind_of(reading.instrument)),
        reading, number);
    s.instead.temperature = unit::Celsius(celsius);
    const double steps = (celsius - reading.temperature.value()) / kLikely;
    s.unlikely = steps * steps;
    return s;
}

std::optional<Suspicion> suspect_instrument(const SaltLaw& law, const Reading& reading,
                                            std::size_t number, const Converted& converted,
                                            const Others& others) {
    if (std::holds_alternative<WeighedIn>(reading.instrument)) {
        return std::nullopt;
    }
    const auto should = expected_reading(law, reading.instrument, unit::GramPerKg(others.g_per_kg),
                                         reading.temperature);
    if (!should || *should == reading.shown) {
        return std::nullopt;
    }
    constexpr double kNotLookedAfter = 5;  // see suspicion.hpp
    const double apart = reading.shown - *should;
    const double per_g_per_kg = apart / (converted.dissolved.value() - others.g_per_kg);
    const double own = std::hypot(reading.u.shown, reading.u.standard);
    const double likely = kNotLookedAfter * own;
    const double variance =
        std::pow(per_g_per_kg, 2) * (std::pow(converted.u_g_per_kg, 2) + std::pow(others.u, 2));
    const std::string_view unit = unit_of(reading.instrument);
    // A span is told of scales that start at nothing, not of densities and indices.
    const bool from_nothing = unit == "mS/cm" || unit == "g/kg" || unit == "g/L";
    const std::string span =
        from_nothing
            ? fmt::format(", or {} % (span)",
                          base::format_significant(unit::kPercent * std::abs(apart / *should), 2))
            : "";
    Suspicion s =
        suspect("instrument_error",
                fmt::format("the instrument is off: {}{}{} too {} (zero){}",
                            base::format_significant(std::abs(apart), 2), unit.empty() ? "" : " ",
                            unit, apart > 0 ? "much" : "little", span),
                reading, number);
    s.instead.shown = *should;
    s.unlikely = apart * apart / (likely * likely + variance);
    return s;
}

}  // namespace bw::brine
