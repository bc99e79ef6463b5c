// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/method_results.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "assay/duplicates.hpp"
#include "assay/outliers.hpp"
#include "stat/univariate.hpp"
#include "unit/factors.hpp"

namespace bw::works {
namespace {

constexpr std::size_t kPair = 2;
constexpr std::size_t kThree = 3;
constexpr std::size_t kFour = 4;
/// Results whose critical range is known.
constexpr std::size_t kMostCompared = 100;

double squared(double x) { return x * x; }

/// Variances of one result at a value, as its method's version states them.
struct Variances {
    double shared = 0;   ///< of what all its results have in common
    double within = 0;   ///< a run
    double between = 0;  ///< runs
};

Variances variances_of(const TestResult& r, double value) {
    const double share = value / unit::kPercent;
    const double within = squared(r.repeatability_percent * share);
    const double between = squared(r.between_runs_percent * share);
    return {std::max(0.0, squared(r.u_percent * share) - within - between), within, between};
}

/// The largest of the portion's readings, which are nearly always of one version.
Variances variances_of(const TestedPortion& portion, double value) {
    Variances out;
    for (const PlacedResult* r : portion.readings) {
        const Variances v = variances_of(r->is, value);
        out = {std::max(out.shared, v.shared), std::max(out.within, v.within),
               std::max(out.between, v.between)};
    }
    return out;
}

std::set<std::string> runs_of(const MethodResults& all) {
    std::set<std::string> out;
    for (const TestedPortion& p : all.portions) {
        for (const PlacedResult* r : p.readings) {
            out.insert(r->run);
        }
    }
    return out;
}

std::vector<double> values_of(const MethodResults& all) {
    std::vector<double> out;
    out.reserve(all.portions.size());
    for (const TestedPortion& p : all.portions) {
        out.push_back(p.mol_per_kg);
    }
    return out;
}

std::size_t readings_in(const MethodResults& all) {
    std::size_t out = 0;
    for (const TestedPortion& p : all.portions) {
        out += p.readings.size();
    }
    return out;
}

double u_of_mean(const MethodResults& all, double value) {
    std::map<std::string, double> of_sample;  // portions
    for (const TestedPortion& p : all.portions) {
        of_sample[p.sample] += 1;
    }
    double shared = 0;
    double within = 0;
    std::map<std::string, std::pair<double, double>> runs;  // weight, variance between
    for (const TestedPortion& p : all.portions) {
        const double weight = 1 / (static_cast<double>(of_sample.size()) * of_sample[p.sample]);
        const Variances v = variances_of(p, value);
        shared = std::max(shared, v.shared);
        within += weight * weight * v.within;
        for (const PlacedResult* r : p.readings) {
            auto& [run_weight, between] = runs[r->run];
            run_weight += weight / static_cast<double>(p.readings.size());
            between = std::max(between, v.between);
        }
    }
    double between = 0;
    for (const auto& [run, found] : runs) {
        between += squared(found.first) * found.second;
    }
    return std::sqrt(shared + within + between);
}

/// Results of several runs are compared by what differs between runs as well, where it is stated.
double comparable_sd(const MethodResults& all, double value) {
    double sum = 0;
    const bool several = runs_of(all).size() > 1;
    for (const TestedPortion& p : all.portions) {
        const Variances v = variances_of(p, value);
        sum += v.within + (several ? v.between : 0);
    }
    return std::sqrt(sum / static_cast<double>(all.portions.size()));
}

bool states_runs(const MethodResults& all) {
    return std::all_of(all.portions.begin(), all.portions.end(), [](const TestedPortion& p) {
        return p.readings.front()->is.between_runs_percent > 0;
    });
}

std::string of_runs(const MethodResults& all) {
    const std::size_t runs = runs_of(all).size();
    if (runs < kPair) {
        return "";
    }
    return fmt::format(
        " of {} runs{}", runs,
        states_runs(all) ? "" : ", and the method does not state what differs between runs,");
}

/// Names the result that stands out of four or more; three have no power. The test only raises the
/// question.
void name_outlier(const MethodResults& all, std::span<const double> values, Tested& out) {
    constexpr double kAlpha = 0.05;
    if (values.size() < kFour) {
        return;
    }
    const auto test = assay::grubbs(values, kAlpha);
    if (test && test->beyond()) {
        out.notes.push_back(fmt::format(
            "{} by {}: result {} stands out (Grubbs: {:.3f}, critical {:.3f} at 5 %); look for a "
            "cause, and set it aside only for that",
            out.symbol, all.method, all.portions[test->suspect].readings.front()->id(),
            test->statistic, test->critical));
    }
}

MethodValue begun(const MethodResults& all, Tested& out) {
    MethodValue value;
    value.method = all.method;
    value.results = static_cast<std::int64_t>(readings_in(all));
    std::set<std::int64_t> versions;
    for (const TestedPortion& p : all.portions) {
        for (const PlacedResult* r : p.readings) {
            versions.insert(r->is.method_number);
        }
    }
    value.method_number = *versions.rbegin();
    if (versions.size() > 1) {
        out.notes.push_back(
            fmt::format("{} by {}: results of its versions {}; the larger uncertainty counts",
                        out.symbol, all.method, fmt::join(versions, ", ")));
    }
    return value;
}

constexpr std::string_view kAccepted = "accepted";
constexpr std::string_view kOneOnly = "one only";
constexpr std::string_view kOddOne = "three";
constexpr std::string_view kTwoMore = "two more wanted";
constexpr std::string_view kMedian = "median";

/// Three, or five and more, of which nothing was asked: by the critical range of so many.
assay::DuplicateJudgement judged_of_many(std::span<const double> values, double sd, double mean) {
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    assay::DuplicateJudgement out;
    out.range = *most - *least;
    out.limit = assay::critical_range_factor(static_cast<int>(values.size())) * sd;
    const bool agree = out.range <= out.limit;
    out.verdict =
        agree ? assay::DuplicateVerdict::MeanOfFour : assay::DuplicateVerdict::MedianOfFour;
    out.result = agree ? mean : stat::median(values);
    return out;
}

/// Adds what the portions of one sample come to: what they wait for, what a reader should know.
Result<PortionJudgement> value_on_sample(const MethodResults& all, const std::string& where,
                                         Tested& out) {
    BW_TRY(judged, judge_portions(all));
    const std::vector<double> values = values_of(all);
    name_outlier(all, values, out);
    std::string sentence = sentence_of(judged, values.size(), where);
    if (judged.duplicates == kMedian) {
        out.notes.push_back(std::move(sentence));
    } else if (!sentence.empty()) {
        out.waits.push_back(std::move(sentence));
    }
    return std::move(judged);
}

/// Two readings that do not go together wait; more of them, none of which has a cause, are told.
void tell_readings(const MethodResults& sample, const std::string& where, Tested& out) {
    for (const ReadingsApart& apart : readings_apart(sample)) {
        auto& said = apart.portion->readings.size() == kPair ? out.waits : out.notes;
        said.push_back(sentence_of(apart, where));
    }
}

/// Portions of one run, by sample; of a portion its readings in that run.
std::vector<std::vector<double>> in_run(const std::vector<MethodResults>& samples,
                                        const std::string& run) {
    std::vector<std::vector<double>> out;
    for (const MethodResults& sample : samples) {
        std::vector<double> values;
        for (const TestedPortion& p : sample.portions) {
            double sum = 0;
            double count = 0;
            for (const PlacedResult* r : p.readings) {
                if (r->run == run) {
                    sum += r->is.mol_per_kg;
                    count += 1;
                }
            }
            if (count > 0) {
                values.push_back(sum / count);
            }
        }
        if (values.size() >= kPair) {
            out.push_back(std::move(values));
        }
    }
    std::size_t each = out.empty() ? 0 : out.front().size();
    for (const auto& values : out) {
        each = std::min(each, values.size());
    }
    for (auto& values : out) {
        values.resize(each);
    }
    return out;
}

/// Whether each sample was tested in one run, and no run holds two samples.
bool own_runs(const std::vector<MethodResults>& samples) {
    std::set<std::string> seen;
    return std::all_of(samples.begin(), samples.end(), [&](const MethodResults& sample) {
        const std::set<std::string> runs = runs_of(sample);
        return runs.size() == 1 && seen.insert(*runs.begin()).second;
    });
}

}  // namespace

bool PortionJudgement::far_apart() const {
    return allowed_percent > 0 && apart_percent > allowed_percent;
}

Result<PortionJudgement> judge_portions(const MethodResults& sample) {
    const std::vector<double> values = values_of(sample);
    const stat::Summary summary = stat::summarize(values);
    PortionJudgement out;
    out.mol_per_kg = summary.mean;
    out.duplicates = values.size() < kPair     ? kOneOnly
                     : values.size() == kThree ? kOddOne
                                               : kAccepted;
    const double sd = values.size() < kPair ? 0 : comparable_sd(sample, summary.mean);
    if (!(sd > 0) || !(summary.mean > 0)) {
        return out;
    }
    out.of_runs = of_runs(sample);
    assay::DuplicateJudgement judged;
    if (values.size() == kPair || values.size() == kFour) {
        BW_TRY(judgement, assay::judge_duplicates(values, sd));
        judged = judgement;
    } else {
        judged = judged_of_many(values, sd, summary.mean);
    }
    out.apart_percent = judged.range / summary.mean * unit::kPercent;
    out.allowed_percent = judged.limit / summary.mean * unit::kPercent;
    if (values.size() == kThree) {  // neither their mean nor their median is to be reported
        return out;
    }
    out.mol_per_kg = judged.result;
    if (judged.verdict == assay::DuplicateVerdict::TwoMore) {
        out.duplicates = kTwoMore;
    } else if (judged.verdict == assay::DuplicateVerdict::MedianOfFour) {
        out.duplicates = kMedian;
        out.median_variance = squared(summary.sd) / static_cast<double>(values.size());
    }
    return out;
}

std::string sentence_of(const PortionJudgement& judged, std::size_t portions,
                        std::string_view where) {
    const std::string numbers =
        fmt::format("{} {:.2f} % apart, and the method's repeatability allows {:.2f} %",
                    judged.of_runs, judged.apart_percent, judged.allowed_percent);
    if (judged.duplicates == kOneOnly) {
        return fmt::format("{}: one test portion only; a second, dissolved by itself, is wanted",
                           where);
    }
    if (judged.duplicates == kOddOne) {
        return fmt::format(
            "{}: three results{}; there is no dropping of the odd one, a fourth is wanted", where,
            judged.allowed_percent > 0 ? numbers : "");
    }
    if (judged.duplicates == kTwoMore) {
        return fmt::format(
            "{}: two results{}: two more are wanted, or set aside, with its reason, the one that "
            "has a cause",
            where, numbers);
    }
    if (judged.duplicates == kMedian) {
        return fmt::format("{}: {} results{}, so their median stands; look at the method", where,
                           portions, numbers);
    }
    return {};
}

std::vector<ReadingsApart> readings_apart(const MethodResults& sample) {
    std::vector<ReadingsApart> out;
    for (const TestedPortion& p : sample.portions) {
        const MethodResults alone{sample.method, {p}};
        const double sd = p.readings.size() < kPair ? 0 : comparable_sd(alone, p.mol_per_kg);
        if (!(sd > 0) || !(p.mol_per_kg > 0)) {
            continue;
        }
        const auto [least, most] = std::minmax_element(
            p.readings.begin(), p.readings.end(),
            [](const auto* a, const auto* b) { return a->is.mol_per_kg < b->is.mol_per_kg; });
        const int count = static_cast<int>(std::min(p.readings.size(), kMostCompared));
        const double range = (*most)->is.mol_per_kg - (*least)->is.mol_per_kg;
        const double limit = assay::critical_range_factor(count) * sd;
        if (range > limit) {
            out.push_back({&p, range / p.mol_per_kg * unit::kPercent,
                           limit / p.mol_per_kg * unit::kPercent, of_runs(alone)});
        }
    }
    return out;
}

std::string sentence_of(const ReadingsApart& apart, std::string_view where) {
    const std::size_t count = apart.portion->readings.size();
    return fmt::format(
        "{}, test portion {}: {} readings of one solution{} {:.2f} % apart, and the method's "
        "repeatability allows {:.2f} %: {}",
        where, apart.portion->portion, count == kPair ? "two" : std::to_string(count),
        apart.of_runs, apart.apart_percent, apart.allowed_percent,
        count == kPair ? "read it again, or set aside, with its reason, the one that has a cause"
                       : "their mean stands; look at the method, and set aside what has a cause");
}

std::vector<MethodResults> by_method(std::span<const PlacedResult* const> counted) {
    std::vector<MethodResults> out;
    for (const PlacedResult* r : counted) {
        auto method = std::find_if(out.begin(), out.end(), [&](const MethodResults& m) {
            return m.method == r->is.method;
        });
        if (method == out.end()) {
            out.push_back({r->is.method, {}});
            method = out.end() - 1;
        }
        auto portion =
            std::find_if(method->portions.begin(), method->portions.end(),
                         [&](const TestedPortion& p) { return p.portion == r->is.portion; });
        if (portion == method->portions.end()) {
            method->portions.push_back({r->is.sample, r->is.portion, 0, {}});
            portion = method->portions.end() - 1;
        }
        portion->readings.push_back(r);
        const double count = static_cast<double>(portion->readings.size());
        portion->mol_per_kg += (r->is.mol_per_kg - portion->mol_per_kg) / count;
    }
    return out;
}

std::vector<MethodResults> by_sample(const MethodResults& all) {
    std::vector<MethodResults> out;
    std::vector<std::string> seen;
    for (const TestedPortion& p : all.portions) {
        const auto at = std::find(seen.begin(), seen.end(), p.sample);
        const auto index = static_cast<std::size_t>(at - seen.begin());
        if (at == seen.end()) {
            seen.push_back(p.sample);
            out.push_back({all.method, {}});
        }
        out[index].portions.push_back(p);
    }
    return out;
}

Result<MethodValue> value_of(const MethodResults& all, Tested& out) {
    MethodValue value = begun(all, out);
    value.duplicates = kAccepted;
    const std::vector<MethodResults> samples = by_sample(all);
    const std::string where = fmt::format("{} by {}", out.symbol, all.method);
    const double count = static_cast<double>(samples.size());
    double medians = 0;
    for (const MethodResults& sample : samples) {
        tell_readings(sample, where + ", sample " + sample.portions.front().sample, out);
        if (samples.size() >= kPair && sample.portions.size() == 1) {
            // Of several samples one tested once is no duplicate and waits for none.
            value.mol_per_kg += sample.portions.front().mol_per_kg / count;
            continue;
        }
        BW_TRY(on_sample,
               value_on_sample(sample,
                               samples.size() < kPair
                                   ? where
                                   : where + ", sample " + sample.portions.front().sample,
                               out));
        value.mol_per_kg += on_sample.mol_per_kg / count;
        medians += on_sample.median_variance / (count * count);
        if (on_sample.duplicates != kAccepted) {
            value.duplicates = on_sample.duplicates;
        }
    }
    value.u = std::sqrt(squared(u_of_mean(all, value.mol_per_kg)) + medians);
    return value;
}

Result<std::optional<SampleSpread>> spread_in(const MethodResults& all, const Tested& tested) {
    const std::vector<MethodResults> samples = by_sample(all);
    if (samples.size() < kPair || !(tested.value > 0)) {
        return std::optional<SampleSpread>();
    }
    SpreadOf of;
    of.symbol = tested.symbol;
    of.method = all.method;
    of.runs = static_cast<std::int64_t>(runs_of(all).size());
    of.own_runs = of.runs > 1 && own_runs(samples);
    const Variances v = variances_of(all.portions.front(), unit::kPercent);
    of.repeatability_percent = std::sqrt(v.within);
    of.between_runs_percent = of.own_runs ? std::sqrt(v.between) : 0;
    if (tested.low && tested.high) {
        of.goal_percent =
            (*tested.high - *tested.low) / (*tested.high + *tested.low) * unit::kPercent;
    }
    for (const MethodResults& sample : samples) {
        of.samples.push_back(values_of(sample));
    }
    for (const std::string& run : runs_of(all)) {
        std::vector<std::vector<double>> comparable = in_run(samples, run);
        if (comparable.size() > of.comparable.size()) {
            of.comparable = std::move(comparable);
        }
    }
    BW_TRY(spread, spread_of(of));
    return std::optional<SampleSpread>(std::move(spread));
}

}  // namespace bw::works
