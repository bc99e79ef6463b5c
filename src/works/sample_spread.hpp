// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace bw::works {

/// How far the samples of a batch lie apart in one constituent, by one method.
struct SampleSpread {
    std::string symbol, method;
    std::int64_t samples = 0, results = 0, runs = 1;
    double between_percent = 0;  ///< standard deviation between samples, the method's share off
    double within_percent = 0;   ///< standard deviation of results on one sample
    double u_percent = 0;        ///< standard uncertainty that the samples' mean has by it
    double goal_percent = 0;     ///< half width of the limits, of their middle; 0: one-sided
    std::string verdict;         ///< "homogeneous", "not homogeneous", "cannot tell"; empty: none
    std::string sentence;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("symbol", x.symbol);
        v("method", x.method);
        v("samples", x.samples);
        v("results", x.results);
        v("runs", x.runs);
        v("between_percent", x.between_percent);
        v("within_percent", x.within_percent);
        v("u_percent", x.u_percent);
        v("goal_percent", x.goal_percent);
        v("verdict", x.verdict);
        v("sentence", x.sentence);
    }
};

inline constexpr const char* kHomogeneous = "homogeneous";
inline constexpr const char* kNotHomogeneous = "not homogeneous";

/// What is tested, and what is known of it beforehand.
struct SpreadOf {
    std::string symbol, method;
    double repeatability_percent = 0;          ///< of the method, as stated
    double goal_percent = 0;                   ///< 0: no verdict
    std::int64_t runs = 1;                     ///< that the results are of
    bool own_runs = false;                     ///< each sample in a run of its own
    double between_runs_percent = 0;           ///< of each sample, where it is in a run of its own
    std::vector<std::vector<double>> samples;  ///< two or more, none empty, of positive mean
    std::vector<std::vector<double>> comparable;  ///< of one run, each as often, twice or more
};

/// Compares the samples of a batch, the results of each in one group.
///
/// Definition   one-way analysis of variance of all samples, less between_runs; where none was
///              tested twice, the method's stated repeatability stands for MSw and hides nothing.
///              u is what they differ by over the root of their number. Three comparable samples
///              or more: assay::judge_homogeneity with sigma half of the goal, whose u_between
///              counts where it is larger. Where that cannot be (fewer are comparable, or each is
///              alike to the last digit), three samples or more that differ by more than the
///              sufficiency test allows pairs of the method's stated repeatability are not
///              homogeneous all the same, and nothing else is said.
/// Errors       none beyond those of judge_homogeneity that its inputs bar.
/// Source       ISO Guide 35 (u_between); [thompson-2006-harmonized] for the verdict.
[[nodiscard]] Result<SampleSpread> spread_of(const SpreadOf& of);

/// What a reader should know of them: what is homogeneous in one sentence, all else each in its
/// own.
[[nodiscard]] std::vector<std::string> told_of(const std::vector<SampleSpread>& spreads);

}  // namespace bw::works
