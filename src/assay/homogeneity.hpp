// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <vector>

#include "assay/outliers.hpp"
#include "stat/univariate.hpp"

namespace bw::assay {

/// Whether samples of one batch are alike, seen in three ways that must not be mixed up.
struct Homogeneity {
    stat::Anova anova;
    OutlierTest cochran;       ///< of the variances within units; a bad pair first
    double f_critical = 0;     ///< 95 %
    bool significant = false;  ///< units differ by more than the method's scatter explains

    double between_sd = 0;  ///< of units, the method's share taken off; 0 where that is more
    double within_sd = 0;   ///< repeatability of the method on this material
    double largest_variance =
        0;                    ///< c: the variance between units that still counts as enough alike
    bool sufficient = false;  ///< between_sd^2 is at most that
    bool method_good_enough = false;  ///< within_sd is below half of the goal's sigma

    double u_between = 0;  ///< to carry in an uncertainty: the larger of between_sd and what
                           ///< the method could hide
    double u_hidden = 0;
};

/// Share of sigma that units may differ by and still count as alike. Source
/// [thompson-2006-harmonized].
inline constexpr double kHomogeneousShare = 0.3;

/// F1 and F2 of the sufficiency test, see judge_homogeneity().
struct SufficiencyFactors {
    double f1 = 0, f2 = 0;
};
[[nodiscard]] SufficiencyFactors sufficiency_factors(std::size_t units, std::size_t results_each);

/// What differences of units a method can hide: sqrt(MSw/n0) (2/freedom within)^(1/4). Source ISO
/// Guide 35.
[[nodiscard]] double hidden_by(const stat::Anova& anova);

/// Judges units of one batch, each tested two times or more.
///
/// Definition   significance: F of one_way() against its 95 % point. Sufficiency: s_s^2 = max(0,
///              (MSb - MSw)/n0) at most c = F1 (0.3 sigma)^2 + F2 MSw with F1 = chi2(0.95;
///              m-1)/(m-1) and F2 = (F(0.95; m-1, m(n-1)) - 1)/n. To carry: u_bb = max(s_s,
///              sqrt(MSw/n0) (2/(m (n-1)))^(1/4)).
/// Inputs       3 units or more of as many results each, 2 at least; sigma above 0: half the width
///              to which units are wanted alike (for +-2 %, 1 % of the mean), in the results' unit.
/// Deviates     F2 for n results is the form for two, (F - 1)/2, carried to n.
/// Errors       BadInput.
/// Source       the harmonized protocol of 2006 [thompson-2006-harmonized] and ISO 13528 (F1, F2),
///              ISO Guide 35 (u_bb).
[[nodiscard]] Result<Homogeneity> judge_homogeneity(std::span<const std::vector<double>> units,
                                                    double sigma);

}  // namespace bw::assay
