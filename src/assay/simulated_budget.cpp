// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/simulated_budget.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "base/text.hpp"
#include "stat/draw.hpp"
#include "stat/quantiles.hpp"
#include "stat/univariate.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr std::size_t kLeastTrials = 1000;
constexpr std::size_t kMostTrials = 20'000'000;
constexpr std::size_t kBlock = 1000;  // trials drawn at a time
constexpr double kTen = 10;
constexpr double kHundred = 100;  // [jcgm-101] 7.9.4: J is at least 100/(1 - p)
constexpr double kLeastSequence = 10'000;

/// Half of the last of so many significant digits of u.
double half_last_digit(double u, int digits) {
    if (!(u > 0)) {
        return 0;
    }
    const double exponent = std::floor(std::log10(u)) - (digits - 1);
    return std::pow(kTen, exponent) / 2;
}

/// Lower triangular root of the correlation matrix.
std::vector<double> root_of(std::size_t n, std::span<const Correlation> correlations) {
    std::vector<double> m(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        m[i * n + i] = 1;
    }
    for (const Correlation& c : correlations) {
        m[std::max(c.a, c.b) * n + std::min(c.a, c.b)] = c.r;
    }
    std::vector<double> l(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = m[i * n + j];
            for (std::size_t k = 0; k < j; ++k) {
                sum -= l[i * n + k] * l[j * n + k];
            }
            l[i * n + j] = i == j               ? std::sqrt(std::max(0.0, sum))
                           : l[j * n + j] > 0.0 ? sum / l[j * n + j]
                                                : 0.0;
        }
    }
    return l;
}

/// Draws the inputs of a block of trials, one column after the other.
class Draws {
public:
    Draws(std::span<const BudgetInput> inputs, std::span<const Correlation> correlations,
          std::uint64_t seed)
        : inputs_(inputs), seed_(seed), root_(root_of(inputs.size(), correlations)) {
        columns_.assign(inputs.size(), std::vector<double>(kBlock));
        tied_.assign(inputs.size(), false);
        for (const Correlation& c : correlations) {
            tied_[c.a] = tied_[c.b] = true;
        }
    }

    void fill(std::uint64_t block) {
        stat::DrawStream stream(seed_, block);
        std::vector<double> second(kBlock);
        for (std::size_t i = 0; i < inputs_.size(); ++i) {
            fill_one(stream, inputs_[i], columns_[i], second);
        }
        tie();
    }
    void take(std::size_t trial, std::span<double> out) const {
        for (std::size_t i = 0; i < inputs_.size(); ++i) {
            out[i] = columns_[i][trial];
        }
    }

private:
    static void fill_one(stat::DrawStream& stream, const BudgetInput& in, std::span<double> out,
                         std::span<double> second) {
        const double a = in.half_width;
        if (in.shape == InputShape::Normal) {
            stream.normal(out);
            for (double& x : out) {
                x = in.value + in.u * x;
            }
            return;
        }
        stream.between_0_and_1(out);
        if (in.shape == InputShape::StudentT) {
            constexpr double kHair = 0x1.0p-54;  // keeps the quantile finite at 0
            for (double& x : out) {
                x = in.value + in.u * stat::student_t_quantile(x + kHair, in.freedom);
            }
            return;
        }
        if (in.shape == InputShape::ArcSine) {
            for (double& x : out) {
                x = in.value + a * std::sin(2 * std::numbers::pi * x);
            }
            return;
        }
        if (in.shape == InputShape::Rectangular) {
            for (double& x : out) {
                x = in.value + a * (2 * x - 1);
            }
            return;
        }
        stream.between_0_and_1(second);
        const double b = in.shape == InputShape::Triangular ? 0 : in.inner;
        for (std::size_t i = 0; i < out.size(); ++i) {
            if (in.shape == InputShape::Curvilinear) {
                const double width = a * (1 + b * (2 * second[i] - 1));
                out[i] = in.value + width * (2 * out[i] - 1);
            } else {
                out[i] = in.value + a * ((1 + b) * out[i] + (1 - b) * second[i] - 1);
            }
        }
    }
    void tie() {
        const std::size_t n = inputs_.size();
        if (std::none_of(tied_.begin(), tied_.end(), [](bool t) { return t; })) {
            return;
        }
        std::vector<double> z(n);
        for (std::size_t trial = 0; trial < kBlock; ++trial) {
            for (std::size_t i = 0; i < n; ++i) {
                z[i] = tied_[i] && inputs_[i].u > 0
                           ? (columns_[i][trial] - inputs_[i].value) / inputs_[i].u
                           : 0.0;
            }
            for (std::size_t i = 0; i < n; ++i) {
                if (!tied_[i]) {
                    continue;
                }
                double sum = 0;
                for (std::size_t j = 0; j <= i; ++j) {
                    sum += root_[i * n + j] * z[j];
                }
                columns_[i][trial] = inputs_[i].value + inputs_[i].u * sum;
            }
        }
    }

    std::span<const BudgetInput> inputs_;
    std::uint64_t seed_;
    std::vector<double> root_;
    std::vector<std::vector<double>> columns_;
    std::vector<bool> tied_;
};

