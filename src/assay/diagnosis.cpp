// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/diagnosis.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

// How likely each kind is before anything is measured, whole; shared among those of a kind. Common
// practice: weighing and lots are off more often than anything else.
struct Prior {
    FaultKind kind;
    double weight;
};
constexpr Prior kPriors[] = {{FaultKind::Amount, 1.0},     {FaultKind::LeftOut, 0.2},
                             {FaultKind::Twice, 0.1},      {FaultKind::OtherForm, 0.2},
                             {FaultKind::Premix, 0.2},     {FaultKind::Strength, 0.3},
                             {FaultKind::Calibration, 0.3}};
constexpr double kChancePrior = 1;
/// Chance that a second, independent method is off by as much the same way; an assumption.
constexpr double kBothAlike = 0.02;

double prior_of(FaultKind kind) {
    return std::find_if(std::begin(kPriors), std::end(kPriors),
                        [&](const Prior& p) { return p.kind == kind; })
        ->weight;
}

using Vector = std::vector<double>;

/// V^-1 of V = diag(u^2) + c^2 11', by Sherman and Morrison.
class Weights {
public:
    Weights(const Vector& u, double common) : common_(common * common) {
        for (const double x : u) {
            own_.push_back(1 / (x * x));
            sum_ += own_.back();
        }
    }
    /// a' V^-1 b
    [[nodiscard]] double product(const Vector& a, const Vector& b) const {
        double ab = 0;
        double a1 = 0;
        double b1 = 0;
        for (std::size_t j = 0; j < own_.size(); ++j) {
            ab += a[j] * own_[j] * b[j];
            a1 += a[j] * own_[j];
            b1 += b[j] * own_[j];
        }
        return ab - common_ * a1 * b1 / (1 + common_ * sum_);
    }

private:
    Vector own_;
    double common_, sum_ = 0;
};

/// A fault as a direction of the pattern, of free size or of a fixed one.
struct Fault {
    FaultKind kind;
    std::string of;
    Vector direction;
    std::optional<double> size;
    double prior_times = 1;
    AmountSource source = AmountSource::Either;
};

Result<void> check(const BatchPattern& p, const BatchMakeUp& m) {
    const std::size_t elements = p.elements.size();
    if (elements < 3) {
        return fail(ProblemCode::BadInput, "a pattern needs three elements or more");
    }
    const bool uneven = p.deviation.size() != elements || p.u.size() != elements ||
                        m.share.size() != elements || m.salt_share.size() != m.materials.size() ||
                        std::any_of(m.share.begin(), m.share.end(), [&](const Vector& row) {
                            return row.size() != m.materials.size();
                        });
    if (uneven || m.materials.empty()) {
        return fail(ProblemCode::BadInput,
                    "deviations, uncertainties and shares have to be as many as the elements and "
                    "the materials");
    }
    for (std::size_t j = 0; j < elements; ++j) {
        if (!(p.u[j] > 0) || !std::isfinite(p.deviation[j])) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} needs a deviation and a standard uncertainty above 0",
                                    p.elements[j]));
        }
    }
    if (!p.methods.empty() &&
        (p.methods.size() != elements ||
         std::any_of(p.methods.begin(), p.methods.end(), [](double n) { return !(n >= 1); }))) {
        return fail(ProblemCode::BadInput, "each element is tested by one method or more");
    }
    if (!(p.u_common >= 0)) {
        return fail(ProblemCode::BadInput, "the common uncertainty is 0 or more");
    }
    return {};
}

Vector direction_of(const BatchPattern& p, const BatchMakeUp& m, std::size_t k) {
    Vector out;
    for (std::size_t j = 0; j < p.elements.size(); ++j) {
        out.push_back(m.share[j][k] - (p.normalised ? m.salt_share[k] : 0));
    }
    return out;
}

std::vector<Fault> faults_of(const BatchPattern& p, const BatchMakeUp& m) {
    std::vector<Fault> out;
    for (std::size_t k = 0; k < m.materials.size(); ++k) {
        const Vector d = direction_of(p, m, k);
        if (p.by_mass) {
            Vector lot;
            for (const Vector& row : m.share) {
                lot.push_back(row[k]);
            }
            out.push_back(
                {FaultKind::Amount, m.materials[k], d, std::nullopt, 1, AmountSource::Weighing});
            out.push_back({FaultKind::Amount, m.materials[k], std::move(lot), std::nullopt, 1,
                           AmountSource::Lot});
        } else {
            out.push_back({FaultKind::Amount, m.materials[k], d, std::nullopt});
        }
        out.push_back({FaultKind::LeftOut, m.materials[k], d, -1.0});
        out.push_back({FaultKind::Twice, m.materials[k], d, 1.0});
    }
    for (const auto& form : m.other_forms) {
        out.push_back({FaultKind::OtherForm,
                       fmt::format("{} ({})", m.materials[form.material], form.form),
                       direction_of(p, m, form.material), form.times - 1});
    }
    for (const auto& premix : m.premixes) {
        Vector d(p.elements.size(), 0);
        std::string names;
        for (const std::size_t k : premix) {
            const Vector one = direction_of(p, m, k);
            for (std::size_t j = 0; j < d.size(); ++j) {
                d[j] += one[j];
            }
            names += (names.empty() ? "" : ", ") + m.materials[k];
        }
        out.push_back({FaultKind::Premix, names, d, std::nullopt});
    }
    out.push_back({FaultKind::Strength, "", Vector(p.elements.size(), 1), std::nullopt});
    for (std::size_t j = 0; j < p.elements.size(); ++j) {
        Vector d(p.elements.size(), 0);
        d[j] = 1;
        const double further = p.methods.empty() ? 0 : p.methods[j] - 1;
        out.push_back({FaultKind::Calibration, p.elements[j], d, std::nullopt,
                       std::pow(kBothAlike, further)});
    }
    return out;
}

