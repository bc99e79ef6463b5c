// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace bw::assay {

/// Constants of charts of ranges and standard deviations of n normal values.
///
/// Definition   d2, d3: mean and standard deviation of the range; c4: mean of the standard
///              deviation; A2 = 3/(d2 sqrt n), A3 = 3/(c4 sqrt n), D3, D4 = 1 -+ 3 d3/d2 and B3, B4
///              = 1 -+ 3 sqrt(1 - c4^2)/c4, not below 0.
/// Inputs       n from 2 to 100. Accuracy 1e-9. Source definitions; ISO 7870-2 names.
struct ChartConstants {
    double d2, d3, c4, a2, a3, d_low, d_high, b_low, b_high;
};
[[nodiscard]] ChartConstants chart_constants(int n);

/// Centre and action limits of a chart; they are frozen when made and signed, and are made anew by
/// decision only.
struct ChartLimits {
    double low = 0, centre = 0, high = 0;
};

/// Limits of single values by their moving range.
struct IndividualsChart {
    ChartLimits values;
    ChartLimits ranges;  ///< of neighbours
    double sigma = 0;    ///< mean moving range over d2 of 2
    double lag1 = 0;
    bool autocorrelated = false;  ///< lag1 above 2/sqrt(n): the limits are too tight
};

/// Definition   centre the mean, limits mean -+ 3 MR/d2(2); ranges 0 to D4(2) MR.
/// Inputs       8 values or more, of batches in order; 20 to 25 are usual.
/// Errors       BadInput; also for values without any scatter.
/// Source       ISO 7870-2, individuals and moving range.
[[nodiscard]] Result<IndividualsChart> individuals_chart(std::span<const double> values);

/// Limits of means and of ranges, or of means and of standard deviations, of equal groups.
struct GroupsChart {
    ChartLimits means, scatter;
    double sigma = 0;
};
enum class Scatter : std::uint8_t { Range, StandardDeviation };
/// Inputs   2 groups or more of as many values, 2 to 100 each. Errors BadInput.
[[nodiscard]] Result<GroupsChart> groups_chart(std::span<const std::vector<double>> groups,
                                               Scatter scatter);

/// What a point is marked for.
enum class Signal : std::uint8_t {
    BeyondAction,  ///< one point beyond three sigma
    TwoOfThree,    ///< two of three beyond two sigma on one side
    FourOfFive,    ///< four of five beyond one sigma on one side
    EightOneSide,  ///< eight in a row on one side
    Ewma,
    Cusum
};
[[nodiscard]] std::string_view name(Signal signal);
struct Marked {
    std::size_t point;
    Signal signal;
};

/// Which rules are on. Each added rule costs false alarms: rule 1 alone gives one in 370 points,
/// with eight on one side one in 152, all four one in 92 (simulated).
struct ChartRules {
    bool two_of_three = false, four_of_five = false, eight_one_side = false;
};
/// Marks of a chart of known centre and sigma. Inputs sigma above 0.
[[nodiscard]] std::vector<Marked> signals(std::span<const double> values, double centre,
                                          double sigma, const ChartRules& rules = {});

/// Exponentially weighted means.
///
/// Definition   z_t = lambda x_t + (1 - lambda) z_(t-1), z_0 the centre; limits centre -+ L sigma
///              sqrt(lambda/(2 - lambda) (1 - (1 - lambda)^(2t))).
/// Inputs       sigma above 0, lambda above 0 to 1, L above 0; 0.2 and 2.7 see a shift of one sigma
///              in 8.8 points at one false alarm in 238.
/// Source       ISO 7870-6 [roberts-1959].
struct EwmaPoint {
    double z, low, high;
    [[nodiscard]] bool beyond() const { return z < low || z > high; }
};
[[nodiscard]] std::vector<EwmaPoint> ewma(std::span<const double> values, double centre,
                                          double sigma, double lambda = 0.2, double width = 2.7);
/// Points until a false alarm, and until a shift of `shift` sigma is seen, on average, with the
/// limits of many points.
///
/// Definition   a chain of `states` intervals of z between the limits, absorbed beyond them.
/// Accuracy     1 % with 201 states. Source Brook and Evans (1972).
[[nodiscard]] double ewma_run_length(double lambda, double width, double shift);

/// Cumulated sums, in sigma.
///
/// Definition   C+ = max(0, C+ + x - centre - k sigma), C- likewise; a signal above h sigma.
/// Inputs       sigma above 0; k 0.5 and h 4 to 5 are usual. Source ISO 7870-4.
struct CusumPoint {
    double up, down;  ///< in the values' unit, both at least 0
};
[[nodiscard]] std::vector<CusumPoint> cusum(std::span<const double> values, double centre,
                                            double sigma, double k = 0.5);

/// How the scatter fits into what is allowed.
struct Capability {
    double cp = 0, cpk = 0;
    double cp_low = 0, cp_high = 0;    ///< 95 %
    double cpk_low = 0, cpk_high = 0;  ///< 95 %
    double outside = 0;                ///< share of normal values outside
    std::size_t count = 0;
};
/// Definition   Cp = (U - L)/(6 s), Cpk = min(U - m, m - L)/(3 s); limits of Cp by chi squared, of
/// Cpk
///              -+ 1.96 sqrt(1/(9n) + Cpk^2/(2(n-1))).
/// Inputs       mean, s above 0, the count behind them: 20 or more, else the interval says nothing;
///              low below high. Errors BadInput.
/// Source       [nist-handbook]; ISO 22514.
[[nodiscard]] Result<Capability> capability(double mean, double sd, std::size_t count, double low,
                                            double high);

}  // namespace bw::assay
