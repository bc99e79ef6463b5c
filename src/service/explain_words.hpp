// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "service/explain_batch.hpp"

namespace bw::service {

/// What an addition is called among the causes: "magnesium chloride, lot M26-0011".
[[nodiscard]] std::string cause_name(const works::Addition& addition);

/// What one explanation says of a batch, in a sentence.
[[nodiscard]] std::string sentence_of(const assay::Explanation& explanation,
                                      const works::BatchFile& file);

/// The answer first, then its evidence and what to do next.
[[nodiscard]] std::vector<std::string> sentences_of(const BatchExplanation& explanation,
                                                    const works::BatchFile& file);

}  // namespace bw::service
