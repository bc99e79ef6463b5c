// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "path/course.hpp"
#include "path/exposure.hpp"
#include "path/onset.hpp"

namespace bw::path {

enum class Risk : std::uint8_t { Clear, Watch, WillCloud };
[[nodiscard]] std::string_view name(Risk risk);  ///< "clear", "watch", "will cloud"

/// Hours until the vat is no longer good.
struct SafeTime {
    double hours = 0;     ///< kHoursPerYear where nothing fell in a year; no more than was reached
    double factor = 5;    ///< trusted within this factor
    bool seeded = false;  ///< by growth on seed; else by an onset of itself
    bool over_a_year = false;
    bool in_evidence = true;  ///< the water is among those of the experiments
    double use_within_h = 0;  ///< what a vat may be counted on for, see safe_time(); at most a year
};

/// Whether a vat stays clear, for how long, and what follows for the one who mixes.
struct Verdict {
    Risk risk = Risk::Clear;
    std::vector<std::string> reasons;  ///< sentences, the decisive one first
    SafeTime safe;
    /// False: another solid is in the vat before the safe time is over, see `other_solids`.
    bool time_counts = true;
    /// Solids beside calcium carbonate that are in the vat before: minerals that will fall, then
    /// parts of the salt that stay on the bottom. Empty where the time counts.
    std::vector<std::string> other_solids;
    /// What speaks against it beside calcium carbonate, be it only to be watched: "celestite",
    /// "sodium fluoride, not dissolved by then".
    std::vector<std::string> against;
    double stir_h = 0;    ///< until the grains and a lump of the slowest part are gone
    std::string slowest;  ///< that part
    std::vector<std::string> instructions;
};

/// The safe time of a course.
///
/// Definition   the earlier of the onset of calcium carbonate and of 1 % of alkalinity lost, some
///              2 mg/kg of solid, taken for the beginning of a haze: an assumption. Growth on seed
///              is trusted within a factor of 3, an onset within 5, and within 10 where there are
///              foreign particles. use_within_h: the same, were the laws' rates as much faster all
///              along.
[[nodiscard]] SafeTime safe_time(const VatPlan& plan, const Course& course);

/// "10 s", "35 min", "27 h", "6.0 days", "a year", to two digits; days from two on.
[[nodiscard]] std::string hours_in_words(double h);

/// A lump of caked salt as large as this is what good mixing has to dissolve; an assumption.
inline constexpr double kLump_m = 5e-3;

/// Judges a course.
///
/// Definition   "will cloud": the safe time is shorter than the vat has to keep; or a solid that
///              falls within minutes or hours is supersaturated beyond what its constant is trusted
///              for, at the end or on the way for more than a minute, if it takes hours for more
///              than two; or a part stays on the bottom because the water is saturated with it.
///              "watch": use within is shorter; or such a solid is
///              supersaturated within that trust, or for less time but more than a minute; or one
///              that takes days is supersaturated; or a part is not dissolved by the hour to which
///              the vat keeps; or the run could not be finished. Else "clear".
/// Inputs       a plan, its course with marks looked for up to a year, hours the vat has to keep.
/// Accuracy     that of the laws, see run_course.
/// Errors       none.
[[nodiscard]] Verdict judge(const VatPlan& plan, const Course& course, double keep_h);

}  // namespace bw::path
