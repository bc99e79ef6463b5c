// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/decimal.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::base {
namespace {

/// 0.d1 d2 d3 ... x 10^point, the shortest digits that identify the double.
struct Digits {
    bool negative = false;
    std::string digits;  ///< without leading zeros; empty for zero
    int point = 0;       ///< position of the decimal point relative to the first digit
};

Digits digits_of(double value) {
    std::array<char, 64> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                   std::chars_format::scientific)
                         .ptr;
    const std::string_view text(buffer.data(), static_cast<std::size_t>(end - buffer.data()));
    Digits out;
    const auto e = text.find('e');
    for (const char c : text.substr(0, e)) {
        if (c == '-') {
            out.negative = true;
        } else if (is_digit(c)) {
            out.digits += c;
        }
    }
    int exponent = 0;
    const char* start = text.data() + e + 1;
    if (*start == '+') {
        ++start;
    }
    std::from_chars(start, end, exponent);
    out.point = exponent + 1;
    if (value == 0.0) {
        out.digits.clear();
        out.point = 0;
    }
    return out;
}

/// Rounds to the decimal place 10^-places (places may be negative), half to even.
void round_to_place(Digits& d, int places) {
    const int keep = d.point + places;  // how many digits stay
    if (keep >= static_cast<int>(d.digits.size())) {
        return;
    }
    if (keep < 0) {
        d.digits.clear();
        d.point = 0;
        return;
    }
    const auto cut = static_cast<std::size_t>(keep);
    const std::string tail = d.digits.substr(cut);
    d.digits.resize(cut);
    const bool above_half =
        tail[0] > '5' || (tail[0] == '5' && tail.find_first_not_of('0', 1) != std::string::npos);
    const bool exactly_half = tail[0] == '5' && !above_half;
    const bool odd = !d.digits.empty() && ((d.digits.back() - '0') % 2 == 1);
    if (!above_half && !(exactly_half && odd)) {
        d.point = keep > 0 ? d.point : 0;  // nothing is left of a number below the place
        return;
    }
    std::size_t i = d.digits.size();
    while (i > 0 && d.digits[i - 1] == '9') {
        d.digits[--i] = '0';
    }
    if (i > 0) {
        ++d.digits[i - 1];
    } else {
        d.digits.insert(d.digits.begin(), '1');
        ++d.point;
    }
}

/// Plain notation with exactly `places` digits after the point (none when places <= 0).
std::string plain(const Digits& d, int places) {
    std::string whole;
    std::string part;
    for (int i = 0; i < std::max(d.point, 1); ++i) {
        const int at = d.point > 0 ? i : -1;
        const bool have = at >= 0 && at < static_cast<int>(d.digits.size());
        whole += have ? d.digits[static_cast<std::size_t>(at)] : '0';
    }
    for (int i = 0; i < places; ++i) {
        const int at = d.point + i;
        const bool have = at >= 0 && at < static_cast<int>(d.digits.size());
        part += have ? d.digits[static_cast<std::size_t>(at)] : '0';
    }
    const bool zero = d.digits.find_first_not_of('0') == std::string::npos;
    std::string out = d.negative && !zero ? "-" : "";
    out += whole;
    if (!part.empty()) {
        out += "." + part;
    }
    return out;
}

constexpr double kPlainBelow =
    1e15;  // above, every double is a whole number and digits would be padding
constexpr double kPlainFrom = 1e-6;

std::string scientific(double value, int digits) {
    return fmt::format("{:.{}e}", value, digits - 1);
}

}  // namespace

Result<double> parse_number(std::string_view text) {
    const auto bad = [&](std::string_view why) {
        return fail(ProblemCode::BadNumber,
                    fmt::format("{} is not a number: {}", quoted(text), why));
    };
    std::string plain_text;
    constexpr std::string_view kMinus = "\u2212";
    if (text.substr(0, kMinus.size()) == kMinus) {
        plain_text = "-" + std::string(text.substr(kMinus.size()));
    } else {
        plain_text = std::string(text);
    }
    std::string_view rest = plain_text;
    if (!rest.empty() && rest.front() == '+') {
        rest.remove_prefix(1);
    }
    if (rest.empty()) {
        return bad("nothing is there");
    }
    if (rest.find(',') != std::string_view::npos) {
        return bad("write a decimal point, not a comma, and no thousands separators");
    }
    const char first = rest.front() == '-' && rest.size() > 1 ? rest[1] : rest.front();
    if (!is_digit(first) && first != '.') {
        return bad("write digits such as 12.5 or 1.2e-3");
    }
    double value = 0;
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    if (error == std::errc::result_out_of_range) {
        return bad("it is too large or too small");
    }
    if (error != std::errc{} || end != rest.data() + rest.size() || !std::isfinite(value)) {
        return bad("write digits such as 12.5 or 1.2e-3");
    }
    return value;
}

std::string format_exact(double value) {
    const double size = std::abs(value);
    std::array<char, 64> buffer{};
    constexpr double kFixedFrom = 1e-5;
    const bool fixed = value == 0.0 || (size >= kFixedFrom && size < kPlainBelow);
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                   fixed ? std::chars_format::fixed : std::chars_format::scientific)
                         .ptr;
    return {buffer.data(), end};
}

std::string format_places(double value, int places) {
    if (!std::isfinite(value)) {
        return "not a number";
    }
    Digits d = digits_of(value);
    round_to_place(d, places);
    return plain(d, places);
}

std::string format_significant(double value, int digits) {
    if (value == 0.0 || !std::isfinite(value)) {
        return value == 0.0 ? "0" : "not a number";
    }
    if (std::abs(value) >= kPlainBelow || std::abs(value) < kPlainFrom) {
        return scientific(value, digits);
    }
    Digits d = digits_of(value);
    const int places = digits - d.point;
    round_to_place(d, places);
    // 9.996 to three digits becomes 10.0: one place fewer.
    return plain(d, d.point + places > digits ? places - 1 : places);
}

std::string format_short(double value, int digits) {
    std::string text = format_significant(value, digits);
    if (text.find('.') != std::string::npos && text.find('e') == std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') {
            text.pop_back();
        }
    }
    return text;
}

std::string ValueWithUncertainty::text() const {
    return uncertainty.empty() ? value : value + " \u00B1 " + uncertainty;
}

ValueWithUncertainty format_with_uncertainty(double value, double u) {
    constexpr int kDigitsOfU = 2;  // GUM 7.2.6
    constexpr int kDigitsWithoutU = 5;
    if (!(u > 0) || !std::isfinite(u)) {
        return {format_significant(value, kDigitsWithoutU), ""};
    }
    Digits du = digits_of(u);
    int places = kDigitsOfU - du.point;
    round_to_place(du, places);
    if (du.point + places > kDigitsOfU) {  // 0.0996 became 0.100
        --places;
    }
    Digits dv = digits_of(value);
    round_to_place(dv, places);
    return {plain(dv, places), plain(du, places)};
}

}  // namespace bw::base
