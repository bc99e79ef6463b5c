// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "unit/unit_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::unit {
namespace {

using enum Dimension;

// 1 dKH is 10 mg CaO per litre by definition (German degree of carbonate hardness); 1 mol CaO
// neutralises 2 eq. The molar mass of CaO is Ca 40.078 + O 15.999 (CIAAW 2021, key ciaaw-2021).
constexpr double kMolarMassCaO = 40.078 + 15.999;
constexpr double kEquivalentPerLitrePerDegree = 2 * 10e-3 / kMolarMassCaO;

constexpr double kCelsiusOfZeroKelvin = -273.15;  // exact, SI

constexpr std::array kUnits = std::to_array<Unit>({
    {"g/kg", MassPerMass, 1e-3},
    {"kg/kg", MassPerMass, 1},
    {"mg/kg", MassPerMass, 1e-6},
    {"ug/kg", MassPerMass, 1e-9},
    {"ng/kg", MassPerMass, 1e-12},
    {"mol/kg", AmountPerMass, 1},
    {"mmol/kg", AmountPerMass, 1e-3},
    {"umol/kg", AmountPerMass, 1e-6},
    {"nmol/kg", AmountPerMass, 1e-9},
    {"kg/L", MassPerVolume, 1},
    {"g/L", MassPerVolume, 1e-3},
    {"mg/L", MassPerVolume, 1e-6},
    {"ug/L", MassPerVolume, 1e-9},
    {"ng/L", MassPerVolume, 1e-12},
    {"mol/L", AmountPerVolume, 1},
    {"mmol/L", AmountPerVolume, 1e-3},
    {"umol/L", AmountPerVolume, 1e-6},
    {"nmol/L", AmountPerVolume, 1e-9},
    {"mol/kg-water", AmountPerWaterMass, 1},
    {"mmol/kg-water", AmountPerWaterMass, 1e-3},
    {"umol/kg-water", AmountPerWaterMass, 1e-6},
    {"eq/kg", EquivalentPerMass, 1},
    {"meq/kg", EquivalentPerMass, 1e-3},
    {"ueq/kg", EquivalentPerMass, 1e-6},
    {"eq/L", EquivalentPerVolume, 1},
    {"meq/L", EquivalentPerVolume, 1e-3},
    {"ueq/L", EquivalentPerVolume, 1e-6},
    {"dKH", EquivalentPerVolume, kEquivalentPerLitrePerDegree},
    {"meq/kg-water", EquivalentPerWaterMass, 1e-3},
    {"t", Mass, 1000},
    {"kg", Mass, 1},
    {"g", Mass, 1e-3},
    {"mg", Mass, 1e-6},
    {"degC", Temperature, 1},
    {"K", Temperature, 1, kCelsiusOfZeroKelvin},
    {"m", Length, 1},
    {"mm", Length, 1e-3},
    {"um", Length, 1e-6},
    {"kg/m3", Density, 1},
    {"g/cm3", Density, 1000},
    {"g/mL", Density, 1000},
    {"%", Fraction, 1e-2},
    {"mS/cm", Conductivity, 1},
    {"uS/cm", Conductivity, 1e-3},
    {"S/m", Conductivity, 10},
    {"mS/m", Conductivity, 1e-2},
    {"m3", Volume, 1000},
    {"L", Volume, 1},
    {"mL", Volume, 1e-3},
    {"%/K", PerKelvin, 1e-2},
    {"atm", Pressure, 1},
    {"uatm", Pressure, 1e-6},
    {"s", Time, 1.0 / 3600},
    {"min", Time, 1.0 / 60},
    {"h", Time, 1},
    {"days", Time, 24},
    {"/h", PerTime, 1},
    {"/min", PerTime, 60},
    {"W/kg", PowerPerMass, 1},
    {"K/h", HeatingRate, 1},
    {"m/h", Speed, 1},
    {"cm/h", Speed, 1e-2},
});

/// Micro as u, the sign of degrees as deg.
std::string in_plain_letters(std::string_view symbol) {
    if (symbol == "\u00B0C" || symbol == "\u2103") {
        return "degC";
    }
    if (symbol == "\u2030") {  // per mille, of mass
        return "g/kg";
    }
    std::string out(symbol);
    for (const std::string_view micro : {std::string_view("\u00B5"), std::string_view("\u03BC")}) {
        for (auto at = out.find(micro); at != std::string::npos; at = out.find(micro)) {
            out.replace(at, micro.size(), "u");
        }
    }
    return out;
}

/// How much of something there is in water or in a material: these pass for one another.
bool is_content(Dimension d) { return d <= EquivalentPerWaterMass || d == Fraction; }

/// Whether a unit of `d` may be meant where one like `wanted` is needed.
bool may_stand_for(Dimension d, std::optional<Dimension> wanted) {
    return !wanted || d == *wanted || (is_content(d) && is_content(*wanted));
}

/// The unit that was meant, or nothing where that would be a guess.
std::optional<std::string> nearest(const std::string& symbol, std::optional<Dimension> wanted) {
    const std::string lower = base::lower_ascii(symbol);
    if (may_stand_for(Temperature, wanted) && (lower == "c" || lower == "celsius")) {
        return "degC";
    }
    if (symbol.size() == 1) {  // every other letter is one slip away
        return std::nullopt;
    }
    std::vector<std::string_view> names;
    for (const Unit& u : kUnits) {
        if (may_stand_for(u.dimension, wanted)) {
            names.push_back(u.symbol);
        }
    }
    return base::closest(symbol, names);
}

bool is_currency(std::string_view text) {
    constexpr std::size_t kIsoLength = 3;  // ISO 4217
    return text.size() == kIsoLength && std::all_of(text.begin(), text.end(), base::is_upper);
}

/// find_unit, whose suggestion stands for a unit like `like`.
Result<Unit> find_like(std::string_view symbol, std::optional<Dimension> like) {
    const std::string wanted = in_plain_letters(symbol);
    const auto* const found = std::find_if(kUnits.begin(), kUnits.end(),
                                           [&](const Unit& u) { return u.symbol == wanted; });
    if (found != kUnits.end()) {
        return *found;
    }
    const std::string lower = base::lower_ascii(wanted);
    if (lower == "ppm" || lower == "ppt" || lower == "ppb") {
        const std::string_view by_mass = lower == "ppm"   ? "mg/kg"
                                         : lower == "ppt" ? "g/kg"
                                                          : "ug/kg";
        const std::string_view by_volume = lower == "ppm"   ? "mg/L"
                                           : lower == "ppt" ? "g/L"
                                                            : "ug/L";
        return fail(
            ProblemCode::BadUnit,
            fmt::format(
                "{} may mean {} or {}, which differ by 2.3 % in seawater: write one of them", lower,
                by_mass, by_volume));
    }
    const auto near = nearest(wanted, like);
    return fail(
        ProblemCode::BadUnit,
        fmt::format(
            "unknown unit {}{}", base::quoted(symbol),
            near ? fmt::format(": did you mean {}?", *near)
                 : std::string(": known ones are mg/L, mg/kg, mmol/kg, meq/L, dKH, %, kg, degC "
                               "and others in the reference of files")));
}

/// parse_unit_phrase, likewise.
Result<TypedQuantity> phrase_like(std::string_view text, std::optional<Dimension> like) {
    TypedQuantity out;
    out.text = std::string(text);
    std::string_view symbol = base::trim(text);
    constexpr std::string_view kAsWord = " as ";
    if (const auto at = symbol.find(kAsWord); at != std::string_view::npos) {
        out.as = std::string(base::trim(symbol.substr(at + kAsWord.size())));
        symbol = base::trim(symbol.substr(0, at));
        if (out.as.empty()) {
            return fail(ProblemCode::BadUnit,
                        fmt::format("nothing follows 'as' in {}", base::quoted(text)));
        }
    }
    const auto slash = symbol.find('/');
    const std::string_view before = symbol.substr(0, std::min(slash, symbol.size()));
    if (slash != std::string_view::npos && before.size() > 2 &&
        std::all_of(before.begin(), before.end(),
                    [](char c) { return base::is_lower(c) || base::is_upper(c); }) &&
        !is_currency(before) && (symbol.ends_with("/kg") || symbol.ends_with("/t")) &&
        !find_like(symbol, like) &&
        find_like(symbol, like).error().message.find("did you mean") == std::string::npos) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("unknown unit {}: a price is written \"0.62 EUR/kg\", with the "
                                "three capital letters of a currency",
                                base::quoted(symbol)));
    }
    if (slash != std::string_view::npos && is_currency(symbol.substr(0, slash))) {
        const std::string_view per = symbol.substr(slash + 1);
        const auto mass = find_like(per, Mass);
        if (!mass || mass->dimension != Mass) {
            return fail(ProblemCode::BadUnit,
                        fmt::format("a price is per kg, t or g, not per {}", base::quoted(per)));
        }
        out.currency = std::string(symbol.substr(0, slash));
        out.unit = Unit{mass->symbol, PricePerMass, 1 / mass->factor};
        return out;
    }
    BW_TRY(unit, find_like(symbol, like));
    out.unit = unit;
    return out;
}

