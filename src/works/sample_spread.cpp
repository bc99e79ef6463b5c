// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/sample_spread.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "assay/homogeneity.hpp"
#include "stat/univariate.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

constexpr std::size_t kLeastSamples = 3;  // for a verdict
constexpr std::size_t kPair = 2;

struct Found {
    double between = 0, within = 0, u = 0;  // of one sample's mean; in the results' unit
};

bool equally_often(const std::vector<std::vector<double>>& samples) {
    const std::size_t each = samples.front().size();
    return each >= kPair && std::all_of(samples.begin(), samples.end(),
                                        [&](const auto& s) { return s.size() == each; });
}

/// Without a verdict: what the analysis of variance shows, or the stated repeatability.
Found plain_spread(const std::vector<std::vector<double>>& samples, double repeatability,
                   double between_runs) {
    const double by_runs = between_runs * between_runs;
    const bool repeated = std::any_of(samples.begin(), samples.end(),
                                      [](const auto& s) { return s.size() >= kPair; });
    if (repeated) {
        const stat::Anova a = stat::one_way(samples);
        const double between = std::sqrt(
            std::max(0.0, (a.mean_between - a.mean_within) / a.effective_replicates - by_runs));
        return {between, std::sqrt(a.mean_within), std::max(between, assay::hidden_by(a))};
    }
    std::vector<double> values;
    values.reserve(samples.size());
    for (const auto& s : samples) {
        values.push_back(s.front());
    }
    const double sd = stat::summarize(values).sd;
    const double between =
        std::sqrt(std::max(0.0, sd * sd - repeatability * repeatability - by_runs));
    return {between, repeatability, between};
}

std::string sentence_of(const SampleSpread& s) {
    const std::string figures = fmt::format(
        "{} by {}: {} samples differ by {:.2f} % (standard deviation, the method's share off)",
        s.symbol, s.method, s.samples, s.between_percent);
    if (s.runs > 1) {
        return fmt::format(
            "{}; tested in {} runs, what differs between runs counts as theirs: test them in one "
            "run, each as often, twice or more, for a verdict",
            figures, s.runs);
    }
    if (s.verdict.empty()) {
        return figures +
               "; a verdict needs three samples or more, each tested as often, twice or "
               "more, and limits on both sides";
    }
    if (s.verdict == kNotHomogeneous) {
        return fmt::format("{}: not homogeneous for the goal of {:.3g} %; blend on, or find why",
                           figures, s.goal_percent);
    }
    if (s.verdict == "cannot tell") {
        return fmt::format(
            "{}: the method scatters by {:.2f} %, too much to tell whether they are "
            "alike within the goal of {:.3g} %",
            figures, s.within_percent, s.goal_percent);
    }
    return fmt::format("{}: homogeneous for the goal of {:.3g} %", figures, s.goal_percent);
}

}  // namespace

Result<SampleSpread> spread_of(const SpreadOf& of,
                               const std::vector<std::vector<double>>& samples) {
    SampleSpread out;
    out.symbol = of.symbol;
    out.method = of.method;
    out.goal_percent = of.goal_percent;
    out.samples = static_cast<std::int64_t>(samples.size());
    std::vector<double> means;
    for (const auto& s : samples) {
        out.results += static_cast<std::int64_t>(s.size());
        means.push_back(stat::summarize(s).mean);
    }
    const double mean = stat::summarize(means).mean;
    out.runs = of.runs;
    const double share = mean / unit::kPercent;
    Found found =
        plain_spread(samples, of.repeatability_percent * share, of.between_runs_percent * share);
    const bool judged = of.runs == 1 && samples.size() >= kLeastSamples && equally_often(samples) &&
                        of.goal_percent > 0 && found.within > 0;
    if (judged) {
        const double sigma = of.goal_percent / unit::kPercent * mean / 2;
        BW_TRY(homogeneity, assay::judge_homogeneity(samples, sigma));
        found = {homogeneity.between_sd, homogeneity.within_sd, homogeneity.u_between};
        out.verdict = !homogeneity.sufficient           ? kNotHomogeneous
                      : !homogeneity.method_good_enough ? "cannot tell"
                                                        : kHomogeneous;
    }
    out.between_percent = found.between / mean * unit::kPercent;
    out.within_percent = found.within / mean * unit::kPercent;
    out.u_percent =
        found.u / mean * unit::kPercent / std::sqrt(static_cast<double>(samples.size()));
    out.sentence = sentence_of(out);
    return out;
}

std::vector<std::string> told_of(const std::vector<SampleSpread>& spreads) {
    std::vector<std::string> out;
    std::string alike;
    for (const SampleSpread& s : spreads) {
        if (s.verdict == kHomogeneous) {
            alike += fmt::format("{}{} by {} {:.2f} % (goal {:.3g} %)", alike.empty() ? "" : ", ",
                                 s.symbol, s.method, s.between_percent, s.goal_percent);
        } else {
            out.push_back(s.sentence);
        }
    }
    if (!alike.empty()) {
        out.push_back(
            "homogeneous, for samples differ by (standard deviation, the method's share "
            "off): " +
            alike);
    }
    return out;
}

}  // namespace bw::works
