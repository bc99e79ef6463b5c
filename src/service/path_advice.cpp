// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/path_advice.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "path/order.hpp"

namespace bw::service {
namespace {

constexpr double kStep = 0.5;  // h between two additions, and of mixing after the last

/// Largest Omega of aragonite while mixing.
double peak(const path::VatPlan& plan, const path::Course& course) {
    double out = 0;
    for (const path::Moment& m : path::while_mixing(plan, course, kStep)) {
        out = std::max(out, m.omega_aragonite);
    }
    return out;
}

/// First and one past the last of the longest row of temperatures no worse than a risk.
std::pair<std::size_t, std::size_t> row_no_worse(const std::vector<AtTemperature>& window,
                                                 path::Risk most) {
    std::pair<std::size_t, std::size_t> best{0, 0};
    for (std::size_t from = 0; from < window.size();) {
        std::size_t to = from;
        while (to < window.size() && window[to].risk <= most) {
            ++to;
        }
        if (to - from > best.second - best.first) {
            best = {from, to};
        }
        from = to + 1;
    }
    return best;
}

std::string between(double low, double high) {
    return low == high ? fmt::format("at {:g} \u00B0C", low)
                       : fmt::format("at {:g} to {:g} \u00B0C", low, high);
}

/// Where the time would do and the vat is not clear all the same: what stands against it.
std::string stands_against(const std::vector<AtTemperature>& window, double keep_h) {
    const auto enough = [&](const AtTemperature& at) {
        return at.complete && at.safe.use_within_h >= keep_h;
    };
    const auto first = std::find_if(window.begin(), window.end(), enough);
    if (first == window.end()) {
        return {};
    }
    const auto last = std::find_if(window.rbegin(), window.rend(), enough);
    std::vector<std::string> against;
    for (auto at = first; at != last.base(); ++at) {
        for (const std::string& one : at->against) {
            if (std::ranges::find(against, one) == against.end()) {
                against.push_back(one);
            }
        }
    }
    if (against.empty()) {
        return {};
    }
    return fmt::format(" The time to calcium carbonate alone would do {}; against it {} {} there.",
                       between(first->celsius, last->celsius),
                       against.size() == 1 ? "stands" : "stand", base::join_words(against));
}

}  // namespace

std::optional<TemperatureRow> temperatures_no_worse(const std::vector<AtTemperature>& window,
                                                    path::Risk most) {
    const auto [from, to] = row_no_worse(window, most);
    if (from == to) {
        return std::nullopt;
    }
    return TemperatureRow{window[from].celsius, window[to - 1].celsius};
}

std::string temperature_words(const std::vector<AtTemperature>& window, double keep_h) {
    const std::string keeps = base::format_exact(keep_h) + " h";
    const auto [from, to] = row_no_worse(window, path::Risk::Clear);
    if (from == to) {
        return fmt::format(
            "At no temperature from {:g} to {:g} \u00B0C may it be counted on for {}: change the "
            "recipe, mix smaller vats or use them sooner.{}",
            window.front().celsius, window.back().celsius, keeps, stands_against(window, keep_h));
    }
    const std::string where = between(window[from].celsius, window[to - 1].celsius);
    if (to - from == window.size()) {
        return fmt::format("Held {} it may be counted on for {}.", where, keeps);
    }
    const AtTemperature& next = to == window.size() ? window[from - 1] : window[to];
    return fmt::format(
        "Mix and keep it {}, where it may be counted on for {}, as long as it brings no more dust "
        "of CaCO3 than stated; at {:g} \u00B0C it may not{}.",
        where, keeps, next.celsius,
        next.safe.use_within_h < keep_h || next.against.empty()
            ? ""
            : ": not for the time to calcium carbonate, but for " + base::join_words(next.against));
}

Result<std::string> order_advice(const path::VatPlan& plan, const path::Course& course,
                                 double keep_h) {
    constexpr double kWorthWhile = 1.1;  // times, the trust in Omega
    const std::string into = "Salt goes into the whole of the water, never water onto the salt";
    const auto stated = [](const path::Addition& a) { return a.at_h > 0 || a.dissolved_before; };
    constexpr double kLast = 3 * kStep;  // of two additions and the mixing after them
    if (std::ranges::any_of(plan.additions, stated) || plan.hours <= kLast) {
        return into + ".";
    }
    const auto orders = path::usual_orders(plan.parts, kStep);
    const path::Order& order = orders[path::kAlkalinityLast];
    path::VatPlan last = plan;
    last.additions = order.additions;
    BW_TRY(staged, path::run_course(last));
    const auto digits = [](double value) { return base::format_significant(value, 2); };
    const path::Risk at_once_risk = path::judge(plan, course, keep_h).risk;
    const path::Risk in_order_risk = path::judge(last, staged, keep_h).risk;
    const double at_once = peak(plan, course);
    const double in_order = peak(last, staged);
    if (in_order_risk >= at_once_risk && in_order * kWorthWhile >= at_once) {
        return fmt::format(
            "{}; all at once will do: in what order it goes in changes little for this salt "
            "(Omega of aragonite goes to {} while mixing, with alkalinity last to {}).",
            into, digits(at_once), digits(in_order));
    }
    std::vector<std::string> names;
    const auto roles = path::roles_of(plan.parts);
    for (std::size_t p = 0; p < roles.size(); ++p) {
        if (roles[p] == path::Role::Alkalinity) {
            names.push_back(plan.parts[p].name);
        }
    }
    return fmt::format(
        "{}, in this order, half an hour between: {} (of alkalinity: {}). {}.", into, order.name,
        base::join_words(names),
        in_order_risk < at_once_risk
            ? fmt::format("The verdict is \"{}\" then", path::name(in_order_risk))
            : fmt::format("While mixing Omega of aragonite goes to {} then instead of {}",
                          digits(in_order), digits(at_once)));
}

std::string carbonate_advice(const path::VatPlan& plan, const path::Verdict& verdict,
                             double keep_h) {
    if (verdict.risk == path::Risk::Clear) {
        return {};
    }
    path::VatPlan with = plan;
    const auto parts = path::with_carbonate_share(plan.parts, 0);
    if (!parts) {
        return {};
    }
    with.parts = *parts;
    with.additions = all_at_once(with.parts.size());
    const auto course = path::run_course(with);
    if (!course) {
        return {};
    }
    const path::Verdict other = path::judge(with, *course, keep_h);
    if (other.risk >= verdict.risk) {
        return {};
    }
    return fmt::format(
        "Were all its carbonate hydrogencarbonate of the same alkalinity, the vat would be \"{}\" "
        "(comparing the ways to make it up shows what lies between).",
        path::name(other.risk));
}

}  // namespace bw::service
