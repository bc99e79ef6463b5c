// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "report/figure.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::report {
namespace {

constexpr std::string_view kNarrowSpace = "\u202F", kMinus = "\u2212";
constexpr std::size_t kGroup = 3, kUngrouped = 4;

std::string grouped_whole(std::string_view digits) {
    if (digits.size() <= kUngrouped) {
        return std::string(digits);
    }
    std::string out;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && (digits.size() - i) % kGroup == 0) {
            out += kNarrowSpace;
        }
        out += digits[i];
    }
    return out;
}

std::string grouped_fraction(std::string_view digits) {
    if (digits.size() <= kUngrouped) {
        return std::string(digits);
    }
    std::string out;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && i % kGroup == 0) {
            out += kNarrowSpace;
        }
        out += digits[i];
    }
    return out;
}

bool only_digits(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), base::is_digit);
}

/// Whether the printed text lies beyond the limits just as the value does.
bool tells_the_same(double value, const std::string& text, const std::optional<double>& low,
                    const std::optional<double>& high) {
    const auto read = base::parse_number(text);
    return !read || ((!low || (value < *low) == (*read < *low)) &&
                     (!high || (value > *high) == (*read > *high)));
}

}  // namespace

std::string printed(std::string_view number) {
    std::string_view rest = base::trim(number);
    std::string out;
    if (!rest.empty() && (rest.front() == '<' || rest.front() == '>')) {
        out += rest.front();
        out += ' ';
        rest = base::trim(rest.substr(1));
    }
    if (rest.starts_with('-')) {
        out += kMinus;
        rest.remove_prefix(1);
    } else if (rest.starts_with(kMinus)) {
        out += kMinus;
        rest.remove_prefix(kMinus.size());
    }
    const std::size_t point = rest.find('.');
    const std::string_view whole = rest.substr(0, point);
    const std::string_view fraction =
        point == std::string_view::npos ? std::string_view{} : rest.substr(point + 1);
    if (!only_digits(whole) || (point != std::string_view::npos && !only_digits(fraction))) {
        return std::string(number);
    }
    out += grouped_whole(whole);
    if (!fraction.empty()) {
        out += '.' + grouped_fraction(fraction);
    }
    return out;
}

Figure figure(double value, double expanded, std::optional<double> low, std::optional<double> high,
              int digits) {
    if (!(expanded > 0) || !std::isfinite(expanded)) {
        return {base::format_significant(value, digits), {}};
    }
    const base::ValueWithUncertainty first = base::format_with_uncertainty(value, expanded);
    Figure out{first.value, first.uncertainty};
    const std::size_t point = out.value.find('.');
    int places = point == std::string::npos ? 0 : static_cast<int>(out.value.size() - point - 1);
    constexpr int kMore = 3;
    for (int more = 0; more < kMore; ++more) {
        if (tells_the_same(value, out.value, low, high)) {
            break;
        }
        ++places;
        out.value = base::format_places(value, places);
        out.expanded = base::format_places(expanded, places);
    }
    return out;
}

}  // namespace bw::report
