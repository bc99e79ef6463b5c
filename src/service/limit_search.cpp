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

std::vector<SaturationLimit> LimitSearch::limits(std::optional<double> ln_omega) const {
    std::vector<SaturationLimit> out = target_.limits.saturation;
    if (ln_omega) {
        out.push_back(aragonite(*ln_omega));
    }
    return out;
}

Result<LimitAttempt> LimitSearch::attempt(std::optional<double> ln_omega) {
    LimitAttempt out;
    out.loop = std::make_unique<LimitLoop>(target_, supplies_, options_, water_, limits(ln_omega));
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

/// The recipe as it is, with one material after another taken off the shelf, the least first, until
/// there are as few as allowed; each time the limits are held anew. A search in whole numbers by
/// tangents alone can end at materials whose water is far from where they were taken.
Result<std::optional<Solution>> LimitSearch::with_fewer(const LimitAttempt& made) {
    const auto most = target_.limits.most_materials;
    if (!most) {
        return std::nullopt;
    }
    const auto omega = asked() ? std::optional(made.ln_omega) : std::nullopt;
    std::vector<double> dose = made.solution.dose_kg_per_kg;
    Solution last;
    // Solves with what has a dose, less one; false where that leaves no recipe.
    const auto solve_without = [&](std::optional<std::size_t> gone, bool whole) -> Result<bool> {
        std::vector<recipe::Supply> shelf;
        std::vector<std::size_t> places;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            if (dose[j] > 0 && j != gone) {
                shelf.push_back(supplies_[j]);
                places.push_back(j);
            }
        }
        recipe::SolveOptions options = options_;
        options.stay_near.clear();
        LimitLoop loop(target_, shelf, options, water_, limits(omega));
        BW_TRY(found, loop.run());
        if (whole && found.verdict == Verdict::Solved) {
            BW_TRY(weighed, loop.in_whole_numbers(found));
            found = std::move(weighed);
        }
        if (found.verdict != Verdict::Solved) {
            return false;
        }
        std::vector<double> tried(supplies_.size(), 0);
        for (std::size_t i = 0; i < places.size(); ++i) {
            tried[places[i]] = found.dose_kg_per_kg[i];
        }
        BW_TRY(lasts, is_long(tried));
        if (lasts) {
            dose = std::move(tried);
            last = std::move(found);
        }
        return lasts;
    };
    const auto used = [&] {
        std::vector<std::size_t> out;
        for (std::size_t j = 0; j < dose.size(); ++j) {
            if (dose[j] > 0) {
                out.push_back(j);
            }
        }
        std::ranges::sort(out, {}, [&](std::size_t j) { return dose[j]; });
        return out;
    };
    for (std::vector<std::size_t> order = used(); std::ssize(order) > *most; order = used()) {
        bool dropped = false;
        for (std::size_t i = 0; i < order.size() && !dropped; ++i) {
            BW_TRY(solved, solve_without(order[i], false));
            dropped = solved;
        }
        if (!dropped) {
            return std::nullopt;
        }
    }
    BW_TRY(solved, solve_without(std::nullopt, true));
    if (!solved) {
        return std::nullopt;
    }
    Solution out = std::move(last);
    out.dose_kg_per_kg = std::move(dose);
    return out;
}

/// Whether a recipe is good for as long as asked, where that is asked.
Result<bool> LimitSearch::is_long(const std::vector<double>& dose_kg_per_kg) {
    if (!asked()) {
        return true;
    }
    BW_TRY(time, recipe_safe_time(supplies_, dose_kg_per_kg, *asked()));
    return time.use_within_h >= asked()->hours * (1 - kLimitTolerance);
}

Result<Solution> LimitSearch::weighed(LimitAttempt& made) {
    constexpr double kDrawIn = 0.003;
    constexpr int kRounds = 4;
    Solution out;
    for (int i = 0; i < kRounds; ++i) {
        BW_TRY(found, made.loop->in_whole_numbers(made.solution));
        out = std::move(found);
        if (out.verdict == Verdict::NotProven) {
            BW_TRY(fewer, with_fewer(made));
            return fewer ? std::move(*fewer) : std::move(out);
        }
        if (!asked() || out.verdict != Verdict::Solved) {
            return out;
        }
        BW_TRY(lasts, is_long(out.dose_kg_per_kg));
        if (lasts) {
            return out;
        }
        BW_TRY(drawn, attempt(made.ln_omega - kDrawIn * (i + 1)));
        if (!drawn.solved()) {
            break;
        }
        made = std::move(drawn);
    }
    BW_TRY(fewer, with_fewer(made));
    if (fewer) {
        return std::move(*fewer);
    }
    out.verdict = Verdict::NotProven;
    out.dose_kg_per_kg.clear();
    out.notices.push_back({"limits_not_met",
                           "There is a recipe, but none was found whose weighings keep the "
                           "safe time: take a finer scale, or ask for a shorter time."});
    return out;
}

}  // namespace bw::service
