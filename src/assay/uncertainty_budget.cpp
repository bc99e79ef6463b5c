// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/uncertainty_budget.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

// Variances of shapes within -+1, [jcgm-101] table 1.
constexpr double kThird = 1.0 / 3;
constexpr double kSixth = 1.0 / 6;
constexpr double kNinth = 1.0 / 9;

double variance_of(InputShape shape, double inner) {
    switch (shape) {
        case InputShape::Rectangular:
            return kThird;
        case InputShape::Triangular:
            return kSixth;
        case InputShape::Trapezoidal:
            return (1 + inner * inner) * kSixth;
        case InputShape::Curvilinear:
            return kThird + inner * inner * kNinth;
        case InputShape::ArcSine:
            return 1.0 / 2;
        case InputShape::Normal:
        case InputShape::StudentT:
            break;
    }
    return 0;
}

/// Standard uncertainty as it enters sums of squares; of StudentT the scale, as the GUM has it.
std::vector<double> standard(std::span<const BudgetInput> inputs) {
    std::vector<double> out;
    out.reserve(inputs.size());
    for (const BudgetInput& i : inputs) {
        out.push_back(i.u);
    }
    return out;
}

std::vector<double> values_of(std::span<const BudgetInput> inputs) {
    std::vector<double> out;
    out.reserve(inputs.size());
    for (const BudgetInput& i : inputs) {
        out.push_back(i.value);
    }
    return out;
}

/// Row by row, with ones on the diagonal.
std::vector<double> matrix_of(std::size_t n, std::span<const Correlation> correlations) {
    std::vector<double> out(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        out[i * n + i] = 1;
    }
    for (const Correlation& c : correlations) {
        out[c.a * n + c.b] = c.r;
        out[c.b * n + c.a] = c.r;
    }
    return out;
}

/// Whether a matrix has no negative variance: elimination without a pivot below zero.
bool no_negative_variance(std::vector<double> m, std::size_t n) {
    constexpr double kHair = 1e-9;
    for (std::size_t k = 0; k < n; ++k) {
        const double pivot = m[k * n + k];
        if (pivot < -kHair) {
            return false;
        }
        if (pivot <= kHair) {  // a variance used up: its row may hold nothing more
            for (std::size_t j = k + 1; j < n; ++j) {
                if (std::abs(m[k * n + j]) > std::sqrt(kHair)) {
                    return false;
                }
            }
            continue;
        }
        for (std::size_t i = k + 1; i < n; ++i) {
            const double share = m[i * n + k] / pivot;
            for (std::size_t j = k; j < n; ++j) {
                m[i * n + j] -= share * m[k * n + j];
            }
        }
    }
    return true;
}

/// f at the values with some of them moved.
class Probe {
public:
    Probe(const Model& model, std::vector<double> at) : model_(model), at_(std::move(at)) {}
    [[nodiscard]] double here() const { return model_(at_); }
    double moved(std::size_t i, double by) {
        const double kept = at_[i];
        at_[i] = kept + by;
        const double f = model_(at_);
        at_[i] = kept;
        return f;
    }
    double moved(std::size_t i, double by, std::size_t j, double by_j) {
        const double kept = at_[i];
        at_[i] += by;
        const double f = moved(j, by_j);
        at_[i] = kept;
        return f;
    }

private:
    const Model& model_;
    std::vector<double> at_;
};

double first_derivative(Probe& probe, std::size_t i, double u) {
    if (u == 0) {
        return 0;
    }
    constexpr double kPart = 8;
    constexpr double kNear = 8;  // weights of the fourth-order central difference
    constexpr double kOver = 12;
    const double h = u / kPart;
    return (kNear * (probe.moved(i, h) - probe.moved(i, -h)) -
            (probe.moved(i, 2 * h) - probe.moved(i, -2 * h))) /
           (kOver * h);
}

