// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <vector>

#include "works/batch.hpp"
#include "works/test_result.hpp"

namespace bw::works {

/// A reading far from what its batch is to have.
struct ReadingDoubt {
    std::string portion, analyte, method;
    double times = 0;      ///< of what is wanted; 0: below the limit of the method
    std::string sentence;  ///< the question, with its numbers
};

/// The questions that readings raise: five times and more of what the batch is predicted to have,
/// or less than a fifth of it, is more often a wrong unit, a dilution that was left out or a slip
/// of the decimal point than the salt.
///
/// Definition   amounts per kg of made-up water at its wanted strength, so that the unit typed and
///              the dilution are in them; beside the prediction, widened by twice its standard
///              uncertainty. Readings that are set aside raise none, nor do those of an analyte
///              that is not predicted, nor an upper limit that leaves room for it.
[[nodiscard]] std::vector<ReadingDoubt> doubts_about(const Batch& batch,
                                                     std::span<const TestResult> results);

}  // namespace bw::works
