// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/verdict.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::path {
namespace {

constexpr double kMinutesPerHour = 60;
constexpr double kMilli = 1e-3;
constexpr double kMoment = 1.0 / kMinutesPerHour;  // h; what passes sooner leaves no solid
constexpr double kAtRest = 1.005;  // Omega where a solid on the bottom holds it at 1, integrated
constexpr double kSecond = 1.0 / 3600;
constexpr double kLongOver = 2;  // h above saturation that count for solids that take hours

std::string two_digits(double value) { return base::format_significant(value, 2); }

/// What one solid other than aragonite makes of the verdict.
Risk risk_of(const Exposure& e, double end_omega) {
    if (e.solid->key == "aragonite" || e.peak_omega <= kAtRest) {
        return Risk::Clear;
    }
    const bool over_at_end = end_omega > kAtRest;
    if (!over_at_end && e.hours_over <= kMoment) {
        return Risk::Clear;
    }
    const double long_enough = e.soon == ref::Forming::Minutes ? kMoment : kLongOver;
    const bool falls = e.soon != ref::Forming::Days && e.peak_omega > e.trusted &&
                       (over_at_end || e.hours_over > long_enough);
    return falls ? Risk::WillCloud : Risk::Watch;
}

/// Whether a solid is in the vat before calcium carbonate ends its time.
bool falls_sooner(const Exposure& e, const SafeTime& safe) {
    constexpr double kHours[] = {kMoment, kLongOver, 24};
    return safe.hours > kHours[static_cast<std::size_t>(e.soon)];
}

/// Clearing says nothing of whether a water is fit for use; a pH far off says that it is not.
void note_ph(const Moment& last, Verdict& out) {
    constexpr double kLow = 7;
    constexpr double kHigh = 9.5;
    const double ph = last.water.ph_total;
    if (!last.water.ln_omega.empty() && (ph < kLow || ph > kHigh)) {
        out.reasons.push_back(
            fmt::format("Its pH is {} after {}, which no sea has: look at its acids and bases.",
                        base::format_places(ph, 1), hours_in_words(last.h)));
    }
}

std::string reason_of(const Exposure& e) {
    constexpr std::string_view kFalls[] = {"within minutes", "within hours", "within days"};
    return fmt::format(
        "{} ({}) is supersaturated for {}, at most {} times; it can fall {}, and the ratio is "
        "trusted within a factor of {}.",
        e.solid->name, e.solid->formula, hours_in_words(e.hours_over), two_digits(e.peak_omega),
        kFalls[static_cast<std::size_t>(e.soon)], two_digits(e.trusted));
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

/// Warm surface water of the seas stays at Omega up to 5 for ever, and added alkalinity was stable
/// up to there [moras-2022].
bool known_to_last(const OnsetWater& water) {
    constexpr double kOmega = 5;
    constexpr double kWarmest = 30;
    return water.omega_aragonite <= kOmega && water.temperature.value() <= kWarmest;
}

std::string carbonate_reason(const VatPlan& plan, const Course& course, const SafeTime& safe) {
    const Moment& last = course.moments.back();
    std::string out =
        fmt::format("Calcium carbonate: the water goes to Omega of aragonite {} at pH {} after {}",
                    two_digits(last.omega_aragonite), base::format_places(last.water.ph_total, 2),
                    hours_in_words(last.h));
    if (!course.complete && safe.hours >= course.reached_h) {
        return out + "; none fell until the run stopped.";
    }
    if (safe.over_a_year) {
        return out + "; by the laws none falls within a year" +
               (safe.use_within_h < kHoursPerYear
                    ? fmt::format(", but were they as much quicker as they may be, after {}.",
                                  hours_in_words(safe.use_within_h))
                    : ".");
    }
    return out + (safe.hours < kSecond ? std::string("; it falls while the salt goes in.")
                  : safe.seeded
                      ? fmt::format("; on {} 1 % of alkalinity is lost after {}, "
                                    "within a factor of {:g}.",
                                    plan.seed_mg_per_kg > 0
                                        ? fmt::format("{:.6g} mg/kg of dust", plan.seed_mg_per_kg)
                                        : std::string("its own calcium carbonate"),
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
        if (!liquid || part.solid.mineral || part.kg_per_kg_water < kCounts * salt) {
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

/// Parts that lie on the bottom when the run ends.
struct Left {
    std::vector<std::string> saturated;  ///< sentences
    std::vector<std::string> saturated_parts;
    std::vector<std::string> slow;
    std::vector<std::string> parts;  ///< of both
};
Left left_of(const VatPlan& plan, const Course& course, double keep_h) {
    constexpr double kCounts = 0.01;    // of a part
    constexpr double kSaturated = 0.9;  // Omega from which the rest takes for ever
    constexpr double kWellOver = 1.1;
    constexpr double kGramPerKg = 1000;
    constexpr double kNever = std::numeric_limits<double>::infinity();
    const auto& ln_omega = course.moments.back().water.ln_omega;
    Left out;
    for (std::size_t p = 0; p < course.left.size(); ++p) {
        const Part& part = plan.parts[p];
        const double gone_h = p < course.gone_h.size() ? course.gone_h[p].value_or(kNever) : kNever;
        if (gone_h <= keep_h) {
            continue;
        }
        out.parts.push_back(part.name);
        const std::string grams = two_digits(course.left[p] * part.kg_per_kg_water * kGramPerKg);
        const auto mineral = part.solid.mineral;
        const double omega = mineral && !ln_omega.empty() ? std::exp(ln_omega[*mineral]) : 0;
        if (course.left[p] > kCounts && omega > kSaturated) {
            out.saturated_parts.push_back(part.name);
            out.saturated.push_back(fmt::format(
                "{} g of {} per kg of water stay on the bottom: the water is {} {}.", grams,
                part.name, omega > kWellOver ? "supersaturated with" : "saturated with",
                ref::minerals()[*mineral].name));
        } else if (gone_h < kNever) {
            out.slow.push_back(
                fmt::format("{} takes up to {} to dissolve, longer than the vat has "
                            "to keep.",
                            part.name, hours_in_words(gone_h)));
        } else {
            out.slow.push_back(
                fmt::format("{} g of {} per kg of water are not dissolved yet after {}.", grams,
                            part.name, hours_in_words(course.moments.back().h)));
        }
    }
    return out;
}

void judge_left(const Left& left, Verdict& out) {
    const Risk risk = !left.saturated.empty() ? Risk::WillCloud
                      : !left.slow.empty()    ? Risk::Watch
                                              : Risk::Clear;
    auto at = risk > out.risk ? out.reasons.begin() : out.reasons.end();
    at = out.reasons.insert(at, left.slow.begin(), left.slow.end());
    out.reasons.insert(at, left.saturated.begin(), left.saturated.end());
    out.risk = std::max(out.risk, risk);
    for (const std::string& part : left.parts) {
        out.against.push_back(part + ", not dissolved by then");
    }
}

void instruct(const Course& course, const Left& left, Verdict& out) {
    if (!left.saturated.empty()) {
        out.instructions.emplace_back(
            "Stirring does not help the part that stays on the bottom: take less of it, or a salt "
            "that this water dissolves.");
    } else if (course.marks.dissolved) {
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
    out.other_solids.insert(out.other_solids.end(), left.saturated_parts.begin(),
                            left.saturated_parts.end());
    if (!out.other_solids.empty()) {
        out.time_counts = false;
        out.instructions.push_back(fmt::format(
            "Do not count on the safe time: it speaks of calcium carbonate alone, and {} {} in the "
            "vat before.",
            base::join_words(out.other_solids), out.other_solids.size() == 1 ? "is" : "are"));
        return;
    }
    out.instructions.push_back(
        out.safe.use_within_h >= kHoursPerYear
            ? std::string("By the laws the vat keeps; its salinity and alkalinity still want "
                          "checking before use.")
            : fmt::format(
                  "Use the vat within {}: till then it is clear even by the quickest of what "
                  "the laws allow.",
                  hours_in_words(out.safe.use_within_h)));
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
    return h < kMoment         ? two_digits(h / kSecond) + " s"
           : h < 1             ? two_digits(h * kMinutesPerHour) + " min"
           : h <= 2 * kDay     ? two_digits(h) + " h"
           : h < kHoursPerYear ? two_digits(h / kDay) + " days"
                               : "a year";
}

SafeTime safe_time(const VatPlan& plan, const Course& course) {
    SafeTime out;
    const Marks& marks = course.marks;
    const double by_itself = marks.onset.value_or(kHoursPerYear);
    const double lost = marks.lost_1_percent.value_or(kHoursPerYear);
    out.seeded = marks.earliest_loss && lost < by_itself;
    const double known = course.complete ? kHoursPerYear : course.reached_h;
    out.hours = std::min({by_itself, lost, kHoursPerYear, known});
    out.over_a_year = out.hours >= kHoursPerYear;
    out.factor = out.seeded ? kLossFactor : onset_factor(plan);
    out.use_within_h = std::min({out.hours, marks.earliest_onset.value_or(kHoursPerYear),
                                 marks.earliest_loss.value_or(kHoursPerYear)});
    constexpr double kRounding = 100;  // of a degree; a vat held at 25 may be 25 and round-off
    OnsetWater sees;
    sees.omega_aragonite = course.last_looked.omega_aragonite;
    sees.temperature =
        unit::Celsius(std::round(course.last_looked.celsius * kRounding) / kRounding);
    constexpr double kHighest = 30;  // Omega to which the laws of growth were measured
    out.in_evidence = out.seeded ? peak_aragonite(course) <= kHighest
                                 : onset(sees).in_evidence || known_to_last(sees);
    return out;
}

Verdict judge(const VatPlan& plan, const Course& course, double keep_h) {
    Verdict out;
    out.safe = safe_time(plan, course);
    out.risk = !out.safe.over_a_year && out.safe.hours <= keep_h ? Risk::WillCloud
               : out.safe.use_within_h < keep_h                  ? Risk::Watch
                                                                 : Risk::Clear;
    out.reasons.push_back(carbonate_reason(plan, course, out.safe));
    Risk others = Risk::Clear;  // solids other than calcium carbonate
    for (const Exposure& e : exposures(course.moments)) {
        const Risk risk = risk_of(e, omega_at_end(course, *e.solid));
        if (risk == Risk::Clear) {
            continue;
        }
        const bool first = risk > out.risk || (risk == out.risk && falls_sooner(e, out.safe));
        out.reasons.insert(first ? out.reasons.begin() : out.reasons.end(), reason_of(e));
        out.risk = std::max(out.risk, risk);
        others = std::max(others, risk);
        out.against.emplace_back(e.solid->name);
        if (risk == Risk::WillCloud) {
            out.other_solids.emplace_back(e.solid->name);
        }
    }
    if (!course.complete) {
        const bool fell = course.marks.onset || course.marks.lost_5_percent;
        // The safe time ends with the run then, which is no verdict; other solids' is.
        out.risk = std::max(fell ? out.risk : others, Risk::Watch);
        out.reasons.insert(out.reasons.begin(),
                           fmt::format("The run stops after {}: what comes later is not known.",
                                       hours_in_words(course.reached_h)));
    }
    const Left left = left_of(plan, course, keep_h);
    judge_left(left, out);
    note_ph(course.moments.back(), out);
    set_stirring(plan, course, out);
    instruct(course, left, out);
    return out;
}

}  // namespace bw::path
