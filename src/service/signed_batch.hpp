// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>

#include "service/batch_file.hpp"

namespace bw::service {

/// A batch as one decision on it was signed, whatever was written since.
struct SignedBatch {
    works::Release decision;
    std::int64_t version = 0;  ///< of the record of decisions
    std::int64_t entry = 0;    ///< of the trail, that wrote the decision
    works::Evidence evidence;
    BatchReading
        reading;  ///< of the evidence, its records in the versions that it pins; no expects
};

/// The decision whose signature has this content mark.
///
/// Errors   NotFound; BrokenBooks where a record that the evidence pins cannot be read.
[[nodiscard]] Result<SignedBatch> signed_batch(const store::Books& books, const std::string& batch,
                                               const std::string& mark);

}  // namespace bw::service
