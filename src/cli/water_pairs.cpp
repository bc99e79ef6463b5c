// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/table.hpp"
#include "cli/water_output.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

constexpr int kDigits = 5;
constexpr int kDigitsOfLikes = 7;
constexpr double kLike = 1e-3;  // relative difference under which more digits are shown

/// So many digits that the difference shows.
std::string shown(const QuantityPair& p, const std::optional<double>& value) {
    constexpr int kPhPlaces = 3;
    const bool like = p.first && p.second && std::abs(*p.second - *p.first) < kLike * *p.first;
    return !value          ? "-"
           : p.logarithmic ? base::format_places(*value, kPhPlaces)
                           : base::format_significant(*value, like ? kDigitsOfLikes : kDigits);
}

std::string signed_number(std::optional<double> v, bool places) {
    if (!v) {
        return "";
    }
    constexpr int kDifferenceDigits = 3;
    const std::string text =
        places ? base::format_places(*v, 3) : base::format_significant(*v, kDifferenceDigits);
    return *v > 0 ? "+" + text : text;
}

/// Whether a chemist would look at it: solids far from forming in both waters are left out.
bool worth_a_look(const QuantityPair& p) {
    const bool solid = p.name.starts_with("saturation of");
    return (p.first || p.second) &&
           (!solid || std::max(p.first.value_or(0), p.second.value_or(0)) >= kSmallestOmega);
}

std::string temperatures_differ(const service::WaterReport& first,
                                const service::WaterReport& second) {
    const double a = first.state.temperature.value();
    const double b = second.state.temperature.value();
    return a == b ? ""
                  : wrapped("  ", "The first is at " + base::format_exact(a) +
                                      " \u00B0C, the second at " + base::format_exact(b) +
                                      " \u00B0C: part of what differs below is the temperature. "
                                      "--temperature compares both at one.") +
                        "\n";
}

/// Each notice once, with the waters that it is of.
std::string notices_of_both(const service::WaterReport& first, const service::WaterReport& second) {
    const std::vector<std::string> a = sentences_of(first.notices);
    const std::vector<std::string> b = sentences_of(second.notices);
    std::vector<std::string> out;
    for (const std::string& text : a) {
        const bool both = std::ranges::find(b, text) != b.end();
        out.push_back((both ? "Both: " : "First: ") + text);
    }
    for (const std::string& text : b) {
        if (std::ranges::find(a, text) == a.end()) {
            out.push_back("Second: " + text);
        }
    }
    return out.empty() ? "" : "\nTake note\n" + bullets(out);
}

std::string_view remark_on(const QuantityPair& p) {
    return p.within_uncertainty().value_or(false)  ? "within the uncertainty"
           : p.next_to_nothing() && !p.logarithmic ? "the first is next to nothing"
                                                   : "";
}

bool same(const QuantityPair& p) {
    constexpr double kSame = 5e-7;      // relative
    constexpr double kNothing = 1e-12;  // mmol/kg: what is left of a sum that is 0
    if (!p.first || !p.second) {
        return false;
    }
    const double larger = std::max(std::abs(*p.first), std::abs(*p.second));
    return std::abs(*p.second - *p.first) <= std::max(kSame * larger, kNothing);
}

}  // namespace

std::optional<double> QuantityPair::difference() const {
    return first && second ? std::optional<double>(*second - *first) : std::nullopt;
}

std::optional<bool> QuantityPair::within_uncertainty() const {
    constexpr double kCoverage = 2;
    return difference() && u_first && u_second
               ? std::optional(std::abs(*difference()) <
                               kCoverage * std::hypot(*u_first, *u_second))
               : std::nullopt;
}

bool QuantityPair::next_to_nothing() const {
    constexpr double kNothing = 1e-6;
    return first && second && *first != *second && std::abs(*first) <= kNothing * std::abs(*second);
}

std::optional<double> QuantityPair::relative_percent() const {
    if (logarithmic || !first || !second || next_to_nothing()) {
        return std::nullopt;
    }
    return (*second / *first - 1) * unit::kPercent;
}

std::vector<QuantityPair> paired(const service::WaterReport& first,
                                 const service::WaterReport& second) {
    std::vector<QuantityPair> out;
    const std::vector<WaterQuantity> a = water_quantities(first);
    const std::vector<WaterQuantity> b = water_quantities(second);
    const auto named = [](const std::vector<WaterQuantity>& list, const std::string& name) {
        return std::find_if(list.begin(), list.end(),
                            [&](const WaterQuantity& q) { return q.name == name; });
    };
    for (const WaterQuantity& q : a) {
        const auto other = named(b, q.name);
        const bool both = other != b.end();
        out.push_back({q.name, q.unit, q.value, both ? other->value : std::nullopt, q.logarithmic,
                       q.u, both ? other->u : std::nullopt});
    }
    std::size_t after = 0;  // what only the second has stands where it does there
    for (const WaterQuantity& q : b) {
        const auto there = std::find_if(out.begin(), out.end(),
                                        [&](const QuantityPair& p) { return p.name == q.name; });
        if (there != out.end()) {
            after = static_cast<std::size_t>(there - out.begin()) + 1;
            continue;
        }
        out.insert(out.begin() + static_cast<std::ptrdiff_t>(after),
                   {q.name, q.unit, std::nullopt, q.value, q.logarithmic, std::nullopt, q.u});
        ++after;
    }
    return out;
}

io::Sheet water_sheet_rows(const service::WaterReport& report) {
    io::Sheet out{"Water", {"quantity", "unit", "value"}, {}};
    for (const WaterQuantity& q : water_quantities(report)) {
        out.rows.push_back({q.name, q.unit, q.value ? io::Cell(*q.value) : io::Cell()});
    }
    return out;
}

std::string compare_text(const service::WaterReport& first, const service::WaterReport& second) {
    TextTable table({{{"quantity"}, Align::Left},
                     {{"unit"}, Align::Left},
                     {{"first"}, Align::Decimal},
                     {{"second"}, Align::Decimal},
                     {{"difference"}, Align::Decimal},
                     {{"change, %"}, Align::Decimal},
                     {{""}, Align::Left}});
    std::vector<std::string> alike;
    bool differ = false;
    for (const QuantityPair& p : paired(first, second)) {
        if (!worth_a_look(p)) {
            continue;
        }
        if (same(p)) {
            alike.push_back(p.name);
            continue;
        }
        differ = true;
        table.add({p.name, p.unit, shown(p, p.first), shown(p, p.second),
                   signed_number(p.difference(), p.logarithmic),
                   p.next_to_nothing() && !p.logarithmic
                       ? "-"
                       : signed_number(p.relative_percent(), false),
                   std::string(remark_on(p))});
    }
    std::string out = "first   " + water_name(first) + "  (" + first.spec.place.file + ")\n" +
                      "second  " + water_name(second) + "  (" + second.spec.place.file + ")\n\n" +
                      temperatures_differ(first, second) +
                      (differ ? table.text() : "  The two waters are the same.\n");
    if (differ && !alike.empty()) {
        out += "\n" + wrapped("  the same in both: ", base::join_words(alike) + ".");
    }
    return out + notices_of_both(first, second);
}

}  // namespace bw::cli
