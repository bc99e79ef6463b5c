// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What one method found of one element: readings, by test portion, by sample.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/assessment.hpp"

namespace bw::works {

/// A test portion by one method: several readings of one portion are one result, their mean.
struct TestedPortion {
    std::string sample, portion;
    double mol_per_kg = 0;
    std::vector<const PlacedResult*> readings;
};

/// One method's results on one element, in the order in which they came; none is below its limit.
struct MethodResults {
    std::string method;
    std::vector<TestedPortion> portions;
};
[[nodiscard]] std::vector<MethodResults> by_method(std::span<const PlacedResult* const> counted);
[[nodiscard]] std::vector<MethodResults> by_sample(const MethodResults& all);

/// What the portions of one sample by one method say of one another.
struct PortionJudgement {
    double mol_per_kg = 0;       ///< their mean, or the median where that stands
    double median_variance = 0;  ///< that a median carries besides
    std::string duplicates;      ///< "accepted", "one only", "three", "two more wanted", "median"
    double apart_percent = 0;    ///< of their mean, between the least and the most
    double allowed_percent = 0;  ///< that the method's repeatability allows so many; 0: not stated
    std::string of_runs;         ///< " of 2 runs", or nothing
    [[nodiscard]] bool far_apart() const;
};

/// Judges the portions of one sample by one method: the one rule for duplicates, at entry, at
/// check, at the count and at release.
///
/// Definition   two and four by assay::judge_duplicates, five and more by the critical range of so
///              many; three wait for a fourth whatever they say. The standard deviation is that of
///              the repeatability, with what differs between runs where several are compared.
/// Errors       those of judge_duplicates.
[[nodiscard]] Result<PortionJudgement> judge_portions(const MethodResults& sample);

/// Readings of one solution that do not go together.
struct ReadingsApart {
    const TestedPortion* portion = nullptr;
    double apart_percent = 0;    ///< of their mean, between the least and the most
    double allowed_percent = 0;  ///< that the method's repeatability allows so many
    std::string of_runs;         ///< " of 2 runs", or nothing
};

/// The portions of a sample whose readings by one method lie further apart than its repeatability
/// allows. Readings are replicates of one solution: dissolving and splitting are not even in them.
///
/// Definition   the critical range of so many, as judge_portions() has it.
[[nodiscard]] std::vector<ReadingsApart> readings_apart(const MethodResults& sample);
[[nodiscard]] std::string sentence_of(const ReadingsApart& apart, std::string_view where);

/// What a judgement comes to, with its numbers and what is to be done; empty where nothing is.
[[nodiscard]] std::string sentence_of(const PortionJudgement& judged, std::size_t portions,
                                      std::string_view where);

/// The value of a method, and what it waits for.
///
/// Definition   assess() says it. Each portion of a sample weighs alike, each sample of the batch
///              alike: w. u^2 = c + sum w^2 sr^2 + sum W^2 sb^2, with c = u1^2 - sr^2 - sb^2 the
///              part that all results share, W the weight of a run. Of several versions of the
///              method the largest c counts, and each portion and run has its own sr and sb.
/// Errors       those of judge_duplicates.
[[nodiscard]] Result<MethodValue> value_of(const MethodResults& all, Tested& out);

/// How the samples differ; nothing with one sample, or without a value.
///
/// Definition   spread_of(). Judged are the samples that one run holds twice or more, the run with
///              most of them, each with as many of its portions as the others have there.
[[nodiscard]] Result<std::optional<SampleSpread>> spread_in(const MethodResults& all,
                                                            const Tested& of);

}  // namespace bw::works
