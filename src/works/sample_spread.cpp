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

/// Why there is no verdict, and what would bring one.
std::string no_verdict(const SpreadOf& of) {
    if (of.samples.size() < kLeastSamples) {
        return "no verdict: three samples or more are needed";
    }
    if (!(of.goal_percent > 0)) {
        return "no verdict: its limits are on one side";
    }
    if (of.comparable.size() >= kLeastSamples) {
        return "no verdict: each sample was found alike to the last digit; give more digits";
    }
    return "no verdict: test three samples or more in one run, each twice or more";
}

std::string sentence_of(const SampleSpread& s, const SpreadOf& of, bool judged) {
    std::string figures = fmt::format(
        "{} by {}: {} samples differ by {:.2f} % (standard deviation, the method's share off)",
        s.symbol, s.method, s.samples, s.between_percent);
    if (of.own_runs) {
        figures += fmt::format(
            "; each was tested in a run of its own, and what differs between "
            "runs {}",
            of.between_runs_percent > 0 ? "is taken off as the method states it"
                                        : "counts as theirs");
    }
    if (s.verdict == kNotHomogeneous) {
        return fmt::format("{}: not homogeneous for the goal of {:.3g} %{}; blend on, or find why",
                           figures, s.goal_percent, judged ? "" : " (" + no_verdict(of) + ")");
    }
    if (s.verdict.empty()) {
        return figures + "; " + no_verdict(of);
    }
    if (s.verdict == "cannot tell") {
        return fmt::format(
            "{}: the method scatters by {:.2f} %, too much to tell whether they are "
            "alike within the goal of {:.3g} %",
            figures, s.within_percent, s.goal_percent);
    }
    return fmt::format("{}: homogeneous for the goal of {:.3g} %", figures, s.goal_percent);
}

/// More than the sufficiency test allows, were each sample tested twice by the method.
bool beyond(const Found& found, double repeatability, double sigma, std::size_t samples) {
    const assay::SufficiencyFactors f = assay::sufficiency_factors(samples, kPair);
    const double within = std::max(found.within, repeatability);
    return found.between * found.between >
           f.f1 * assay::kHomogeneousShare * assay::kHomogeneousShare * sigma * sigma +
               f.f2 * within * within;
}

}  // namespace

Result<SampleSpread> spread_of(const SpreadOf& of) {
    SampleSpread out;
    out.symbol = of.symbol;
    out.method = of.method;
    out.goal_percent = of.goal_percent;
    out.samples = static_cast<std::int64_t>(of.samples.size());
    out.runs = of.runs;
    std::vector<double> means;
    for (const auto& s : of.samples) {
        out.results += static_cast<std::int64_t>(s.size());
        means.push_back(stat::summarize(s).mean);
    }
    const double mean = stat::summarize(means).mean;
    const double share = mean / unit::kPercent;
    const double repeatability = of.repeatability_percent * share;
    Found found = plain_spread(of.samples, repeatability, of.between_runs_percent * share);
    const double sigma = of.goal_percent * share / 2;
    const bool several = of.samples.size() >= kLeastSamples && sigma > 0;
    bool judged = false;
    if (several && of.comparable.size() >= kLeastSamples &&
        stat::one_way(of.comparable).within > 0) {
        BW_TRY(homogeneity, assay::judge_homogeneity(of.comparable, sigma));
        found = {homogeneity.between_sd, homogeneity.within_sd,
                 std::max(found.u, homogeneity.u_between)};
        out.verdict = !homogeneity.sufficient           ? kNotHomogeneous
                      : !homogeneity.method_good_enough ? "cannot tell"
                                                        : kHomogeneous;
        judged = true;
    } else if (several && beyond(found, repeatability, sigma, of.samples.size())) {
        out.verdict = kNotHomogeneous;
    }
    out.between_percent = found.between / mean * unit::kPercent;
    out.within_percent = found.within / mean * unit::kPercent;
    out.u_percent =
        found.u / mean * unit::kPercent / std::sqrt(static_cast<double>(of.samples.size()));
    out.sentence = sentence_of(out, of, judged);
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
