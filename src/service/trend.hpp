// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "assay/run_length.hpp"
#include "base/notice.hpp"

namespace bw::service {

struct TrendRequest {
    std::vector<double> values;       ///< in the order they came
    std::vector<std::string> labels;  ///< of each value; empty: numbers
    std::vector<std::string> groups;  ///< of each value: neighbours of one name are one point
    assay::ChartWatch watch;
    std::optional<double> centre, sigma;  ///< given together: frozen by decision
    std::size_t phase_one = 0;  ///< values (or groups) at the start that make the limits; 0: all
    std::optional<double> low, high;  ///< what is allowed, for capability
    std::uint64_t seed = 1;
};

/// A chart with its marks.
struct TrendReport {
    bool grouped = false;
    std::size_t group_size = 1;
    std::vector<std::string> labels;  ///< of the points
    std::vector<double> points;       ///< values, or means of groups
    std::vector<double> ranges;  ///< moving ranges (none at the first point: 0), or within groups
    assay::ChartLimits values_limits, ranges_limits;
    double sigma = 0;        ///< of single values, by ranges, or as given
    double point_sigma = 0;  ///< of what is charted
    std::size_t phase_one = 0;
    std::string limits_from;  ///< in words
    double lag1 = 0;
    bool autocorrelated = false;
    std::vector<assay::Marked> marked;
    std::vector<std::size_t> ranges_beyond;
    std::vector<assay::EwmaPoint> ewma;
    std::vector<assay::CusumPoint> cusum;
    double cusum_limit = 0;         ///< h sigma
    double false_alarm_points = 0;  ///< one in so many, everything together
    double shift_seen_points = 0;   ///< until a shift of one sigma is seen
    std::optional<assay::Capability> within, overall;
    std::string no_capability;  ///< why there is none
    base::Notices notices;

    [[nodiscard]] bool signalled() const { return !marked.empty() || !ranges_beyond.empty(); }
};

/// Draws up a trend chart.
///
/// Definition   single values by their moving range; groups by mean and range. Marks of the rules
///              switched on, of the exponentially weighted mean and of cumulated sums. Capability
///              only for 20 values or more, limits on both sides, and a chart without a mark:
///              `within` by the ranges, `overall` by the standard deviation.
/// Errors       BadInput: too few values, none that differ, groups of different sizes, centre
///              without sigma, a phase 1 that is longer than the values or too short.
[[nodiscard]] Result<TrendReport> trend(const TrendRequest& request);

}  // namespace bw::service
