// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/limit_search.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "service/recipe_course.hpp"
#include "service/water_limits.hpp"

namespace bw::service {

using recipe::SaturationLimit;
using recipe::Solution;
using recipe::Verdict;

namespace {

/// What ln of the time is about linear in: ln(Omega - 1) where crystals grow on seed, 1/(ln
/// Omega)^2 where they start by themselves.
double abscissa(double ln_omega, bool seeded) {
    constexpr double kLeast = 1e-9;
    return seeded ? std::log(std::max(kLeast, std::expm1(ln_omega)))
                  : -1 / std::max(kLeast, ln_omega * ln_omega);
}

double ln_omega_at(double x, bool seeded) {
    constexpr double kLeast = 1e-9;
    return seeded ? std::log1p(std::exp(x)) : std::sqrt(-1 / std::min(-kLeast, x));
}

/// A vat that holds for all of the year that is looked at: how much longer is not known.
bool knows_no_end(const LimitAttempt& a) { return a.time->use_within_h >= path::kHoursPerYear; }

/// ln Omega with which the lack would be nothing, by two tries.
double without_lack(const LimitAttempt& above, double lack_above, const LimitAttempt& tried,
                    double lack_tried) {
    const bool seeded = tried.time->seeded;
    const double x1 = abscissa(above.ln_omega, seeded);
    const double x2 = abscissa(tried.ln_omega, seeded);
    const double slope = (lack_above - lack_tried) / (x1 - x2);
    // Carbonate goes as the square of alkalinity in one air: at Omega of about 1.02 a loss of 1 %
    // ends at saturation, and below that no seed takes so much.
    constexpr double kNever = 0.02;
    const double out = ln_omega_at(x2 - lack_tried / slope, seeded);
    return seeded ? std::max(kNever, out) : out;
}

}  // namespace

SaturationLimit LimitSearch::aragonite(double ln_omega) const {
    return {std::string(kSafeTimeKey), "aragonite", std::exp(ln_omega), asked()->air_pco2_atm,
            asked()->temperature_degC};
}

/// ln of how many times longer it should be.
double LimitSearch::lack(const LimitAttempt& a) const {
    return std::log(asked()->hours / a.time->use_within_h);
}

Result<LimitAttempt> LimitSearch::go() {
    BW_TRY(free, attempt(std::nullopt));
    if (!asked() || !free.solved() || is_long(free)) {
        return std::move(free);
    }
    double per_omega = 6;  // -d ln(time) / d ln(Omega), about; then as found
    constexpr double kLeastSlope = 1;
    constexpr double kBeyond = 1.15;
    constexpr double kLeastStep = 0.01;
    constexpr double kMostStep = 0.7;
    LimitAttempt high = std::move(free);
    std::optional<LimitAttempt> low;
    for (int i = 0; i < kTries && !low; ++i) {
        const double step = std::clamp(kBeyond * lack(high) / per_omega, kLeastStep, kMostStep);
        BW_TRY(tried, attempt(high.ln_omega - step));
        if (!tried.solved()) {
            BW_TRY(least, at_least_omega(high, std::move(tried)));
            if (!least.solved()) {
                return std::move(least);
            }
            tried = std::move(least);
        }
        if (is_long(tried)) {
            low = std::move(tried);
            break;
        }
        per_omega =
            std::max(kLeastSlope, (lack(high) - lack(tried)) / (high.ln_omega - tried.ln_omega));
        high = std::move(tried);
    }
    if (!low) {  // neither held nor shown to be out of reach
        high.solution.verdict = Verdict::NotProven;
        high.solution.dose_kg_per_kg.clear();
        high.solution.notices.push_back(
            {"limits_not_met", fmt::format("After {} searches no recipe was found that keeps the "
                                           "safe time, nor a proof that there is none.",
                                           kTries)});
        return high;
    }
    return between(std::move(*low), std::move(high));
}

Result<LimitAttempt> LimitSearch::attempt(std::optional<double> ln_omega, double room) {
    std::vector<SaturationLimit> limits = target_.limits.saturation;
    if (ln_omega) {
        limits.push_back(aragonite(*ln_omega));
    }
    for (SaturationLimit& limit : limits) {
        limit.highest_omega *= std::exp(-room);
    }
    LimitAttempt out;
    out.loop = std::make_unique<LimitLoop>(target_, supplies_, options_, water_, std::move(limits));
    BW_TRY(solution, out.loop->run());
    out.solution = std::move(solution);
    if (asked() && out.solved()) {
        BW_CHECK(time_it(out.solution, out));
    }
    return out;
}

Result<void> LimitSearch::time_it(const Solution& solution, LimitAttempt& out) {
    BW_TRY(time, recipe_safe_time(supplies_, solution.dose_kg_per_kg, *asked()));
    out.time = time;
    BW_TRY(omega, water_.slope(aragonite(0), solution.water.mol_per_kg));
    out.ln_omega = omega.ln_omega;
    return {};
}

/// From a try below the least Omega within reach to one just above it; when even that is too short
/// a time, the try stays unsolved, with the time that is within reach.
Result<LimitAttempt> LimitSearch::at_least_omega(const LimitAttempt& above, LimitAttempt tried) {
    if (!tried.loop->least_over()) {
        return tried;
    }
    BW_CHECK(time_it(*tried.loop->least_over(), tried));
    if (!is_long(tried)) {
        // The conflict is explained at the Omega that the time would take.
        BW_TRY(needed, attempt(without_lack(above, lack(above), tried, lack(tried))));
        constexpr int kRounds = 5;
        constexpr double kNear = 0.02;
        for (int i = 0; i < kRounds && !needed.solved(); ++i) {
            BW_TRY(outside, needed.loop->break_bands());
            if (!outside) {
                break;
            }
            LimitAttempt timed;
            BW_CHECK(time_it(*outside, timed));
            if (std::abs(lack(timed)) < kNear) {
                break;
            }
            const double nearer_omega = knows_no_end(timed)
                                            ? (tried.ln_omega + timed.ln_omega) / 2
                                            : without_lack(tried, lack(tried), timed, lack(timed));
            BW_TRY(nearer, attempt(nearer_omega));
            needed = std::move(nearer);
        }
        needed.time = tried.time;
        return std::move(needed);
    }
    constexpr double kAbove = 1e-4;
    return attempt(tried.ln_omega + kAbove);
}

/// Draws a bracket in by the secant of the logarithms, an end that stays counting half each time
/// (the Illinois rule); by its middle while the longer time is only known to be over a year.
Result<LimitAttempt> LimitSearch::between(LimitAttempt low, LimitAttempt high) {
    constexpr double kNear = 1e-3;  // of the time asked
    const auto off = [&](const LimitAttempt& a) { return lack(a) + kNear / 2; };
    double off_low = off(low);
    double off_high = off(high);
    bool last_was_low = false;
    bool first = true;
    for (int i = 0; i < 2 * kTries && -lack(low) > kNear; ++i) {
        const double share =
            knows_no_end(low) || !(off_high > 0) ? 0.5 : off_high / (off_high - off_low);
        BW_TRY(tried, attempt(high.ln_omega + share * (low.ln_omega - high.ln_omega)));
        if (!tried.solved()) {
            break;
        }
        const bool is_low = is_long(tried);
        double& stays = is_low ? off_high : off_low;
        stays *= !first && is_low == last_was_low ? 0.5 : 1;
        (is_low ? off_low : off_high) = off(tried);
        (is_low ? low : high) = std::move(tried);
        last_was_low = is_low;
        first = false;
    }
    return low;
}

/// Whole numbers within tighter limits, where those asked for left no room between the tangents:
/// what holds the tighter ones holds those asked for.
Result<Solution> LimitSearch::with_room(LimitAttempt& made, Solution none) {
    const auto omega = asked() ? std::optional(made.ln_omega) : std::nullopt;
    for (const double room : {0.01, 0.03, 0.1, 0.3, 0.5}) {
        BW_TRY(tighter, attempt(omega, room));
        if (!tighter.solved()) {
            break;
        }
        BW_TRY(found, tighter.loop->in_whole_numbers(tighter.solution));
        if (found.verdict != Verdict::Solved) {
            continue;
        }
        if (asked()) {
            BW_TRY(time, recipe_safe_time(supplies_, found.dose_kg_per_kg, *asked()));
            if (time.use_within_h < asked()->hours * (1 - kLimitTolerance)) {
                continue;
            }
        }
        made = std::move(tighter);
        return found;
    }
    return none;
}

Result<Solution> LimitSearch::weighed(LimitAttempt& made) {
    constexpr double kDrawIn = 0.003;
    constexpr int kRounds = 4;
    Solution out;
    for (int i = 0; i < kRounds; ++i) {
        BW_TRY(found, made.loop->in_whole_numbers(made.solution));
        out = std::move(found);
        if (out.verdict == Verdict::NotProven) {
            return with_room(made, std::move(out));
        }
        if (!asked() || out.verdict != Verdict::Solved) {
            return out;
        }
        BW_TRY(time, recipe_safe_time(supplies_, out.dose_kg_per_kg, *asked()));
        if (time.use_within_h >= asked()->hours * (1 - kLimitTolerance)) {
            return out;
        }
        BW_TRY(drawn, attempt(made.ln_omega - kDrawIn * (i + 1)));
        if (!drawn.solved()) {
            break;
        }
        made = std::move(drawn);
    }
    out.verdict = Verdict::NotProven;
    out.dose_kg_per_kg.clear();
    out.notices.push_back({"limits_not_met",
                           "There is a recipe, but none was found whose weighings keep the "
                           "safe time: take a finer scale, or ask for a shorter time."});
    return out;
}

}  // namespace bw::service
