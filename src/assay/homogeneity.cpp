// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/homogeneity.hpp"

#include <algorithm>
#include <cmath>

#include "stat/quantiles.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr double kProbability = 0.95;

Result<void> check_units(std::span<const std::vector<double>> units, double sigma) {
    if (units.size() < 3) {
        return fail(ProblemCode::BadInput,
                    "homogeneity is judged by three units or more, ten are usual");
    }
    const std::size_t each = units.front().size();
    const auto other = [&](const std::vector<double>& u) { return u.size() != each; };
    if (each < 2 || std::any_of(units.begin(), units.end(), other)) {
        return fail(ProblemCode::BadInput,
                    "every unit has to be tested as often as the others, two times or more");
    }
    if (!(sigma > 0)) {
        return fail(ProblemCode::BadInput, "the width to which units are wanted alike is above 0");
    }
    return {};
}

}  // namespace

SufficiencyFactors sufficiency_factors(std::size_t units, std::size_t results_each) {
    const auto m = static_cast<double>(units);
    const auto n = static_cast<double>(results_each);
    return {stat::chi_squared_quantile(kProbability, m - 1) / (m - 1),
            (stat::f_quantile(kProbability, m - 1, m * (n - 1)) - 1) / n};
}

double hidden_by(const stat::Anova& anova) {
    constexpr double kQuarter = 0.25;
    return std::sqrt(anova.mean_within / anova.effective_replicates) *
           std::pow(2 / anova.freedom_within, kQuarter);
}

Result<Homogeneity> judge_homogeneity(std::span<const std::vector<double>> units, double sigma) {
    BW_CHECK(check_units(units, sigma));
    Homogeneity out;
    out.anova = stat::one_way(units);
    const stat::Anova& a = out.anova;
    if (!(a.within > 0)) {
        return fail(ProblemCode::BadInput,
                    "all units were found alike to the last digit each time: give more digits, or "
                    "test other portions, not one solution twice");
    }
    std::vector<double> variances;
    variances.reserve(units.size());
    for (const auto& u : units) {
        const double sd = stat::summarize(u).sd;
        variances.push_back(sd * sd);
    }
    constexpr double kLevel = 1 - kProbability;
    BW_TRY(worst, cochran(variances, units.front().size(), kLevel));
    out.cochran = worst;
    out.f_critical = stat::f_quantile(kProbability, a.freedom_between, a.freedom_within);
    out.significant = a.f > out.f_critical;

    const double n = a.effective_replicates;
    const double between = std::max(0.0, (a.mean_between - a.mean_within) / n);
    out.between_sd = std::sqrt(between);
    out.within_sd = std::sqrt(a.mean_within);
    const SufficiencyFactors f = sufficiency_factors(units.size(), units.front().size());
    out.largest_variance =
        f.f1 * kHomogeneousShare * kHomogeneousShare * sigma * sigma + f.f2 * a.mean_within;
    out.sufficient = between <= out.largest_variance;
    out.method_good_enough = out.within_sd < sigma / 2;
    out.u_hidden = hidden_by(a);
    out.u_between = std::max(out.between_sd, out.u_hidden);
    return out;
}

}  // namespace bw::assay
