// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "works/assessment.hpp"

namespace bw::works {

/// Results of one element by one method on one sample that do not go together.
struct DuplicateRemark {
    std::string sample, analyte, method;
    std::vector<std::string> results;  ///< "R26-0003-X/4"
    double apart_percent = 0;          ///< of their mean, between the least and the most
    double allowed_percent = 0;        ///< by the method's repeatability
    std::string sentence;              ///< what, with its numbers, and what is to be done
};

/// What a release would say of duplicates, before any of them counts.
///
/// Definition   judge_portions() of every result that is not set aside, by sample, element and
///              method, those below their limit left out; remarked is what lies further apart than
///              it allows. So are the readings of one portion that readings_apart() names.
/// Errors       those of judge_portions.
[[nodiscard]] Result<std::vector<DuplicateRemark>> duplicate_remarks(
    std::span<const PlacedResult> results);

/// Those of the remarks that a run has a part in.
[[nodiscard]] std::vector<DuplicateRemark> remarks_on(const std::vector<DuplicateRemark>& all,
                                                      const std::string& run);

}  // namespace bw::works
