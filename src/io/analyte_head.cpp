// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/analyte_head.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/cell_table.hpp"
#include "matter/constituent.hpp"
#include "matter/element.hpp"

namespace bw::io {
namespace {

using unit::Dimension;

bool of_a_reading(Dimension d) {
    return d <= Dimension::EquivalentPerWaterMass || d == Dimension::Fraction ||
           d == Dimension::Conductivity || d == Dimension::Density || d == Dimension::Temperature;
}

/// "mg/l" is written as often as "mg/L", and both are right.
std::string with_capital_litre(std::string_view text) {
    std::string out(text);
    const auto at = out.find("/l");
    const bool ends = at != std::string::npos && (at + 2 == out.size() || out[at + 2] == ' ');
    if (ends) {
        out[at + 1] = 'L';
    }
    return out;
}

/// The digits of a wavelength such as 317.933 or 393, with a point.
bool is_wavelength(std::string_view text) {
    constexpr std::size_t kFewest = 3;  // 100 nm and more
    constexpr std::size_t kMost = 8;
    const auto point = text.find('.');
    const std::string_view whole = text.substr(0, point);
    const std::string_view part =
        point == std::string_view::npos ? std::string_view() : text.substr(point + 1);
    return whole.size() >= kFewest && text.size() <= kMost &&
           std::all_of(whole.begin(), whole.end(), base::is_digit) &&
           std::all_of(part.begin(), part.end(), base::is_digit) &&
           (point == std::string_view::npos || !part.empty());
}

/// Takes the unit in brackets at the end, or after a comma, off the head.
std::string take_unit(std::string& head) {
    const char last = head.empty() ? ' ' : head.back();
    const char opening = last == ']' ? '[' : last == ')' ? '(' : ',';
    const auto at = head.rfind(opening);
    if (at == std::string::npos || at == 0) {
        return {};
    }
    std::string out(trim_blanks(std::string_view(head).substr(at + 1)));
    if (opening != ',') {
        out = std::string(trim_blanks(std::string_view(out).substr(0, out.size() - 1)));
    }
    head = std::string(trim_blanks(std::string_view(head).substr(0, at)));
    return out;
}

}  // namespace

std::string ReadingUnit::text() const { return as.empty() ? symbol : symbol + " as " + as; }

Result<ReadingUnit> reading_unit(std::string_view text, PpmMeaning ppm) {
    const std::string typed = with_capital_litre(single_blanks(text));
    const std::string lower = base::lower_ascii(typed);
    if (lower == "none") {
        return ReadingUnit{"none", "", std::nullopt};
    }
    if (lower == "ppt") {
        return fail(ProblemCode::BadUnit,
                    "ppt may mean g/kg, g/L, ng/kg or ng/L: write one of them in the map");
    }
    std::string wanted = typed;
    if (lower == "ppm" || lower == "ppb") {
        if (ppm == PpmMeaning::NotSaid) {
            return fail(ProblemCode::BadUnit,
                        fmt::format("{} is by mass or by volume, which differ by 2.3 % in "
                                    "seawater: write ppm = \"by mass\" or ppm = \"by volume\" in "
                                    "the map",
                                    lower));
        }
        const bool by_mass = ppm == PpmMeaning::ByMass;
        wanted = lower == "ppm" ? (by_mass ? "mg/kg" : "mg/L") : (by_mass ? "ug/kg" : "ug/L");
    }
    BW_TRY(typed_unit, unit::parse_unit_phrase(wanted));
    if (!of_a_reading(typed_unit.unit.dimension)) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is {}, which no reading has", base::quoted(typed),
                                unit::describe(typed_unit.unit.dimension)));
    }
    return ReadingUnit{std::string(typed_unit.unit.symbol), typed_unit.as,
                       typed_unit.unit.dimension};
}

bool is_analyte(std::string_view word) {
    return matter::is_element(word) || matter::find_constituent(word).has_value();
}

std::string_view without_brackets(std::string_view text) {
    const bool in_brackets = (text.starts_with('[') && text.ends_with(']')) ||
                             (text.starts_with('(') && text.ends_with(')'));
    return in_brackets && text.size() > 1 ? text.substr(1, text.size() - 2) : text;
}

std::optional<AnalyteHead> analyte_head(std::string_view head) {
    std::string rest = single_blanks(head);
    AnalyteHead out;
    out.unit = take_unit(rest);
    std::size_t end = std::min(rest.find(' '), rest.size());
    const std::size_t digits = std::min(rest.find_first_of("0123456789"), rest.size());
    if (digits < end && rest.find('.', digits) != std::string::npos &&
        matter::is_element(std::string_view(rest).substr(0, digits))) {
        end = digits;  // "Ca317.9"
    }
    out.analyte = rest.substr(0, end);
    std::string_view tail = trim_blanks(std::string_view(rest).substr(end));
    if (tail.ends_with("nm")) {
        tail = trim_blanks(tail.substr(0, tail.size() - 2));
    }
    if (!is_analyte(out.analyte) || !(tail.empty() || is_wavelength(tail))) {
        return std::nullopt;
    }
    out.wavelength = std::string(tail);
    return out;
}

}  // namespace bw::io