/// What messages suggest with the example; nothing where the example is empty.
std::optional<Dimension> dimension_of(std::string_view example_unit) {
    if (example_unit.empty()) {
        return std::nullopt;
    }
    const auto read = phrase_like(example_unit, std::nullopt);
    return read ? std::optional(read->unit.dimension) : std::nullopt;
}

}  // namespace

std::span<const Unit> all_units() { return kUnits; }

std::string_view describe(Dimension dimension) {
    switch (dimension) {
        case AmountPerMass:
            return "an amount per mass, such as mmol/kg";
        case MassPerMass:
            return "a mass per mass, such as mg/kg";
        case AmountPerVolume:
            return "an amount per volume, such as mmol/L";
        case MassPerVolume:
            return "a mass per volume, such as mg/L";
        case AmountPerWaterMass:
            return "an amount per mass of water, such as mmol/kg-water";
        case EquivalentPerMass:
            return "equivalents per mass, such as meq/kg";
        case EquivalentPerVolume:
            return "equivalents per volume, such as meq/L or dKH";
        case EquivalentPerWaterMass:
            return "equivalents per mass of water, such as meq/kg-water";
        case Mass:
            return "a mass, such as kg";
        case Temperature:
            return "a temperature, such as degC";
        case Length:
            return "a length, such as mm";
        case Density:
            return "a density, such as g/cm3";
        case Fraction:
            return "a share, such as %";
        case PricePerMass:
            return "a price, such as EUR/kg";
        case Conductivity:
            return "a conductivity, such as mS/cm";
        case Volume:
            return "a volume, such as L";
        case PerKelvin:
            return "a change for each kelvin, such as %/K";
        case Pressure:
            return "a pressure, such as uatm";
        case Time:
            return "a time, such as h";
        case PerTime:
            return "an exchange, such as /h";
        case PowerPerMass:
            return "a stirring power, such as W/kg";
        case HeatingRate:
            return "a rate of heating, such as K/h";
        case Speed:
            return "a speed, such as m/h";
    }
    return "a quantity";
}