/// sum_ij (f_ij^2/2 + f_i f_ijj) u_i^2 u_j^2, every difference taken over u itself so that the
/// powers of u cancel.
double second_order(Probe& probe, std::span<const double> u, std::span<const double> slope) {
    double sum = 0;
    const double f = probe.here();
    for (std::size_t i = 0; i < u.size(); ++i) {
        for (std::size_t j = 0; j < u.size(); ++j) {
            if (u[i] == 0 || u[j] == 0) {
                continue;
            }
            double mixed = 0;  // f_ij u_i u_j
            double third = 0;  // f_ijj u_i u_j^2
            if (i == j) {
                mixed = probe.moved(i, u[i]) - 2 * f + probe.moved(i, -u[i]);
                third = (probe.moved(i, 2 * u[i]) - probe.moved(i, -2 * u[i])) / 2 -
                        (probe.moved(i, u[i]) - probe.moved(i, -u[i]));
            } else {
                const double pp = probe.moved(i, u[i], j, u[j]);
                const double pm = probe.moved(i, u[i], j, -u[j]);
                const double mp = probe.moved(i, -u[i], j, u[j]);
                const double mm = probe.moved(i, -u[i], j, -u[j]);
                mixed = (pp - pm - mp + mm) / 4;
                third =
                    ((pp + pm - 2 * probe.moved(i, u[i])) - (mp + mm - 2 * probe.moved(i, -u[i]))) /
                    2;
            }
            sum += mixed * mixed / 2 + slope[i] * u[i] * third;
        }
    }
    return sum;
}

void add_freedom(Budget& out, std::span<const BudgetInput> inputs,
                 std::span<const Correlation> correlations) {
    double sum = 0;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const double part = out.sensitivities[i] * inputs[i].u;
        sum += std::isfinite(inputs[i].freedom) ? std::pow(part, 4) / inputs[i].freedom : 0.0;
    }
    out.freedom = sum > 0 ? std::pow(out.u, 4) / sum : kManyFreedom;
    out.freedom_doubtful =
        std::any_of(correlations.begin(), correlations.end(), [&](const Correlation& c) {
            return c.r != 0 &&
                   (std::isfinite(inputs[c.a].freedom) || std::isfinite(inputs[c.b].freedom));
        });
    const double tail = (1 + out.coverage) / 2;
    const double whole = std::max(1.0, std::floor(out.freedom));
    constexpr double kAsNormal = 1e6;
    out.factor =
        whole < kAsNormal ? stat::student_t_quantile(tail, whole) : stat::normal_quantile(tail);
    out.expanded = out.factor * out.u;
}

}  // namespace

BudgetInput normal_input(std::string name, double value, double u, double freedom) {
    return {std::move(name), value, u, freedom, InputShape::Normal, 0, 0};
}

BudgetInput student_input(std::string name, double value, double u, double freedom) {
    return {std::move(name), value, u, freedom, InputShape::StudentT, 0, 0};
}

BudgetInput limited_input(std::string name, double value, double half_width, InputShape shape,
                          double inner, double freedom) {
    return {
        std::move(name), value, half_width * std::sqrt(variance_of(shape, inner)), freedom, shape,
        half_width,      inner};
}

