// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/assessment.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>

#include <fmt/format.h>

#include "assay/combining.hpp"
#include "assay/duplicates.hpp"
#include "assay/outliers.hpp"
#include "stat/normal.hpp"
#include "stat/univariate.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

constexpr std::size_t kPair = 2;
constexpr std::size_t kThree = 3;
constexpr std::size_t kFour = 4;

struct Group {
    std::string method;
    std::vector<const PlacedResult*> results;
};

std::vector<Group> by_method(std::span<const PlacedResult> results, std::string_view symbol) {
    std::vector<Group> out;
    for (const PlacedResult& r : results) {
        if (r.is.analyte != symbol || r.is.state != ResultState::Counted) {
            continue;
        }
        auto group = std::find_if(out.begin(), out.end(),
                                  [&](const Group& g) { return g.method == r.is.method; });
        if (group == out.end()) {
            out.push_back({r.is.method, {}});
            group = out.end() - 1;
        }
        group->results.push_back(&r);
    }
    return out;
}

std::size_t portions_in(const Group& group) {
    std::vector<std::string> seen;
    for (const PlacedResult* r : group.results) {
        if (std::find(seen.begin(), seen.end(), r->is.portion) == seen.end()) {
            seen.push_back(r->is.portion);
        }
    }
    return seen.size();
}

std::vector<Group> by_sample(const Group& group) {
    std::vector<Group> out;
    std::vector<std::string> seen;
    for (const PlacedResult* r : group.results) {
        const auto at = std::find(seen.begin(), seen.end(), r->is.sample);
        const auto index = static_cast<std::size_t>(at - seen.begin());
        if (at == seen.end()) {
            seen.push_back(r->is.sample);
            out.push_back({group.method, {}});
        }
        out[index].results.push_back(r);
    }
    return out;
}

std::vector<double> values_of(const Group& group) {
    std::vector<double> out;
    out.reserve(group.results.size());
    for (const PlacedResult* r : group.results) {
        out.push_back(r->is.mol_per_kg);
    }
    return out;
}

std::set<std::string> runs_in(const Group& group) {
    std::set<std::string> out;
    for (const PlacedResult* r : group.results) {
        out.insert(r->run);
    }
    return out;
}

/// Of one method, at a value.
struct Scatter {
    double u1 = 0;  ///< standard uncertainty of one result
    double sr = 0;  ///< within a run
    double sb = 0;  ///< between runs, as the method states it
};

Scatter scatter_of(const TestResult& one, double value) {
    const double share = value / unit::kPercent;
    return {one.u_percent * share, one.repeatability_percent * share,
            one.between_runs_percent * share};
}

/// u of a mean: what the results share stays; what each run has for itself, and each result, falls
/// with their number.
double u_of_mean(const Group& group, double value) {
    const Scatter s = scatter_of(group.results.front()->is, value);
    const double count = static_cast<double>(group.results.size());
    double by_run = 0;  // sum of the squared shares of the runs
    for (const std::string& run : runs_in(group)) {
        const auto held = std::count_if(group.results.begin(), group.results.end(),
                                        [&](const PlacedResult* r) { return r->run == run; });
        by_run += static_cast<double>(held * held) / (count * count);
    }
    return std::sqrt(std::max(0.0, s.u1 * s.u1 - s.sr * s.sr - s.sb * s.sb) + s.sr * s.sr / count +
                     s.sb * s.sb * by_run);
}

/// Results of several runs are compared by what differs between runs as well, where it is stated.
double comparable_sd(const Group& group, double value) {
    const Scatter s = scatter_of(group.results.front()->is, value);
    return runs_in(group).size() > 1 ? std::hypot(s.sr, s.sb) : s.sr;
}

std::string of_runs(const Group& group) {
    const std::size_t runs = runs_in(group).size();
    if (runs < kPair) {
        return "";
    }
    return fmt::format(" of {} runs{}", runs,
                       group.results.front()->is.between_runs_percent > 0
                           ? ""
                           : ", and the method does not state what differs between runs,");
}

/// Names the result that stands out of four or more; three have no power. The test only raises the
/// question.
void name_outlier(const Group& group, std::span<const double> values, Tested& out) {
    constexpr double kAlpha = 0.05;
    if (values.size() < kFour) {
        return;
    }
    const auto test = assay::grubbs(values, kAlpha);
    if (test && test->beyond()) {
        out.notes.push_back(fmt::format(
            "{} by {}: result {} stands out (Grubbs: {:.3f}, critical {:.3f} at 5 %); look for a "
            "cause, and set it aside only for that",
            out.symbol, group.method, group.results[test->suspect]->id(), test->statistic,
            test->critical));
    }
}

