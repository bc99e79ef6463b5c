// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/mixing.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "stat/quantiles.hpp"
#include "stat/tolerance.hpp"

namespace bw::blend {

Result<std::vector<Dilution>> geometric_dilution(double minor_kg, double share, double fold) {
    if (!(minor_kg > 0) || !(share > 0 && share < 1) || !(fold > 1)) {
        return fail(ProblemCode::BadInput,
                    "a premix has a mass above 0, a share between 0 and 1, a factor above 1");
    }
    constexpr double kHair = 1e-9;
    const double stages = std::max(1.0, std::ceil(std::log(1 / share) / std::log(fold) - kHair));
    const double factor = std::pow(1 / share, 1 / stages);
    std::vector<Dilution> out;
    double total = minor_kg;
    for (int i = 0; i < static_cast<int>(stages); ++i) {
        const double next = total * factor;
        out.push_back({next - total, next});
        total = next;
    }
    return out;
}

Result<double> lacey_index(double p, double grains, double variance) {
    if (!(p > 0 && p < 1) || !(grains > 1) || !(variance >= 0)) {
        return fail(ProblemCode::BadInput,
                    "a fraction lies between 0 and 1, a sample has more than one grain, a variance "
                    "is 0 or more");
    }
    const double unmixed = p * (1 - p);
    return (unmixed - variance) / (unmixed - unmixed / grains);
}

Result<ProofPlan> samples_to_prove(double relative_sd, double promise, double content,
                                   double confidence) {
    constexpr int kMost = 1000;
    if (!(relative_sd > 0) || !(promise > 0) || !(content > 0 && content < 1) ||
        !(confidence > 0 && confidence < 1)) {
        return fail(ProblemCode::BadInput,
                    "scatter and promise are above 0, content and confidence between 0 and 1");
    }
    const auto proves = [&](int n) {
        return stat::tolerance_factor(n, content, confidence) * relative_sd <= promise;
    };
    if (!proves(kMost)) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("no number of samples proves {:.2g} % where they scatter by {:.2g} %: "
                        "the scatter itself has to fall below {:.2g} %",
                        100 * promise, 100 * relative_sd,
                        100 * promise / stat::normal_quantile((1 + content) / 2)));
    }
    int low = 1, high = 2;  // the factor falls with the number
    while (!proves(high)) {
        low = high;
        high = std::min(2 * high, kMost);
    }
    while (high - low > 1) {
        const int middle = (low + high) / 2;
        (proves(middle) ? high : low) = middle;
    }
    return ProofPlan{high, stat::tolerance_factor(high, content, confidence)};
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

bool sample_large_enough(double scatter, double repeatability) {
    constexpr double kThird = 3;
    return scatter <= repeatability / kThird;
}

}  // namespace bw::blend
