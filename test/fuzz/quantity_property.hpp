// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

#include "base/decimal.hpp"
#include "fuzz/one_line.hpp"
#include "unit/unit_table.hpp"

namespace bw::fuzz {

/// What the standard library reads from a number in our notation: one sign, digits, no nan or inf.
inline std::optional<double> number_by_library(std::string_view text) {
    std::string plain(text);
    constexpr std::string_view kMinus = "\u2212";
    if (text.substr(0, kMinus.size()) == kMinus) {
        plain = "-" + plain.substr(kMinus.size());
    } else if (!plain.empty() && plain[0] == '+') {
        plain.erase(0, 1);
    }
    const std::size_t first = !plain.empty() && plain[0] == '-' ? 1 : 0;
    if (first >= plain.size() ||
        std::string_view(".0123456789").find(plain[first]) == std::string_view::npos) {
        return std::nullopt;
    }
    double value = 0;
    const char* const end = plain.data() + plain.size();
    const auto [stop, error] = std::from_chars(plain.data(), end, value);
    return error == std::errc{} && stop == end && std::isfinite(value) ? std::optional(value)
                                                                       : std::nullopt;
}

inline bool same_bits(double a, double b) {
    std::uint64_t x = 0;
    std::uint64_t y = 0;
    std::memcpy(&x, &a, sizeof a);
    std::memcpy(&y, &b, sizeof b);
    return x == y;
}

/// Printing a number and reading it back.
inline Fault fault_of_printed(double value) {
    const auto exact = base::parse_number(base::format_exact(value));
    if (!exact || !same_bits(*exact, value)) {
        return "format_exact does not read back: " + base::format_exact(value);
    }
    for (int digits = 1; digits <= 9; ++digits) {
        const auto rounded = base::parse_number(base::format_significant(value, digits));
        // The largest doubles may be rounded up beyond what a double holds.
        const bool edge = std::abs(value) > 1e308 || std::abs(value) < 1e-300;
        if (!rounded && !edge) {
            return "format_significant does not read back: " +
                   base::format_significant(value, digits);
        }
        const double step = std::pow(10.0, 1 - digits);
        if (rounded && !edge && std::abs(*rounded - value) > 0.5000001 * step * std::abs(value)) {
            return "format_significant rounds too far: " + base::format_significant(value, digits);
        }
        if (base::format_places(value, digits).empty()) {
            return "format_places prints nothing";
        }
        const auto both = base::format_with_uncertainty(value, std::abs(value) / 7 / step);
        if (both.value.empty()) {
            return "a value with uncertainty prints nothing";
        }
    }
    return {};
}

inline Fault fault_of_number(std::string_view text) {
    const auto ours = base::parse_number(text);
    const auto library = number_by_library(text);
    if (ours.has_value() != library.has_value()) {
        return ours ? "a number that the library does not read" : "a number is refused";
    }
    if (!ours) {
        return fault_of_complaint(ours.error());
    }
    if (!same_bits(*ours, *library)) {
        return "another number than the library's";
    }
    return fault_of_printed(*ours);
}

inline Fault fault_of_quantity(std::string_view text) {
    const auto phrase = unit::parse_unit_phrase(text);
    if (!phrase) {
        if (const Fault fault = fault_of_complaint(phrase.error())) {
            return fault;
        }
    }
    const auto typed = unit::parse_quantity(text);
    if (!typed) {
        return fault_of_complaint(typed.error());
    }
    if (!std::isfinite(typed->number) || !std::isfinite(typed->value())) {
        return "a quantity is not finite in its own or its base unit: " + base::quoted(text);
    }
    if (typed->unit.symbol.empty() || typed->text.empty()) {
        return "a quantity without a unit";
    }
    const bool price = typed->unit.dimension == unit::Dimension::PricePerMass;
    if (price == typed->currency.empty()) {
        return "a price needs a currency, and nothing else has one";
    }
    const std::string written =
        base::format_exact(typed->number) + " " + (price ? typed->currency + "/" : std::string()) +
        std::string(typed->unit.symbol) + (typed->as.empty() ? std::string() : " as " + typed->as);
    const auto again = unit::parse_quantity(written);
    if (!again || !same_bits(again->number, typed->number) || again->as != typed->as ||
        again->currency != typed->currency || again->unit.symbol != typed->unit.symbol ||
        again->unit.factor != typed->unit.factor) {
        return "written again it is another quantity: " + base::quoted(written);
    }
    return {};
}

/// The text as a number and as a quantity.
inline Fault fault_of_quantity_text(std::string_view text) {
    if (const Fault fault = fault_of_number(text)) {
        return fault;
    }
    return fault_of_quantity(text);
}

}  // namespace bw::fuzz