/// What the duplicates of one method on one sample come to, and what they wait for.
Result<MethodValue> value_on_sample(const Group& group, Tested& out) {
    const TestResult& one = group.results.front()->is;
    const std::vector<double> values = values_of(group);
    MethodValue value;
    value.method = group.method;
    value.method_number = one.method_number;
    value.results = static_cast<std::int64_t>(values.size());
    const stat::Summary summary = stat::summarize(values);
    value.mol_per_kg = summary.mean;
    value.u = u_of_mean(group, summary.mean);
    const std::string where = fmt::format("{} by {}", out.symbol, group.method);
    if (portions_in(group) < kPair) {
        value.duplicates = "one only";
        out.waits.push_back(fmt::format(
            "{}: one test portion only; a second, dissolved by itself, is wanted", where));
        return value;
    }
    if (values.size() == kThree) {
        value.duplicates = "three";
        out.waits.push_back(fmt::format(
            "{}: three results; there is no dropping of the odd one, a fourth is wanted", where));
        return value;
    }
    name_outlier(group, values, out);
    const double sr = comparable_sd(group, summary.mean);
    if (!(sr > 0)) {
        value.duplicates = "accepted";
        return value;
    }
    assay::DuplicateJudgement judged;
    if (values.size() == kPair || values.size() == kFour) {
        BW_TRY(judgement, assay::judge_duplicates(values, sr));
        judged = judgement;
    } else {
        const auto [least, most] = std::minmax_element(values.begin(), values.end());
        judged.range = *most - *least;
        judged.limit = assay::critical_range_factor(static_cast<int>(values.size())) * sr;
        const bool agree = judged.range <= judged.limit;
        judged.verdict =
            agree ? assay::DuplicateVerdict::MeanOfFour : assay::DuplicateVerdict::MedianOfFour;
        judged.result = agree ? summary.mean : stat::median(values);
    }
    value.mol_per_kg = judged.result;
    const double percent = summary.mean > 0 ? judged.range / summary.mean * unit::kPercent : 0;
    if (judged.verdict == assay::DuplicateVerdict::TwoMore) {
        value.duplicates = "two more wanted";
        out.waits.push_back(fmt::format(
            "{}: two results{} {:.2f} % apart, beyond the critical range of {:.2f} %: two more are "
            "wanted",
            where, of_runs(group), percent, judged.limit / summary.mean * unit::kPercent));
    } else if (judged.verdict == assay::DuplicateVerdict::MedianOfFour) {
        value.duplicates = "median";
        value.u = std::hypot(u_of_mean(group, judged.result),
                             summary.sd / std::sqrt(static_cast<double>(values.size())));
        out.notes.push_back(fmt::format(
            "{}: {} results{} {:.2f} % apart, so their median stands; look at the method", where,
            values.size(), of_runs(group), percent));
    } else {
        value.duplicates = "accepted";
    }
    return value;
}

/// The mean of several samples. A sample tested once is no duplicate and waits for none; what
/// several results on one are to each other is judged sample by sample.
Result<MethodValue> value_of_samples(const Group& all, const std::vector<Group>& samples,
                                     Tested& out) {
    MethodValue value;
    value.method = all.method;
    value.method_number = all.results.front()->is.method_number;
    value.results = static_cast<std::int64_t>(all.results.size());
    value.duplicates = "accepted";
    std::vector<double> means;
    double scatter = 0;  // squares of what medians add
    for (const Group& sample : samples) {
        if (sample.results.size() == 1) {
            means.push_back(sample.results.front()->is.mol_per_kg);
            continue;
        }
        BW_TRY(on_sample, value_on_sample(sample, out));
        means.push_back(on_sample.mol_per_kg);
        if (on_sample.duplicates == "median") {
            const double count = static_cast<double>(sample.results.size());
            const double sd = stat::summarize(values_of(sample)).sd;
            scatter += sd * sd / count;
        }
        if (on_sample.duplicates != "accepted") {
            value.duplicates = on_sample.duplicates;
        }
    }
    const double count = static_cast<double>(samples.size());
    value.mol_per_kg = stat::summarize(means).mean;
    value.u = std::hypot(u_of_mean(all, value.mol_per_kg), std::sqrt(scatter) / count);
    return value;
}

Result<MethodValue> value_of(const Group& group, Tested& out) {
    const std::vector<Group> samples = by_sample(group);
    return samples.size() < kPair ? value_on_sample(group, out)
                                  : value_of_samples(group, samples, out);
}