double spread_of(FaultKind kind) {
    constexpr double kAmounts = 0.10;
    constexpr double kTests = 0.05;
    return kind == FaultKind::Strength || kind == FaultKind::Calibration ? kTests : kAmounts;
}

struct Fitted {
    Explanation explanation;
    const Fault* fault;
    double log_weight;
};

Fitted fit(const Fault& fault, const Vector& y, const Weights& weights, double all, double prior) {
    Fitted out{{}, &fault, -std::numeric_limits<double>::infinity()};
    Explanation& e = out.explanation;
    e.kind = fault.kind;
    e.of = fault.of;
    e.source = fault.source;
    const double dd = weights.product(fault.direction, fault.direction);
    const double dy = weights.product(fault.direction, y);
    if (!(dd > 0)) {
        return out;
    }
    if (fault.size) {
        e.size = *fault.size;
        e.explains = 2 * *fault.size * dy - *fault.size * *fault.size * dd;
        out.log_weight = std::log(prior) + e.explains / 2;
    } else {
        e.size = dy / dd;
        e.u_size = 1 / std::sqrt(dd);
        e.explains = dy * dy / dd;
        const double tau2 = spread_of(fault.kind) * spread_of(fault.kind);
        out.log_weight =
            std::log(prior) - std::log1p(tau2 * dd) / 2 + e.explains * tau2 / (1 / dd + tau2) / 2;
    }
    e.left_over = all - e.explains;
    return out;
}

/// Faults of less than nothing, or of more than thrice, do not happen.
bool possible(const Explanation& e) {
    constexpr double kMost = 2;
    return e.size >= -1 - e.u_size && e.size <= kMost;
}

/// Whether two faults make the same pattern, of the same sign.
bool alike(const Fitted& a, const Fitted& b, const Weights& weights) {
    constexpr double kCosine = 0.99;
    const double aa = weights.product(a.fault->direction, a.fault->direction);
    const double bb = weights.product(b.fault->direction, b.fault->direction);
    const double ab = weights.product(a.fault->direction, b.fault->direction);
    return std::abs(ab) > kCosine * std::sqrt(aa * bb);
}

/// A material and the fixed sizes of its own amount are one cause.
bool same_cause(const Fitted& a, const Fitted& b, const Weights& weights) {
    return a.fault->of == b.fault->of && alike(a, b, weights);
}

/// Makes one explanation of a material's amount by weighing and by lot: the better fit with the
/// weight of both, and a source only where that one fits so much better. Heaviest first before and
/// after.
void join_sources(std::vector<Fitted>& fitted) {
    constexpr double kTimesBetter = 10;  // ours: strong evidence, not proof
    for (std::size_t i = 0; i < fitted.size(); ++i) {
        Explanation& first = fitted[i].explanation;
        if (first.source == AmountSource::Either) {
            continue;
        }
        const auto other = std::find_if(fitted.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                                        fitted.end(), [&](const Fitted& f) {
                                            return f.explanation.source != AmountSource::Either &&
                                                   f.explanation.of == first.of;
                                        });
        if (other == fitted.end()) {
            continue;
        }
        const double less = other->explanation.weight;
        if (first.weight < kTimesBetter * less) {
            first.source = AmountSource::Either;
        }
        first.weight += less;
        fitted.erase(other);
    }
    std::stable_sort(fitted.begin(), fitted.end(), [](const Fitted& a, const Fitted& b) {
        return a.explanation.weight > b.explanation.weight;
    });
}

/// The element where two explanations differ most, in its standard uncertainties.
void set_test_element(const BatchPattern& p, const Fitted& a, const Fitted& b, Diagnosis& out) {
    for (std::size_t j = 0; j < p.elements.size(); ++j) {
        const double apart = std::abs(a.explanation.size * a.fault->direction[j] -
                                      b.explanation.size * b.fault->direction[j]) /
                             p.u[j];
        if (apart > out.parted_by) {
            out.parted_by = apart;
            out.test_element = j;
        }
    }
}

