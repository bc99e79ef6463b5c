// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/combining.hpp"

#include <algorithm>
#include <cmath>

#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

struct Weighted {
    double mean, u, chi_squared;
};

Weighted weigh(std::span<const MethodValue> values, double between_variance) {
    double weights = 0;
    double sum = 0;
    const auto weight = [&](const MethodValue& v) { return 1 / (v.u * v.u + between_variance); };
    for (const MethodValue& v : values) {
        weights += weight(v);
        sum += weight(v) * (v.value - values.front().value);
    }
    const double mean = values.front().value + sum / weights;
    double chi_squared = 0;
    for (const MethodValue& v : values) {
        chi_squared += weight(v) * (v.value - mean) * (v.value - mean);
    }
    return {mean, std::sqrt(1 / weights), chi_squared};
}

/// The variance between methods by halving: chi squared falls as it grows.
double between(std::span<const MethodValue> values) {
    const double wanted = static_cast<double>(values.size()) - 1;
    double high = 0;
    for (const MethodValue& v : values) {
        const double off = v.value - values.front().value;
        high = std::max(high, off * off);
    }
    double low = 0;
    constexpr int kHalvings = 200;
    for (int i = 0; i < kHalvings && high > low; ++i) {
        const double middle = (low + high) / 2;
        (weigh(values, middle).chi_squared > wanted ? low : high) = middle;
    }
    return high;
}

}  // namespace

Result<Combined> combine(std::span<const MethodValue> values) {
    if (values.empty() ||
        std::any_of(values.begin(), values.end(), [](const auto& v) { return !(v.u > 0); })) {
        return base::fail(base::ProblemCode::BadInput,
                          "methods are combined by their standard uncertainties: each has to be "
                          "above 0");
    }
    const Weighted alike = weigh(values, 0);
    Combined out{alike.mean, alike.u, alike.chi_squared, 0, true, 0};
    if (values.size() == 1) {
        return out;
    }
    constexpr double kProbability = 0.95;
    out.chi_squared_most =
        stat::chi_squared_quantile(kProbability, static_cast<double>(values.size()) - 1);
    out.consistent = out.chi_squared <= out.chi_squared_most;
    if (out.consistent) {
        return out;
    }
    if (values.size() == 2) {
        const double apart = values[0].value - values[1].value;
        constexpr double kTwelve = 12;  // of a uniform distribution as wide
        out.value = (values[0].value + values[1].value) / 2;
        out.u = std::sqrt((values[0].u * values[0].u + values[1].u * values[1].u) / 4 +
                          apart * apart / kTwelve);
        out.between_sd = std::abs(apart) / std::sqrt(kTwelve);
        return out;
    }
    const double variance = between(values);
    const Weighted apart = weigh(values, variance);
    out.value = apart.mean;
    out.u = apart.u;
    out.between_sd = std::sqrt(variance);
    return out;
}

}  // namespace bw::assay
