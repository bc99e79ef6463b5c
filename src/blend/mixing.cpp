// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/mixing.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "stat/quantiles.hpp"
#include "stat/tolerance.hpp"

namespace bw::blend {
namespace {

/// stat::tolerance_factor(), remembered: a plan of many constituents asks for the same few numbers
/// of samples again and again, and each takes milliseconds.
double factor_of(int n, double content, double confidence) {
    constexpr std::size_t kMostKept = 1000;
    thread_local std::map<std::tuple<int, double, double>, double> kept;
    const std::tuple key(n, content, confidence);
    if (const auto found = kept.find(key); found != kept.end()) {
        return found->second;
    }
    if (kept.size() >= kMostKept) {
        kept.clear();
    }
    return kept[key] = stat::tolerance_factor(n, content, confidence);
}

}  // namespace

Result<std::vector<double>> unmixed_variances(std::span<const GrainPart> parts) {
    BW_TRY(scatter, scatter_of(parts));  // checks the parts
    std::vector<double> out(scatter.size(), 0.0);
    for (std::size_t e = 0; e < out.size(); ++e) {
        const double whole = scatter[e].content;
        for (const GrainPart& p : parts) {
            const double off = whole == 0 ? 0 : p.content[e] / whole - 1;
            out[e] += p.share * off * off;
        }
    }
    return out;
}

Result<double> lacey_index(double unmixed, double by_chance, double observed) {
    if (!(by_chance >= 0) || !(unmixed > by_chance) || !(observed >= 0)) {
        return fail(ProblemCode::BadInput,
                    "variances are 0 or more, and that of the unmixed parts is above that of "
                    "chance");
    }
    return (unmixed - observed) / (unmixed - by_chance);
}

Result<ProofPlan> samples_to_prove(double relative_sd, double promise, double content,
                                   double confidence) {
    if (!(relative_sd > 0) || !(promise > 0) || !(content > 0 && content < 1) ||
        !(confidence > 0 && confidence < 1)) {
        return fail(ProblemCode::BadInput,
                    "scatter and promise are above 0, content and confidence between 0 and 1");
    }
    const auto proves = [&](int n) {
        return factor_of(n, content, confidence) * relative_sd <= promise;
    };
    if (!proves(kMostSamples)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("no number of samples proves {:.2g} % where they scatter by {:.2g} %: "
                        "the scatter itself has to fall below {:.2g} %",
                        100 * promise, 100 * relative_sd, 100 * provable_sd(promise, content)));
    }
    int low = 1, high = 2;  // the factor falls with the number
    while (!proves(high)) {
        low = high;
        high = std::min(2 * high, kMostSamples);
    }
    while (high - low > 1) {
        const int middle = (low + high) / 2;
        (proves(middle) ? high : low) = middle;
    }
    return ProofPlan{high, factor_of(high, content, confidence)};
}

double provable_sd(double promise, double content) {
    return promise / stat::normal_quantile((1 + content) / 2);
}

Result<int> increments_needed(double increment_sd, double wanted, int least) {
    constexpr double kMost = 1e6;
    if (!(increment_sd >= 0) || !(wanted > 0) || least < 1) {
        return fail(ProblemCode::BadInput,
                    "the scatter of increments is 0 or more, the wanted one above 0");
    }
    const double ratio = increment_sd / wanted;
    constexpr double kHair = 1e-9;
    const double number = std::ceil(ratio * ratio - kHair);
    if (!(number <= kMost)) {
        return fail(ProblemCode::OutOfRange,
                    "more than a million increments would be needed: mix better or mill finer");
    }
    return std::max(least, static_cast<int>(number));
}

double scatter_allowed_beside(double repeatability) {
    constexpr double kThird = 3;
    return repeatability / kThird;
}

}  // namespace bw::blend