void set_smallest_seen(const BatchPattern& p, const BatchMakeUp& m, const Weights& weights,
                       Diagnosis& out) {
    // 5 % over all materials together, after Sidak.
    constexpr double kLevel = 0.95;
    const double each = std::pow(kLevel, 1 / static_cast<double>(m.materials.size()));
    const double critical = std::sqrt(stat::chi_squared_quantile(each, 1));
    for (std::size_t k = 0; k < m.materials.size(); ++k) {
        const Vector d = direction_of(p, m, k);
        const double dd = weights.product(d, d);
        out.smallest_seen.push_back(dd > 0 ? critical / std::sqrt(dd)
                                           : std::numeric_limits<double>::infinity());
    }
}

/// How many faults of a kind share its prior.
double count_of(const std::vector<Fault>& faults, FaultKind kind) {
    return static_cast<double>(std::count_if(faults.begin(), faults.end(),
                                             [&](const Fault& f) { return f.kind == kind; }));
}

DiagnosisVerdict verdict_of(const std::vector<Fitted>& fitted, const Weights& weights,
                            const Diagnosis& d) {
    constexpr double kStandsOut = 0.9;
    constexpr double kLeastChance = 0.01;
    if (d.chi_squared <= d.chi_squared_most) {
        return DiagnosisVerdict::Nothing;
    }
    const auto fits = [&](const Fitted& f) { return f.explanation.left_p >= kLeastChance; };
    if (fitted.empty() || std::none_of(fitted.begin(), fitted.end(), fits)) {
        return DiagnosisVerdict::Unexplained;
    }
    const Fitted& first = fitted.front();
    double of_cause = 0;
    for (const Fitted& f : fitted) {
        of_cause += same_cause(f, first, weights) ? f.explanation.weight : 0;
    }
    return fits(first) && of_cause >= kStandsOut ? DiagnosisVerdict::Found
                                                 : DiagnosisVerdict::CannotTell;
}

}  // namespace

std::string_view name(FaultKind kind) {
    switch (kind) {
        case FaultKind::Amount:
            return "amount";
        case FaultKind::LeftOut:
            return "left out";
        case FaultKind::Twice:
            return "charged twice";
        case FaultKind::OtherForm:
            return "another form";
        case FaultKind::Premix:
            return "premix";
        case FaultKind::Strength:
            return "strength";
        case FaultKind::Calibration:
            break;
    }
    return "calibration";
}

std::string_view name(AmountSource source) {
    return source == AmountSource::Either     ? "either"
           : source == AmountSource::Weighing ? "weighing"
                                              : "lot";
}

Result<Diagnosis> diagnose(const BatchPattern& pattern, const BatchMakeUp& make_up) {
    BW_CHECK(check(pattern, make_up));
    const Weights weights(pattern.u, pattern.u_common);
    const auto elements = static_cast<double>(pattern.elements.size());
    Diagnosis out;
    out.chi_squared = weights.product(pattern.deviation, pattern.deviation);
    constexpr double kProbability = 0.95;
    out.chi_squared_most = stat::chi_squared_quantile(kProbability, elements);
    set_smallest_seen(pattern, make_up, weights, out);

    const std::vector<Fault> faults = faults_of(pattern, make_up);
    std::vector<Fitted> fitted;
    for (const Fault& fault : faults) {
        const double prior =
            fault.prior_times * prior_of(fault.kind) / count_of(faults, fault.kind);
        Fitted f = fit(fault, pattern.deviation, weights, out.chi_squared, prior);
        if (std::isfinite(f.log_weight) && possible(f.explanation)) {
            const double freedom = elements - (fault.size ? 0 : 1);
            f.explanation.left_p =
                1 - stat::chi_squared_cdf(std::max(0.0, f.explanation.left_over), freedom);
            fitted.push_back(std::move(f));
        }
    }
    double largest = std::log(kChancePrior);
    for (const Fitted& f : fitted) {
        largest = std::max(largest, f.log_weight);
    }
    double sum = std::exp(std::log(kChancePrior) - largest);
    for (const Fitted& f : fitted) {
        sum += std::exp(f.log_weight - largest);
    }
    out.chance_weight = std::exp(std::log(kChancePrior) - largest) / sum;
    for (Fitted& f : fitted) {
        f.explanation.weight = std::exp(f.log_weight - largest) / sum;
    }
    std::stable_sort(fitted.begin(), fitted.end(), [](const Fitted& a, const Fitted& b) {
        return a.explanation.weight > b.explanation.weight;
    });
    join_sources(fitted);
    out.verdict = verdict_of(fitted, weights, out);
    if (out.verdict == DiagnosisVerdict::CannotTell) {
        const auto other = std::find_if(fitted.begin(), fitted.end(), [&](const Fitted& f) {
            return !same_cause(f, fitted.front(), weights);
        });
        if (other != fitted.end()) {
            set_test_element(pattern, fitted.front(), *other, out);
        }
    }
    for (Fitted& f : fitted) {
        out.explanations.push_back(std::move(f.explanation));
    }
    return out;
}

}  // namespace bw::assay