/// How many runs the samples' results are of, and whether each run holds one sample only: then what
/// differs between runs is in what differs between samples.
void take_runs(const Group& group, const std::vector<Group>& samples, SpreadOf& of) {
    of.runs = static_cast<std::int64_t>(runs_in(group).size());
    const bool own = std::all_of(samples.begin(), samples.end(), [&](const Group& sample) {
        const std::set<std::string> mine = runs_in(sample);
        return mine.size() == 1 &&
               std::all_of(group.results.begin(), group.results.end(), [&](const PlacedResult* r) {
                   return r->run != *mine.begin() ||
                          r->is.sample == sample.results.front()->is.sample;
               });
    });
    of.between_runs_percent = own ? group.results.front()->is.between_runs_percent : 0;
}

/// How the samples differ, by each method that tested two or more; what the largest of them, or
/// what the limits state, adds to the uncertainty.
Result<void> add_sampling(const std::vector<Group>& groups, double stated_percent, Tested& out,
                          std::vector<SampleSpread>& spreads) {
    double percent = 0;
    std::size_t most = 1;
    for (const Group& g : groups) {
        const std::vector<Group> samples = by_sample(g);
        most = std::max(most, samples.size());
        if (samples.size() < kPair || !(out.value > 0)) {
            continue;
        }
        SpreadOf of;
        of.symbol = out.symbol;
        of.method = g.method;
        of.repeatability_percent = g.results.front()->is.repeatability_percent;
        take_runs(g, samples, of);
        if (out.low && out.high) {
            of.goal_percent = (*out.high - *out.low) / (*out.high + *out.low) * unit::kPercent;
        }
        std::vector<std::vector<double>> values;
        values.reserve(samples.size());
        for (const Group& s : samples) {
            values.push_back(values_of(s));
        }
        BW_TRY(spread, spread_of(of, values));
        percent = std::max(percent, spread.u_percent);
        spreads.push_back(std::move(spread));
    }
    percent = std::max(percent, stated_percent / std::sqrt(static_cast<double>(most)));
    out.u_sampling = percent / unit::kPercent * out.value;
    out.u_own = std::hypot(out.u_own, out.u_sampling);
    return {};
}

std::string sampling_sentence(const Assessment& a, double stated_percent) {
    if (!a.spreads.empty()) {
        return fmt::format("how the samples differ is in the uncertainties, as they show it{}",
                           stated_percent > 0 ? " or as the limits state it, the larger" : "");
    }
    if (stated_percent > 0) {
        return fmt::format(
            "how far a sample lies from the batch is in the uncertainties as the limits state it: "
            "{:.3g} % for one sample, standard uncertainty",
            stated_percent);
    }
    return "one sample: how far it lies from the batch is not in the uncertainties";
}

Result<void> combine_methods(Tested& out) {
    std::vector<assay::MethodValue> values;
    for (const MethodValue& m : out.methods) {
        values.push_back({m.mol_per_kg, m.u});
    }
    BW_TRY(combined, assay::combine(values));
    out.value = combined.value;
    out.u_own = combined.u;
    if (!combined.consistent) {
        out.notes.push_back(
            fmt::format("{}: the methods do not agree (chi squared {:.1f}, at most {:.1f}); their "
                        "disagreement is in the uncertainty",
                        out.symbol, combined.chi_squared, combined.chi_squared_most));
    }
    return {};
}

Result<void> decide_on(Tested& out, const Limits& limits, double u_strength) {
    out.u_common = out.value * u_strength;
    out.u = std::hypot(out.u_own, out.u_common);
    BW_TRY(decision,
           assay::decide({out.value, out.u, std::nullopt}, {out.low, out.high}, rule_of(limits)));
    out.probability = decision.probability;
    out.accept_low = decision.accept_low;
    out.accept_high = decision.accept_high;
    out.cannot_prove = decision.cannot_prove;
    using enum assay::ConformityVerdict;
    out.verdict = decision.verdict == Within     ? Verdict::Within
                  : decision.verdict == Outside  ? Verdict::Outside
                  : decision.verdict == TooClose ? Verdict::TooClose
                                                 : Verdict::NotTested;
    if (out.cannot_prove) {
        out.notes.push_back(
            fmt::format("{}: with this uncertainty no value could prove these limits", out.symbol));
    }
    return {};
}

