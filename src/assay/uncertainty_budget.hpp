// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

inline constexpr double kManyFreedom = std::numeric_limits<double>::infinity();

/// What is known of an input quantity: which values it may have, and how likely.
enum class InputShape : std::uint8_t {
    Normal,
    StudentT,     ///< of few readings: value + u t, with the freedom stated
    Rectangular,  ///< anywhere within -+ half_width
    Triangular,
    Trapezoidal,  ///< flat over the share `inner` of its base
    Curvilinear,  ///< rectangular, its limits known to `inner` of the half width only
    ArcSine       ///< of something that swings within -+ half_width
};

/// An input of a measurement model. Make it by the functions below.
struct BudgetInput {
    std::string name;
    double value = 0;
    double u = 0;                   ///< standard uncertainty; of StudentT the scale, s/sqrt(n)
    double freedom = kManyFreedom;  ///< degrees of freedom of u
    InputShape shape = InputShape::Normal;
    double half_width = 0;  ///< of the shapes with limits
    double inner = 0;       ///< 0 to 1, see InputShape
};

/// Definition   u of a shape within -+a: rectangular a/sqrt 3; triangular a/sqrt 6; trapezoidal a
///              sqrt((1 + b^2)/6), b the share of the base that is flat; curvilinear a sqrt(1/3 +
///              d^2/9), d of a; arc sine a/sqrt 2.
/// Source       [jcgm-100] 4.3, [jcgm-101] 6.4.
[[nodiscard]] BudgetInput normal_input(std::string name, double value, double u,
                                       double freedom = kManyFreedom);
[[nodiscard]] BudgetInput student_input(std::string name, double value, double u, double freedom);
[[nodiscard]] BudgetInput limited_input(std::string name, double value, double half_width,
                                        InputShape shape = InputShape::Rectangular,
                                        double inner = 0, double freedom = kManyFreedom);

/// Two inputs that vary together; inputs not named are independent.
struct Correlation {
    std::size_t a = 0, b = 0;
    double r = 0;
};

/// The measurement model: from the inputs' values, in their order, to the result.
using Model = std::function<double(std::span<const double>)>;

/// What one input does to the result.
struct Contribution {
    std::size_t input = 0;
    double sensitivity = 0;  ///< derivative of the result by the input
    double u = 0;            ///< |sensitivity| times the input's u, in the result's unit
    double share = 0;        ///< of the variance; with correlations it may be negative. Sum 1
};

/// The budget of a result.
struct Budget {
    double value = 0;
    double u = 0;
    double freedom = kManyFreedom;  ///< effective, as computed; k uses it cut to a whole number
    double coverage = 0;
    double factor = 0;                        ///< k
    double expanded = 0;                      ///< U = k u
    std::vector<Contribution> contributions;  ///< largest |share| first
    std::vector<double> sensitivities;        ///< in the inputs' order
    bool freedom_doubtful = false;  ///< correlated inputs of few readings: Welch-Satterthwaite does
                                    ///< not hold
};

enum class BudgetOrder : std::uint8_t { First, Second };

/// Propagates standard uncertainties through a model.
///
/// Definition   u^2 = sum_i sum_j c_i c_j u_i u_j r_ij; Second adds sum_ij (f_ij^2/2 + f_i f_ijj)
///              u_i^2 u_j^2 (symmetric independent inputs). Freedom = u^4/sum (c_i u_i)^4/nu_i, cut
///              to a whole number for k = t. Derivatives by central differences of fourth order
///              with a step of u/8 (f_ij and f_ijj of second order with a step of u).
/// Inputs       u not negative; coverage between 0 and 1; correlations -1 to 1, no pair twice, the
///              whole matrix without negative variance; the model finite within 2 u of the values.
/// Accuracy     of the derivatives 1e-6 relative for smooth models.
/// Errors       BadInput.
/// Source       [jcgm-100] 5.1.2 with its note, 5.2.2, annex G.
/// Complexity   4 calls of the model per input, Second 9 per pair.
[[nodiscard]] Result<Budget> propagate(const Model& model, std::span<const BudgetInput> inputs,
                                       std::span<const Correlation> correlations = {},
                                       double coverage = 0.95,
                                       BudgetOrder order = BudgetOrder::First);

/// Covariance of two results of the same inputs: sum_i sum_j a_i b_j u_i u_j r_ij.
///
/// Inputs   budgets made of these inputs and correlations. Source [jcgm-100] H.2.3.
[[nodiscard]] double covariance(const Budget& a, const Budget& b,
                                std::span<const BudgetInput> inputs,
                                std::span<const Correlation> correlations = {});

/// Errors of the inputs and correlations, for those that take them as they are.
[[nodiscard]] Result<void> check_budget_inputs(std::span<const BudgetInput> inputs,
                                               std::span<const Correlation> correlations);

}  // namespace bw::assay