/// Mean, u and intervals of results, which are sorted on the way.
SimulatedBudget summed_up(std::vector<double>& results, double coverage) {
    SimulatedBudget out;
    const stat::Summary s = stat::summarize(results);
    out.mean = s.mean;
    out.u = s.sd;
    out.trials = results.size();
    std::sort(results.begin(), results.end());
    const auto m = static_cast<double>(results.size());
    const auto q = static_cast<std::size_t>(std::llround(coverage * m));
    const std::size_t last = results.size() - 1;
    const std::size_t inside = std::min(q, last);
    const std::size_t left = (results.size() - inside) / 2;
    out.symmetric = {results[left], results[std::min(left + inside, last)]};
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i + inside <= last; ++i) {
        const double width = results[i + inside] - results[i];
        if (width < best) {
            best = width;
            out.shortest = {results[i], results[i + inside]};
        }
    }
    return out;
}

/// Draws `count` results more.
void go_on(const Model& model, Draws& draws, std::size_t inputs, std::uint64_t& block,
           std::size_t count, std::vector<double>& results) {
    std::vector<double> at(inputs);
    while (count > 0) {
        draws.fill(block++);
        const std::size_t now = std::min(count, kBlock);
        for (std::size_t i = 0; i < now; ++i) {
            draws.take(i, at);
            results.push_back(model(at));
        }
        count -= now;
    }
}

/// What the adaptive way watches: one list for each of y, u and the ends.
struct Watched {
    std::vector<double> mean, u, low, high;

    void add(const SimulatedBudget& s) {
        mean.push_back(s.mean);
        u.push_back(s.u);
        low.push_back(s.symmetric.low);
        high.push_back(s.symmetric.high);
    }
    [[nodiscard]] bool settled(double tolerance) const {
        const double root = std::sqrt(static_cast<double>(mean.size()));
        const auto within = [&](const std::vector<double>& v) {
            return 2 * stat::summarize(v).sd / root <= tolerance;
        };
        return mean.size() >= 2 && within(mean) && within(u) && within(low) && within(high);
    }
};

Result<void> check(std::span<const BudgetInput> inputs, std::span<const Correlation> correlations,
                   const SimulationOptions& o) {
    BW_CHECK(check_budget_inputs(inputs, correlations));
    if (!(o.coverage > 0 && o.coverage < 1) || o.digits < 1 || o.digits > 2 ||
        o.trials < kLeastTrials || o.trials > kMostTrials) {
        return fail(
            ProblemCode::BadInput,
            "a simulation takes 1000 to 20 000 000 trials, a coverage between 0 and 1 and 1 "
            "or 2 digits of u");
    }
    for (const Correlation& c : correlations) {
        for (const std::size_t i : {c.a, c.b}) {
            if (inputs[i].shape != InputShape::Normal) {
                return fail(ProblemCode::BadInput,
                            fmt::format("input {} is correlated and not normal: how such inputs "
                                        "vary together is not said by a correlation alone",
                                        base::quoted(inputs[i].name)));
            }
        }
    }
    return {};
}

}  // namespace

Result<SimulatedBudget> simulate(const Model& model, std::span<const BudgetInput> inputs,
                                 std::span<const Correlation> correlations,
                                 const SimulationOptions& options) {
    BW_CHECK(check(inputs, correlations, options));
    Draws draws(inputs, correlations, options.seed);
    std::vector<double> results;
    std::uint64_t block = 0;
    bool settled = true;
    if (!options.adaptive) {
        results.reserve(options.trials);
        go_on(model, draws, inputs.size(), block, options.trials, results);
    } else {
        const auto sequence = static_cast<std::size_t>(
            std::max(std::ceil(kHundred / (1 - options.coverage)), kLeastSequence));
        Watched watched;
        settled = false;
        while (!settled && results.size() + sequence <= std::max(options.trials, 2 * sequence)) {
            std::vector<double> part;
            go_on(model, draws, inputs.size(), block, sequence, part);
            watched.add(summed_up(part, options.coverage));
            results.insert(results.end(), part.begin(), part.end());
            const double u = stat::summarize(results).sd;
            settled = watched.settled(options.fineness * half_last_digit(u, options.digits));
        }
    }
    if (std::any_of(results.begin(), results.end(), [](double y) { return !std::isfinite(y); })) {
        return fail(ProblemCode::BadInput,
                    "the model gives no number for some values that its inputs may have");
    }
    SimulatedBudget out = summed_up(results, options.coverage);
    out.settled = settled;
    out.tolerance = half_last_digit(out.u, options.digits);
    return out;
}

BudgetValidation validate(const Budget& budget, const SimulatedBudget& simulated, int digits) {
    BudgetValidation out;
    out.tolerance = half_last_digit(budget.u, digits);
    out.d_low = std::abs(budget.value - budget.expanded - simulated.symmetric.low);
    out.d_high = std::abs(budget.value + budget.expanded - simulated.symmetric.high);
    out.valid = out.d_low <= out.tolerance && out.d_high <= out.tolerance;
    return out;
}

}  // namespace bw::assay
