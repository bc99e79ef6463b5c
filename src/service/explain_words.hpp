// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "service/explain_batch.hpp"

namespace bw::service {

/// What one explanation says of a batch, in a sentence.
[[nodiscard]] std::string sentence_of(const assay::Explanation& explanation,
                                      const works::BatchFile& file);

/// The answer first, then its evidence and what to do next.
[[nodiscard]] std::vector<std::string> sentences_of(const BatchExplanation& explanation,
                                                    const works::BatchFile& file);

}  // namespace bw::service
