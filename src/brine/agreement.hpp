// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "brine/instrument.hpp"

namespace bw::brine {

/// Code of the cause that an instrument itself is off.
inline constexpr std::string_view kInstrumentItself = "instrument_error";

/// One way in which one reading may not be what it was said to be.
struct Cause {
    std::string code;  ///< stable short name, e.g. "dial_is_nacl"
    std::string text;  ///< one sentence
    std::size_t reading = 0;
    double chi_square = 0;
    double probability = 0;     ///< of a chi-square as large by chance
    unit::GramPerKg dissolved;  ///< of the readings combined, if this is the cause
    bool reconciles = false;    ///< the readings agree, if this is the cause
};

/// The readings without one of them.
struct WithoutOne {
    std::size_t reading = 0;  ///< left out
    unit::GramPerKg dissolved;
    double u_g_per_kg = 0;  ///< widened by the Birge ratio where that is above 1
    double chi_square = 0;
    double probability = 1;
    bool consistent = true;
};

/// Several readings of one water, combined.
struct Agreement {
    unit::GramPerKg dissolved;
    unit::PracticalSalinity practical_salinity;
    double u_g_per_kg = 0;  ///< widened by the Birge ratio where that is above 1
    double u_internal_g_per_kg = 0;
    double chi_square = 0;
    int degrees_of_freedom = 0;
    double probability = 1;
    double birge_ratio = 0;
    bool consistent = true;
    std::vector<Converted> converted;       ///< of each reading
    std::vector<double> residual_g_per_kg;  ///< reading less combined
    std::vector<double> expected;           ///< what each should show in the combined water
    std::vector<Cause> causes;              ///< only if not consistent; the likeliest first
    bool decisive = false;                  ///< the first cause stands well before all other slips
    std::vector<WithoutOne> without;  ///< of each reading; only if not consistent and three or more
    std::optional<std::size_t> odd_one;  ///< the reading without which, alone, the others agree
};

/// Combines readings of one water and, if they contradict one another, looks for the cause.
///
/// Definition   mean weighted by 1/u^2; chi-square of the residuals over u; Birge ratio
///              sqrt(chi-square / (n - 1)). Consistent: a chi-square as large has a probability of
///              more than 4.55 %, which for two readings is a difference below 2 sqrt(u1^2 + u2^2).
///              A cause is tried by taking one reading as it would be under the cause. Decisive:
///              it reconciles, and every other cause leaves a chi-square larger by 6, that is, is
///              20 times less likely; an error of an instrument itself, which explains anything,
///              is not counted among these. Odd one: the others agree without it, and without any
///              other reading chi-square stays larger by 6.
/// Inputs       one reading or several.
/// Accuracy     readings are taken as independent; a thermometer or a standard that they share,
///              and the salt's composition, make them agree better than they should.
/// Errors       OutOfRange of a reading; BadInput without any.
/// Source       [birge-1932]; [jcgm-100].
/// Deviates     none.
/// Complexity   about thirty conversions of each reading when they contradict one another.
[[nodiscard]] Result<Agreement> combine(const SaltLaw& law, const std::vector<Reading>& readings);

/// Probability that chi-square with k degrees of freedom exceeds x. Exact for whole k >= 1.
[[nodiscard]] double chi_square_exceeded(double x, int k);

}  // namespace bw::brine
