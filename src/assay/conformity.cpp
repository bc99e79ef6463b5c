// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/conformity.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "stat/normal.hpp"
#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

Result<void> check(const MeasuredValue& m, const ToleranceInterval& t) {
    if (!t.low && !t.high) {
        return fail(ProblemCode::BadInput, "a decision needs a limit on one side at least");
    }
    if (t.low && t.high && !(*t.low < *t.high)) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("the lower limit {:g} is not below the upper one {:g}", *t.low, *t.high));
    }
    if (!(m.u >= 0) || !std::isfinite(m.value) || !std::isfinite(m.u)) {
        return fail(ProblemCode::BadInput,
                    "a value is judged by its standard uncertainty, which is 0 or more");
    }
    if (m.freedom && !(*m.freedom > 0)) {
        return fail(ProblemCode::BadInput, "degrees of freedom are above 0");
    }
    return {};
}

/// Probability that the true value lies below a limit.
double below(const MeasuredValue& m, double limit) {
    if (m.u == 0) {
        return m.value <= limit ? 1 : 0;
    }
    const double z = (limit - m.value) / m.u;
    return m.freedom ? stat::student_t_cdf(z, *m.freedom) : stat::normal_cdf(z);
}

bool inside(double value, const std::optional<double>& low, const std::optional<double>& high) {
    return (!low || value >= *low) && (!high || value <= *high);
}

/// How many standard uncertainties a probability on one side is worth.
double width_of(const DecisionRule& rule, const MeasuredValue& m) {
    switch (rule.kind) {
        case DecisionRule::Kind::Simple:
            return 0;
        case DecisionRule::Kind::Guarded:
            // As sure on one side as `width` is with many degrees of freedom.
            return m.freedom ? stat::student_t_quantile(stat::normal_cdf(rule.width), *m.freedom)
                             : rule.width;
        case DecisionRule::Kind::Probability:
            break;
    }
    return m.freedom ? stat::student_t_quantile(rule.least, *m.freedom)
                     : stat::normal_quantile(rule.least);
}

}  // namespace

Result<double> probability_of_conformity(const MeasuredValue& measured,
                                         const ToleranceInterval& tolerance) {
    BW_CHECK(check(measured, tolerance));
    if (measured.u == 0) {
        return inside(measured.value, tolerance.low, tolerance.high) ? 1.0 : 0.0;
    }
    const double upper = tolerance.high ? below(measured, *tolerance.high) : 1;
    const double lower = tolerance.low ? below(measured, *tolerance.low) : 0;
    return std::max(0.0, upper - lower);
}

Result<ConformityDecision> decide(const MeasuredValue& measured, const ToleranceInterval& tolerance,
                                  const DecisionRule& rule) {
    if (!(rule.width >= 0) || !(rule.least >= 0.5 && rule.least < 1)) {
        return fail(ProblemCode::BadInput,
                    "a decision rule draws the limits in by 0 or more standard uncertainties, or "
                    "asks for a probability from 0.5 to below 1");
    }
    BW_TRY(probability, probability_of_conformity(measured, tolerance));
    ConformityDecision out;
    out.probability = probability;
    const double guard = width_of(rule, measured) * measured.u;
    if (tolerance.low) {
        out.accept_low = *tolerance.low + guard;
    }
    if (tolerance.high) {
        out.accept_high = *tolerance.high - guard;
    }
    if (tolerance.low && tolerance.high) {
        out.cannot_prove = *out.accept_low > *out.accept_high;
        constexpr double kFour = 4;
        if (measured.u > 0) {
            out.capability = (*tolerance.high - *tolerance.low) / (kFour * measured.u);
        }
    }
    const bool accepted = rule.kind == DecisionRule::Kind::Probability
                              ? probability >= rule.least
                              : inside(measured.value, out.accept_low, out.accept_high);
    const bool within_limits = inside(measured.value, tolerance.low, tolerance.high);
    const bool beyond_doubt = (tolerance.low && measured.value < *tolerance.low - guard) ||
                              (tolerance.high && measured.value > *tolerance.high + guard);
    out.verdict = accepted                         ? ConformityVerdict::Within
                  : !within_limits && beyond_doubt ? ConformityVerdict::Outside
                                                   : ConformityVerdict::TooClose;
    return out;
}

Result<GlobalRisks> global_risks(double prior_mean, double prior_sd, double measurement_u,
                                 const ToleranceInterval& tolerance,
                                 const ToleranceInterval& acceptance) {
    if (!(prior_sd > 0) || !(measurement_u > 0) || !tolerance.low || !tolerance.high ||
        !acceptance.low || !acceptance.high) {
        return fail(ProblemCode::BadInput,
                    "risks over a production need its spread, the measurement's uncertainty, both "
                    "limits and both acceptance limits");
    }
    // The tolerance limits cut the integrand: each piece is integrated on its own.
    constexpr double kFar = 10;
    constexpr int kIntervals = 4000;
    const auto piece = [&](double from, double to, const auto& weight) {
        if (!(to > from)) {
            return 0.0;
        }
        const double step = (to - from) / kIntervals;
        double sum = 0;
        for (int i = 0; i <= kIntervals; ++i) {
            const double x = from + step * i;
            const double z = (x - prior_mean) / prior_sd;
            const double simpson = i == 0 || i == kIntervals ? 1 : i % 2 == 1 ? 4 : 2;
            sum += simpson * std::exp(-z * z / 2) * weight(x);
        }
        constexpr double kThree = 3;
        return sum * step / kThree / (prior_sd * std::sqrt(2 * std::numbers::pi));
    };
    const auto accepted = [&](double x) {
        return stat::normal_inside(x, measurement_u, *acceptance.low, *acceptance.high);
    };
    const auto refused = [&](double x) { return 1 - accepted(x); };
    const double first = prior_mean - kFar * prior_sd;
    const double last = prior_mean + kFar * prior_sd;
    GlobalRisks out;
    out.conforming_share =
        stat::normal_inside(prior_mean, prior_sd, *tolerance.low, *tolerance.high);
    out.consumer = piece(first, std::min(*tolerance.low, last), accepted) +
                   piece(std::max(*tolerance.high, first), last, accepted);
    out.producer = piece(std::max(*tolerance.low, first), std::min(*tolerance.high, last), refused);
    return out;
}

}  // namespace bw::assay