/// All results lie below the limit of their method: all that is known is an upper limit.
void judge_upper_limit(Tested& out, const std::vector<Group>& groups) {
    double least = std::numeric_limits<double>::infinity();
    for (const Group& g : groups) {
        for (const PlacedResult* r : g.results) {
            least = std::min(least, r->is.mol_per_kg);
        }
    }
    out.below_limit = true;
    out.value = least;
    const bool short_of = out.low && least < *out.low;
    const bool enough = !out.low && out.high && least <= *out.high;
    out.verdict = short_of ? Verdict::Outside : enough ? Verdict::Within : Verdict::TooClose;
    out.probability = enough ? 1 : 0;
    out.notes.push_back(
        fmt::format("{}: below the limit of its method; the value is an upper "
                    "limit",
                    out.symbol));
}

Result<Tested> judge(const Limits& limits, const Band& band, std::optional<double> target,
                     std::span<const PlacedResult> results, double u_strength,
                     std::vector<SampleSpread>& spreads) {
    Tested out;
    out.symbol = band.symbol;
    out.target = target;
    BW_TRY(interval, interval_of(limits, band.symbol, target));
    out.low = interval.low;
    out.high = interval.high;
    std::vector<Group> groups = by_method(results, band.symbol);
    for (const Group& g : groups) {
        for (const PlacedResult* r : g.results) {
            out.results.push_back(r->id());
        }
    }
    if (groups.empty()) {
        return out;
    }
    std::size_t below = 0;
    std::size_t all = 0;
    for (const Group& g : groups) {
        all += g.results.size();
        below += static_cast<std::size_t>(
            std::count_if(g.results.begin(), g.results.end(),
                          [](const PlacedResult* r) { return r->is.below_limit; }));
    }
    if (below == all) {
        judge_upper_limit(out, groups);
        return out;
    }
    if (below > 0) {
        out.waits.push_back(
            fmt::format("{}: some results are below the limit and some are not; "
                        "set aside, with a cause, what does not belong",
                        band.symbol));
        return out;
    }
    for (const Group& g : groups) {
        BW_TRY(value, value_of(g, out));
        out.methods.push_back(std::move(value));
    }
    BW_CHECK(combine_methods(out));
    BW_CHECK(add_sampling(groups, limits.sampling_percent, out, spreads));
    BW_CHECK(decide_on(out, limits, u_strength));
    return out;
}

}  // namespace

std::string_view name(Verdict verdict) {
    constexpr std::array<std::string_view, kWords<Verdict>> kNames = {
        "within limits", "outside limits", "too close to call", "not tested"};
    return kNames.at(static_cast<std::size_t>(verdict));
}

Result<Assessment> assess(const Limits& limits, std::span<const Wanted> wanted,
                          std::span<const PlacedResult> results, double u_strength_relative) {
    Assessment out;
    out.u_strength = u_strength_relative;
    for (const Band& band : limits.bands) {
        const auto target = std::find_if(wanted.begin(), wanted.end(),
                                         [&](const Wanted& w) { return w.symbol == band.symbol; });
        BW_TRY(tested,
               judge(limits, band,
                     target != wanted.end() ? std::optional(target->mol_per_kg) : std::nullopt,
                     results, u_strength_relative, out.spreads));
        out.elements.push_back(std::move(tested));
    }
    out.sampling = sampling_sentence(out, limits.sampling_percent);
    out.probability = joint_probability(out.elements, u_strength_relative);
    BW_TRY(charges, charges_of(out.elements, wanted));
    out.charges = std::move(charges);
    return out;
}

double shared_u(std::span<const TestPortion> portions, double wanted_practical_salinity,
                double wanted_g_per_kg_water) {
    double out = 0;
    for (const TestPortion& p : portions) {
        out = std::max(out,
                       strength_of(p, wanted_practical_salinity, wanted_g_per_kg_water).u_relative);
    }
    return out;
}

double joint_probability(std::span<const Tested> elements, double u_strength) {
    // The shared error z is integrated over +-8 standard deviations, beyond which 1e-15 is left.
    constexpr int kSteps = 4000;
    constexpr double kReach = 8;
    constexpr double kWidth = 2 * kReach / kSteps;
    const double density0 = 1 / std::sqrt(2 * std::acos(-1.0));
    const double far = std::numeric_limits<double>::infinity();
    double sum = 0;
    for (int i = 0; i <= kSteps; ++i) {
        const double z = -kReach + kWidth * i;
        double all = density0 * std::exp(-z * z / 2) * kWidth;
        for (const Tested& e : elements) {
            if (e.verdict == Verdict::NotTested) {
                continue;
            }
            if (e.below_limit) {
                all *= e.probability;
                continue;
            }
            const double mean = e.value * (1 + u_strength * z);
            all *= stat::normal_inside(mean, e.u_own, e.low.value_or(-far), e.high.value_or(far));
        }
        sum += all;
    }
    return std::min(1.0, sum);
}

}  // namespace bw::works
