// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/duplicates.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "stat/quantiles.hpp"
#include "stat/univariate.hpp"

namespace bw::assay {

using base::fail;
using base::ProblemCode;

double critical_range_factor(int n) {
    constexpr double kProbability = 0.95;
    return stat::normal_range_quantile(kProbability, n);
}

Result<DuplicateJudgement> judge_duplicates(std::span<const double> results,
                                            double repeatability_sd) {
    constexpr std::size_t kFour = 4;
    if (results.size() != 2 && results.size() != kFour) {
        return fail(ProblemCode::BadInput,
                    fmt::format("duplicates are judged by two results, or by four once the first "
                                "two disagreed; {} are there",
                                results.size()));
    }
    if (!(repeatability_sd > 0)) {
        return fail(ProblemCode::BadInput,
                    "the standard deviation of repeatability has to be above 0");
    }
    DuplicateJudgement out;
    const auto [low, high] = std::minmax_element(results.begin(), results.end());
    out.range = *high - *low;
    out.limit = critical_range_factor(static_cast<int>(results.size())) * repeatability_sd;
    out.result = stat::summarize(results).mean;
    const bool agree = out.range <= out.limit;
    if (results.size() == 2) {
        out.verdict = agree ? DuplicateVerdict::Accepted : DuplicateVerdict::TwoMore;
    } else {
        out.verdict = agree ? DuplicateVerdict::MeanOfFour : DuplicateVerdict::MedianOfFour;
        out.result = agree ? out.result : stat::median(results);
    }
    return out;
}

Result<double> repeatability_of_pairs(std::span<const std::pair<double, double>> pairs,
                                      bool relative) {
    if (pairs.empty()) {
        return fail(ProblemCode::BadInput, "repeatability is worked out from one pair or more");
    }
    double sum = 0;
    for (const auto& [a, b] : pairs) {
        const double mean = (a + b) / 2;
        if (relative && mean == 0) {
            return fail(ProblemCode::BadInput, "a pair whose mean is 0 has no relative difference");
        }
        const double d = relative ? (a - b) / mean : a - b;
        sum += d * d;
    }
    return std::sqrt(sum / (2 * static_cast<double>(pairs.size())));
}

}  // namespace bw::assay
