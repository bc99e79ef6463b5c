// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/charges.hpp"
#include "works/limits.hpp"
#include "works/sample_spread.hpp"
#include "works/test_result.hpp"
#include "works/wanted_strength.hpp"

namespace bw::works {

/// The computed verdicts of the vocabulary.
enum class Verdict : std::uint8_t { Within, Outside, TooClose, NotTested };
template <>
inline constexpr std::size_t kWords<Verdict> = 4;
[[nodiscard]] std::string_view name(Verdict verdict);

/// One method's value of an element, of its results.
struct MethodValue {
    std::string method;
    std::int64_t method_number = 1;
    std::int64_t results = 0;
    double mol_per_kg = 0;
    double u = 0;            ///< of this method alone, without the strength's
    std::string duplicates;  ///< "accepted", "two more wanted", ...

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("method", x.method);
        v("method_number", x.method_number);
        v("results", x.results);
        v("mol_per_kg", x.mol_per_kg);
        v("u", x.u);
        v("duplicates", x.duplicates);
    }
};

/// One element of a batch beside its limits [mol or eq per kg of made-up water].
struct Tested {
    std::string symbol;
    std::optional<double> target, low, high;
    bool below_limit = false;  ///< value is an upper limit
    double value = 0;
    double u_own = 0;                        ///< of this element alone, with u_sampling
    double u_sampling = 0;                   ///< that the samples' mean has, being samples
    std::optional<double> sampling_freedom;  ///< of it, where the samples show it; none: stated
    double u_common = 0;                     ///< of the strength, shared by all elements
    double u = 0;
    std::optional<double> freedom;  ///< of u, by the few samples that it comes from; none: many
    double coverage = 2;            ///< k of U, for the 95.45 % that 2 stands for with many
    Verdict verdict = Verdict::NotTested;
    double probability = 0;  ///< that it conforms
    std::optional<double> accept_low, accept_high;
    bool cannot_prove = false;  ///< the method is too coarse for these limits
    std::vector<MethodValue> methods;
    std::vector<std::string> results;  ///< "R26-0003-X/4"
    std::vector<std::string> waits;    ///< what is to be done before it counts
    std::vector<std::string> notes;    ///< what a reader should know

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("symbol", x.symbol);
        v("target", x.target);
        v("low", x.low);
        v("high", x.high);
        v("below_limit", x.below_limit);
        v("value", x.value);
        v("u_own", x.u_own);
        v("u_sampling", x.u_sampling);
        v("sampling_freedom", x.sampling_freedom);
        v("u_common", x.u_common);
        v("u", x.u);
        v("freedom", x.freedom);
        v("coverage", x.coverage);
        v("verdict", x.verdict);
        v("probability", x.probability);
        v("accept_low", x.accept_low);
        v("accept_high", x.accept_high);
        v("cannot_prove", x.cannot_prove);
        v("methods", x.methods);
        v("results", x.results);
        v("waits", x.waits);
        v("notes", x.notes);
    }
};

/// A batch beside its limits.
struct Assessment {
    std::vector<Tested> elements;  ///< in the order of the limits' bands
    double u_strength = 0;         ///< relative, shared by all
    double probability = 0;        ///< that all that were tested conform at once
    Charges charges;
    std::vector<SampleSpread> spreads;  ///< where two samples or more were tested
    std::string sampling;               ///< what of it is in the uncertainties

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("elements", x.elements);
        v("u_strength", x.u_strength);
        v("probability", x.probability);
        v("charges", x.charges);
        v("spreads", x.spreads);
        v("sampling", x.sampling);
    }
};

/// A target of the recipe.
struct Wanted {
    std::string symbol;
    double mol_per_kg = 0;
};

/// A result with the run that holds it.
struct PlacedResult {
    std::string run;
    TestResult is;
    [[nodiscard]] std::string id() const { return run + "/" + std::to_string(is.line); }
};

/// Judges what was tested of a batch.
///
/// Definition   counted results only. By element, method and sample: two or four on portions
///              dissolved each by itself, judged as ISO 5725-6 has it (more by the critical range
///              of so many); one alone, and three, wait for more. Several samples: the mean of
///              theirs, where one result each is enough, and spread_of() tells how they differ. u
///              of a mean of n: sqrt(u1^2 - sr^2 - sb^2 + sr^2/n + sb^2 w) of the method's u1, its
///              repeatability sr and what it states to differ between runs, sb, with w the sum of
///              the squared shares of the runs; results of several runs are compared by
///              sqrt(sr^2 + sb^2) (ISO 5725-3, between runs). A median of four carries their
///              scatter besides. Of four or more of one method, one that stands out by Grubbs' test
///              at 5 % is named, and nothing is set aside for it. Several methods: assay::combine.
///              The strength's uncertainty is the largest of the portions', taken as shared by all
///              elements. Verdicts: assay::decide. All at once: the integral over the shared error
///              of the product of the elements' chances. Charges: charges_of(). Where the samples
///              themselves show their differences, u_sampling has one degree of freedom less than
///              samples, u those of Welch and Satterthwaite, and k, guard and chances go by
///              Student's t.
/// Inputs       limits that check() passes.
/// Errors       those of interval_of and of the assay room.
/// Accuracy     of the joint probability 1e-9 (trapezoidal rule over a smooth integrand).
/// Source       [jcgm-106] 7.4, 8; ISO 5725-6; [jcgm-100] F.1.2 for what is shared, G.4 and G.6.4
///              for the degrees of freedom.
[[nodiscard]] Result<Assessment> assess(const Limits& limits, std::span<const Wanted> wanted,
                                        std::span<const PlacedResult> results,
                                        double u_strength_relative);

/// The largest relative uncertainty of the strengths of portions; 0 for none.
[[nodiscard]] double shared_u(std::span<const TestPortion> portions, const WantedStrength& wanted);

/// Probability that all elements conform at once, their errors independent but for one shared
/// relative one.
[[nodiscard]] double joint_probability(std::span<const Tested> elements, double u_strength);

}  // namespace bw::works
