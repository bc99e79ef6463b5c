// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>

#include "base/result.hpp"

namespace bw::assay {

/// What a value has to lie within; one side may be open.
struct ToleranceInterval {
    std::optional<double> low, high;
};

/// A measured value with its standard uncertainty.
struct MeasuredValue {
    double value = 0;
    double u = 0;
    std::optional<double> freedom;  ///< of u, where it comes from few data; nothing: many
};

/// Probability that the true value lies within the limits.
///
/// Definition   Phi((T_U - y)/u) - Phi((T_L - y)/u); Student's t with the freedom where it is
/// given.
///              With u = 0: 1 or 0.
/// Inputs       a limit at least; low below high; u not negative; freedom above 0.
/// Errors       BadInput. Source [jcgm-106] 7.4, eq. 11.
[[nodiscard]] Result<double> probability_of_conformity(const MeasuredValue& measured,
                                                       const ToleranceInterval& tolerance);

/// How a decision is made; the works chooses it before anything is tested.
struct DecisionRule {
    enum class Kind : std::uint8_t {
        Simple,      ///< inside the limits is accepted: at a limit half of all would be wrong
        Guarded,     ///< inside the limits drawn in by `width` standard uncertainties, or with
                     ///< few degrees of freedom by the t that is as sure
        Probability  ///< probability_of_conformity at least `least`
    };
    Kind kind = Kind::Guarded;
    double width = 2;     ///< of Guarded
    double least = 0.95;  ///< of Probability
};

/// What the rule makes of a value; the words of the vocabulary.
enum class ConformityVerdict : std::uint8_t {
    Within,    ///< accepted by the rule
    TooClose,  ///< inside the limits but not accepted, or outside by less than the same doubt
    Outside,   ///< outside the limits drawn out by the same width
    NotTested
};

struct ConformityDecision {
    ConformityVerdict verdict = ConformityVerdict::NotTested;
    double probability = 0;  ///< of conformity
    /// The limits that the value is compared with; nothing on an open side. Where they cross, the
    /// method cannot prove the tolerance: cannot_prove.
    std::optional<double> accept_low, accept_high;
    bool cannot_prove = false;
    std::optional<double> capability;  ///< C_m = (T_U - T_L)/(4 u), of two limits; 3 is wanted
};

/// Decides on one value; compares unrounded numbers.
///
/// Definition   Within: by the rule. Outside: the value lies outside and the probability of
///              conformity is below that which the rule asks for nonconformity: 1 - least, or
///              Phi(-width). Else too close. The acceptance limits of Probability are those of one
///              limit alone, width = Phi^-1(least).
/// Errors       as probability_of_conformity; BadInput for width below 0 or least outside 0.5 to 1.
/// Source       [jcgm-106] 8, four outcomes as in [ilac-g8-2019].
[[nodiscard]] Result<ConformityDecision> decide(const MeasuredValue& measured,
                                                const ToleranceInterval& tolerance,
                                                const DecisionRule& rule);

/// Risks of a rule over a whole production, prior and measurement normal.
struct GlobalRisks {
    double conforming_share = 0;  ///< of the production
    double consumer = 0;          ///< accepted and not conforming
    double producer = 0;          ///< conforming and not accepted
};

/// Definition   integrals over the true value of the prior's density times the probability of
///              acceptance, by Simpson's rule on 4000 intervals over 10 standard deviations.
/// Inputs       prior sd and measurement u above 0; tolerance and acceptance with both limits.
/// Accuracy     1e-8. Errors BadInput. Source [jcgm-106] 9.5, eq. 19 and 20.
[[nodiscard]] Result<GlobalRisks> global_risks(double prior_mean, double prior_sd,
                                               double measurement_u,
                                               const ToleranceInterval& tolerance,
                                               const ToleranceInterval& acceptance);

}  // namespace bw::assay
