// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/verdict.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "path/onset.hpp"

namespace bw::path {
namespace {

constexpr double kMinutesPerHour = 60;
constexpr double kMilli = 1e-3;
constexpr double kMoment = 1.0 / kMinutesPerHour;  // h; what passes sooner leaves no solid
constexpr double kLongOver = 2;  // h above saturation that count for solids that take hours

std::string two_digits(double value) { return base::format_significant(value, 2); }

/// What one solid other than aragonite makes of the verdict.
Risk risk_of(const Exposure& e, double end_omega) {
    if (e.solid->key == "aragonite" || e.peak_omega <= 1) {
        return Risk::Clear;
    }
    const double long_enough = e.solid->forming == ref::Forming::Minutes ? kMoment : kLongOver;
    const bool lasting = end_omega > 1 || e.hours_over > long_enough;
    if (!lasting) {
        return Risk::Clear;
    }
    const bool quick = e.solid->forming != ref::Forming::Days;
    return quick && e.peak_omega > e.trusted ? Risk::WillCloud : Risk::Watch;
}

std::string reason_of(const Exposure& e) {
    constexpr std::string_view kFalls[] = {"within minutes", "within hours", "within days"};
    return fmt::format(
        "{} ({}) is supersaturated for {}, at most {} times; it can fall {}, and the ratio is "
        "trusted within a factor of {}.",
        e.solid->name, e.solid->formula, hours_in_words(e.hours_over), two_digits(e.peak_omega),
        kFalls[static_cast<std::size_t>(e.solid->forming)], two_digits(e.trusted));
}

double omega_at_end(const Course& course, const ref::MineralRow& solid) {
    const auto rows = ref::minerals();
    const auto place = static_cast<std::size_t>(&solid - rows.data());
    const auto& ln_omega = course.moments.back().water.ln_omega;
    return place < ln_omega.size() ? std::exp(ln_omega[place]) : 0;
}

double peak_aragonite(const Course& course) {
    double peak = 0;
    for (const Moment& m : course.moments) {
        peak = std::max(peak, m.omega_aragonite);
    }
    return peak;
}

std::string carbonate_reason(const VatPlan& plan, const Course& course, const SafeTime& safe) {
    const Moment& last = course.moments.back();
    std::string out =
        fmt::format("Calcium carbonate: the water goes to Omega of aragonite {} at pH {} after {}",
                    two_digits(last.omega_aragonite), base::format_places(last.water.ph_total, 2),
                    hours_in_words(last.h));
    if (safe.over_a_year) {
        return out + "; by the laws none falls within a year.";
    }
    return out + (safe.seeded
                      ? fmt::format("; on {} mg/kg of seed 5 % of alkalinity is lost after {}, "
                                    "within a factor of {:g}.",
                                    base::format_exact(plan.seed_mg_per_kg),
                                    hours_in_words(safe.hours), safe.factor)
                      : fmt::format("; by itself it starts to fall after {}, within a factor of "
                                    "{:g}.",
                                    hours_in_words(safe.hours), safe.factor));
}

/// Hours until a lump of the slowest part is gone in the finished water, and which part it is.
void set_stirring(const VatPlan& plan, const Course& course, Verdict& out) {
    constexpr double kSecondsPerHour = 3600;
    constexpr double kGramPerKg = 1000;
    constexpr double kCounts = 1e-3;  // of the salt; smaller parts do not cake
    double salt = 0;
    for (const Part& part : plan.parts) {
        salt += part.kg_per_kg_water;
    }
    const auto liquid = liquid_of(unit::GramPerKg(kGramPerKg * salt / (1 + salt)),
                                  unit::Celsius(course.moments.back().celsius));
    for (const Part& part : plan.parts) {
        if (!liquid || part.kg_per_kg_water < kCounts * salt) {
            continue;
        }
        if (const auto film = film_of(part.solid, *liquid, plan.stirring)) {
            const double hours = seconds_to_dissolve(*film, kLump_m) / kSecondsPerHour;
            if (hours > out.stir_h) {
                out.stir_h = hours;
                out.slowest = part.name;
            }
        }
    }
    double last = 0;
    for (const Addition& a : plan.additions) {
        last = std::max(last, a.at_h);
    }
    out.stir_h = std::max(out.stir_h, course.marks.dissolved.value_or(0) - last);
}

void instruct(const Course& course, double keep_h, Verdict& out) {
    if (course.marks.dissolved) {
        out.instructions.push_back(fmt::format(
            "Stir for {} after the last addition, and until nothing lies on the bottom: single "
            "grains are gone sooner ({} from the start), but a caked lump of {:g} mm of {} takes "
            "that long.",
            hours_in_words(out.stir_h), hours_in_words(*course.marks.dissolved), kLump_m / kMilli,
            out.slowest));
    } else {
        out.instructions.emplace_back(
            "Stir longer than the run lasts: part of the salt is still solid at its end.");
    }
    if (out.risk == Risk::WillCloud && out.use_within_h > keep_h) {
        out.instructions.emplace_back(
            "Do not count on the safe time: another solid than calcium carbonate falls first.");
        return;
    }
    out.instructions.push_back(
        out.safe.over_a_year
            ? std::string("By the laws the vat keeps; its salinity and alkalinity still want "
                          "checking before use.")
            : fmt::format("Use the vat within {}: the safe time less its factor.",
                          hours_in_words(out.use_within_h)));
}

}  // namespace

std::string_view name(Risk risk) {
    switch (risk) {
        case Risk::Clear:
            return "clear";
        case Risk::Watch:
            return "watch";
        case Risk::WillCloud:
            break;
    }
    return "will cloud";
}

std::string hours_in_words(double h) {
    constexpr double kDay = 24;
    return h < 1               ? two_digits(h * kMinutesPerHour) + " min"
           : h < 4 * kDay      ? two_digits(h) + " h"
           : h < kHoursPerYear ? two_digits(h / kDay) + " days"
                               : "a year";
}

SafeTime safe_time(const VatPlan& plan, const Course& course) {
    constexpr double kSeeded = 3;
    constexpr double kByItself = 5;
    constexpr double kDusty = 10;
    SafeTime out;
    const double by_itself = course.marks.onset.value_or(kHoursPerYear);
    const double lost = course.marks.lost_5_percent.value_or(kHoursPerYear);
    out.seeded = plan.seed_mg_per_kg > 0 && lost < by_itself;
    const double known = course.complete ? kHoursPerYear : course.reached_h;
    out.hours = std::min({by_itself, lost, kHoursPerYear, known});
    out.over_a_year = out.hours >= kHoursPerYear;
    out.factor = out.seeded ? kSeeded : plan.particles > 1 ? kDusty : kByItself;
    const Moment& last = course.moments.back();
    OnsetWater sees;
    sees.omega_aragonite = last.omega_aragonite;
    sees.temperature = unit::Celsius(last.celsius);
    constexpr double kHighest = 30;  // Omega to which the laws of growth were measured
    out.in_evidence = out.seeded ? peak_aragonite(course) <= kHighest : onset(sees).in_evidence;
    return out;
}

Verdict judge(const VatPlan& plan, const Course& course, double keep_h) {
    Verdict out;
    out.safe = safe_time(plan, course);
    out.use_within_h = out.safe.hours / out.safe.factor;
    out.risk = out.safe.over_a_year        ? Risk::Clear
               : out.safe.hours <= keep_h  ? Risk::WillCloud
               : out.use_within_h < keep_h ? Risk::Watch
                                           : Risk::Clear;
    out.reasons.push_back(carbonate_reason(plan, course, out.safe));
    for (const Exposure& e : exposures(course.moments)) {
        const Risk risk = risk_of(e, omega_at_end(course, *e.solid));
        if (risk == Risk::Clear) {
            continue;
        }
        out.reasons.insert(risk > out.risk ? out.reasons.begin() : out.reasons.end(), reason_of(e));
        out.risk = std::max(out.risk, risk);
    }
    if (!course.complete) {
        const bool fell = course.marks.onset || course.marks.lost_5_percent;
        out.risk = fell ? std::max(out.risk, Risk::Watch) : Risk::Watch;
        out.reasons.insert(out.reasons.begin(),
                           fmt::format("The run stops after {}: what comes later is not known.",
                                       hours_in_words(course.reached_h)));
    }
    set_stirring(plan, course, out);
    instruct(course, keep_h, out);
    return out;
}

}  // namespace bw::path