std::string_view example_unit(Dimension dimension) {
    switch (dimension) {
        case Mass:
            return "kg";
        case Temperature:
            return "degC";
        case Length:
            return "mm";
        case Density:
            return "g/cm3";
        case Fraction:
            return "%";
        case PricePerMass:
            return "EUR/kg";
        case MassPerMass:
            return "g/kg";
        case Conductivity:
            return "mS/cm";
        case Volume:
            return "L";
        case PerKelvin:
            return "%/K";
        case Pressure:
            return "uatm";
        case Time:
            return "h";
        case PerTime:
            return "/h";
        case PowerPerMass:
            return "W/kg";
        case HeatingRate:
            return "K/h";
        case Speed:
            return "m/h";
        default:
            return "mg/L";
    }
}

Result<Unit> find_unit(std::string_view symbol) { return find_like(symbol, std::nullopt); }

Result<TypedQuantity> parse_unit_phrase(std::string_view text) {
    return phrase_like(text, std::nullopt);
}

Result<TypedQuantity> parse_quantity(std::string_view text, std::string_view example_unit) {
    constexpr std::string_view kAnyExample = "mg/L";
    const std::string_view body = base::trim(text);
    constexpr std::string_view kNumeric = "+-.0123456789,eE\u2212";
    // The number ends at the first blank, or where a unit's letter follows a digit ("5mg/L").
    std::size_t end = 0;
    while (end < body.size() && kNumeric.find(body[end]) != std::string_view::npos) {
        const bool exponent = body[end] == 'e' || body[end] == 'E';
        if (exponent &&
            (end + 1 >= body.size() || (kNumeric.find(body[end + 1]) == std::string_view::npos))) {
            break;
        }
        ++end;
    }
    if (end == 0) {
        return fail(ProblemCode::BadNumber,
                    fmt::format("{} does not start with a number: write, for example, \"440 mg/L\"",
                                base::quoted(text)));
    }
    BW_TRY(number, base::parse_number(body.substr(0, end)));
    constexpr double kMost = 1e12;  // beyond any quantity of this trade, in any unit
    if (std::abs(number) > kMost) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} is beyond reason", base::quoted(body)));
    }
    const std::string_view rest = base::trim(body.substr(end));
    if (rest.empty()) {
        return fail(
            ProblemCode::BadUnit,
            fmt::format("{} has no unit: write, for example, \"{} {}\"", base::quoted(text),
                        body.substr(0, end), example_unit.empty() ? kAnyExample : example_unit));
    }
    if (base::is_digit(rest.front())) {
        return fail(
            ProblemCode::BadNumber,
            fmt::format("{} holds two numbers: write no thousands separators", base::quoted(text)));
    }
    BW_TRY(out, phrase_like(rest, dimension_of(example_unit)));
    out.number = number;
    out.text = std::string(body);
    return out;
}

}  // namespace bw::unit