Result<void> check_budget_inputs(std::span<const BudgetInput> inputs,
                                 std::span<const Correlation> correlations) {
    if (inputs.empty()) {
        return fail(ProblemCode::BadInput, "a budget needs an input quantity at least");
    }
    for (const BudgetInput& i : inputs) {
        const bool limits = i.shape != InputShape::Normal && i.shape != InputShape::StudentT;
        if (!std::isfinite(i.value) || !(i.u >= 0) || !std::isfinite(i.u) || !(i.freedom > 0) ||
            (limits && (!(i.half_width >= 0) || !(i.inner >= 0 && i.inner <= 1))) ||
            (i.shape == InputShape::StudentT && !std::isfinite(i.freedom))) {
            return fail(ProblemCode::BadInput,
                        fmt::format("input {}: a value is a number, its uncertainty 0 or more, its "
                                    "degrees of freedom above 0 and its inner share 0 to 1",
                                    base::quoted(i.name)));
        }
    }
    const std::size_t n = inputs.size();
    for (std::size_t k = 0; k < correlations.size(); ++k) {
        const Correlation& c = correlations[k];
        const bool twice =
            std::any_of(correlations.begin(), correlations.begin() + static_cast<std::ptrdiff_t>(k),
                        [&](const Correlation& o) {
                            return (o.a == c.a && o.b == c.b) || (o.a == c.b && o.b == c.a);
                        });
        if (c.a >= n || c.b >= n || c.a == c.b || !(std::abs(c.r) <= 1) || twice) {
            return fail(ProblemCode::BadInput,
                        "a correlation names two different inputs, once, and lies within -1 to 1");
        }
    }
    if (!correlations.empty() && !no_negative_variance(matrix_of(n, correlations), n)) {
        return fail(ProblemCode::BadInput,
                    "these correlations cannot hold together: some sum of the inputs would have a "
                    "variance below 0");
    }
    return {};
}

Result<Budget> propagate(const Model& model, std::span<const BudgetInput> inputs,
                         std::span<const Correlation> correlations, double coverage,
                         BudgetOrder order) {
    BW_CHECK(check_budget_inputs(inputs, correlations));
    if (!(coverage > 0 && coverage < 1)) {
        return fail(ProblemCode::BadInput, "a coverage probability lies between 0 and 1");
    }
    if (order == BudgetOrder::Second && !correlations.empty()) {
        return fail(ProblemCode::BadInput,
                    "terms of second order are known for independent inputs only");
    }
    const std::vector<double> u = standard(inputs);
    Probe probe(model, values_of(inputs));
    Budget out;
    out.coverage = coverage;
    out.value = probe.here();
    const std::size_t n = inputs.size();
    for (std::size_t i = 0; i < n; ++i) {
        out.sensitivities.push_back(first_derivative(probe, i, u[i]));
    }
    const std::vector<double> r = matrix_of(n, correlations);
    double variance = 0;
    std::vector<double> parts(n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j < n; ++j) {
            parts[i] += out.sensitivities[i] * u[i] * out.sensitivities[j] * u[j] * r[i * n + j];
        }
        variance += parts[i];
    }
    const double first = variance;
    if (order == BudgetOrder::Second) {
        variance += second_order(probe, u, out.sensitivities);
    }
    if (!std::isfinite(out.value) || !std::isfinite(variance)) {
        return fail(ProblemCode::BadInput,
                    "the model gives no number at or near the values of its inputs");
    }
    out.u = std::sqrt(std::max(0.0, variance));
    for (std::size_t i = 0; i < n; ++i) {
        out.contributions.push_back({i, out.sensitivities[i], std::abs(out.sensitivities[i]) * u[i],
                                     first > 0 ? parts[i] / first : 0.0});
    }
    std::stable_sort(out.contributions.begin(), out.contributions.end(),
                     [](const Contribution& a, const Contribution& b) {
                         return std::abs(a.share) > std::abs(b.share);
                     });
    add_freedom(out, inputs, correlations);
    return out;
}

double covariance(const Budget& a, const Budget& b, std::span<const BudgetInput> inputs,
                  std::span<const Correlation> correlations) {
    const std::size_t n = inputs.size();
    base::expect(a.sensitivities.size() == n && b.sensitivities.size() == n,
                 "budgets of other inputs");
    const std::vector<double> r = matrix_of(n, correlations);
    double out = 0;
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j < n; ++j) {
            out +=
                a.sensitivities[i] * inputs[i].u * b.sensitivities[j] * inputs[j].u * r[i * n + j];
        }
    }
    return out;
}

}  // namespace bw::assay
