// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/assessment.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include <fmt/format.h>

#include "assay/combining.hpp"
#include "base/text.hpp"
#include "stat/normal.hpp"
#include "stat/quantiles.hpp"
#include "stat/univariate.hpp"
#include "unit/factors.hpp"
#include "works/method_results.hpp"

namespace bw::works {
namespace {

/// How the samples differ, by each method that tested two or more; what the largest of them, or
/// what the limits state, adds to the uncertainty.
Result<void> add_sampling(const std::vector<MethodResults>& methods, double stated_percent,
                          Tested& out, std::vector<SampleSpread>& spreads) {
    double percent = 0;
    std::size_t most = 1;
    std::optional<double> freedom;
    for (const MethodResults& m : methods) {
        most = std::max(most, by_sample(m).size());
        BW_TRY(spread, spread_in(m, out));
        if (spread) {
            if (spread->u_percent > percent) {
                percent = spread->u_percent;
                freedom = static_cast<double>(spread->samples - 1);
            }
            spreads.push_back(std::move(*spread));
        }
    }
    const double stated = stated_percent / std::sqrt(static_cast<double>(most));
    if (stated >= percent) {
        percent = stated;
        freedom.reset();
    }
    out.sampling_freedom = freedom;
    out.u_sampling = percent / unit::kPercent * out.value;
    out.u_own = std::hypot(out.u_own, out.u_sampling);
    return {};
}

/// What of the samples is in the uncertainties, and of which elements.
std::string sampling_sentence(const Assessment& a, double stated_percent) {
    std::vector<std::string> shown;
    std::vector<std::string> not_shown;
    for (const Tested& t : a.elements) {
        const bool spread =
            std::any_of(a.spreads.begin(), a.spreads.end(),
                        [&](const SampleSpread& s) { return s.symbol == t.symbol; });
        if (!t.methods.empty()) {
            (spread ? shown : not_shown).push_back(t.symbol);
        }
    }
    const std::string stated =
        stated_percent > 0
            ? fmt::format("as the limits state it, {:.3g} % for one sample, standard uncertainty",
                          stated_percent)
            : "";
    if (not_shown.empty() && !shown.empty()) {
        return fmt::format("how the samples differ is in the uncertainties, as they show it{}",
                           stated_percent > 0 ? " or as the limits state it, the larger" : "");
    }
    const std::string of = shown.empty() ? "" : " of " + base::join_words(not_shown);
    const std::string one =
        stated_percent > 0
            ? fmt::format("how far a sample lies from the batch is in the uncertainties{} {}", of,
                          stated)
            : fmt::format(
                  "one sample{}: how far it lies from the batch is not in the uncertainties", of);
    return shown.empty() ? one
                         : fmt::format(
                               "how the samples differ is in the uncertainties of {}, as they show "
                               "it; {}",
                               base::join_words(shown), one);
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

/// Degrees of freedom of an uncertainty of which u_sampling alone comes from few data; none where
/// they are so many that Student's t stands for the normal law within 0.5 % of k.
std::optional<double> freedom_of(double u, const Tested& of) {
    constexpr double kMany = 300;
    if (!of.sampling_freedom || !(of.u_sampling > 0)) {
        return std::nullopt;
    }
    constexpr int kFourth = 4;
    const double out = *of.sampling_freedom * std::pow(u / of.u_sampling, kFourth);
    return out < kMany ? std::optional(out) : std::nullopt;
}

Result<void> decide_on(Tested& out, const Limits& limits, double u_strength) {
    constexpr double kMany = 2;  // k with many degrees of freedom
    out.u_common = out.value * u_strength;
    out.u = std::hypot(out.u_own, out.u_common);
    out.freedom = freedom_of(out.u, out);
    out.coverage =
        out.freedom ? stat::student_t_quantile(stat::normal_cdf(kMany), *out.freedom) : kMany;
    BW_TRY(decision,
           assay::decide({out.value, out.u, out.freedom}, {out.low, out.high}, rule_of(limits)));
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

/// All results lie below the limit of their method: all that is known of the batch is the upper
/// limit of its worst sample. Of one sample the smallest limit counts.
void judge_upper_limit(Tested& out, std::span<const PlacedResult* const> results) {
    std::map<std::string, double> least;  // of each sample
    std::set<std::string> portions;
    for (const PlacedResult* r : results) {
        const auto [it, fresh] = least.emplace(r->is.sample, r->is.mol_per_kg);
        it->second = std::min(it->second, r->is.mol_per_kg);
        portions.insert(r->is.portion);
    }
    out.below_limit = true;
    for (const auto& [sample, limit] : least) {
        out.value = std::max(out.value, limit);
    }
    if (portions.size() < 2) {
        out.waits.push_back(fmt::format(
            "{}: one test portion only; a second, dissolved by itself, is wanted", out.symbol));
        return;
    }
    const bool short_of = out.low && out.value < *out.low;
    const bool enough = !out.low && out.high && out.value <= *out.high;
    out.verdict = short_of ? Verdict::Outside : enough ? Verdict::Within : Verdict::TooClose;
    out.probability = enough ? 1 : 0;
    out.notes.push_back(
        fmt::format("{}: below the limit of its method; the value is an upper "
                    "limit{}",
                    out.symbol, least.size() > 1 ? ", the largest of the samples'" : ""));
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
    std::vector<const PlacedResult*> counted;
    std::size_t below = 0;
    for (const PlacedResult& r : results) {
        if (r.is.analyte == band.symbol && r.is.state == ResultState::Counted) {
            counted.push_back(&r);
            out.results.push_back(r.id());
            below += r.is.below_limit ? 1 : 0;
        }
    }
    if (counted.empty()) {
        return out;
    }
    if (below == counted.size()) {
        judge_upper_limit(out, counted);
        return out;
    }
    if (below > 0) {
        out.waits.push_back(
            fmt::format("{}: some results are below the limit and some are not; "
                        "set aside, with a cause, what does not belong",
                        band.symbol));
        return out;
    }
    const std::vector<MethodResults> methods = by_method(counted);
    for (const MethodResults& m : methods) {
        BW_TRY(value, value_of(m, out));
        out.methods.push_back(std::move(value));
    }
    BW_CHECK(combine_methods(out));
    BW_CHECK(add_sampling(methods, limits.sampling_percent, out, spreads));
    BW_CHECK(decide_on(out, limits, u_strength));
    return out;
}

/// Chance that an element lies within its limits about a mean, by its own uncertainty.
double chance_inside(double mean, const Tested& e) {
    const double far = std::numeric_limits<double>::infinity();
    const double low = e.low.value_or(-far);
    const double high = e.high.value_or(far);
    const auto freedom = freedom_of(e.u_own, e);
    if (!freedom || !(e.u_own > 0)) {
        return stat::normal_inside(mean, e.u_own, low, high);
    }
    const double below_high = e.high ? stat::student_t_cdf((high - mean) / e.u_own, *freedom) : 1;
    const double below_low = e.low ? stat::student_t_cdf((low - mean) / e.u_own, *freedom) : 0;
    return std::max(0.0, below_high - below_low);
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

double shared_u(std::span<const TestPortion> portions, const WantedStrength& wanted) {
    double out = 0;
    for (const TestPortion& p : portions) {
        out = std::max(out, strength_of(p, wanted).u_relative);
    }
    return out;
}

double joint_probability(std::span<const Tested> elements, double u_strength) {
    // The shared error z is integrated over +-8 standard deviations, beyond which 1e-15 is left.
    // Student's t costs more than the normal law: it is asked for a quarter as often.
    constexpr int kFine = 4000;
    constexpr int kCoarse = 1000;
    constexpr double kReach = 8;
    const bool few = std::any_of(elements.begin(), elements.end(), [](const Tested& e) {
        return freedom_of(e.u_own, e).has_value();
    });
    const int steps = few ? kCoarse : kFine;
    const double width = 2 * kReach / steps;
    const double density0 = 1 / std::sqrt(2 * std::acos(-1.0));
    double sum = 0;
    for (int i = 0; i <= steps; ++i) {
        const double z = -kReach + width * i;
        double all = density0 * std::exp(-z * z / 2) * width;
        for (const Tested& e : elements) {
            if (e.verdict == Verdict::NotTested) {
                continue;
            }
            if (e.below_limit) {
                all *= e.probability;
                continue;
            }
            const double mean = e.value * (1 + u_strength * z);
            all *= chance_inside(mean, e);
        }
        sum += all;
    }
    return std::min(1.0, sum);
}

}  // namespace bw::works
