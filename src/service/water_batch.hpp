// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "base/result.hpp"
#include "brine/water_batch.hpp"

namespace bw::service {

/// Solves a batch of waters on `threads` threads (0: as many as there are cores).
///
/// Accuracy   bit for bit the same for any number of threads.
/// Errors     BadInput when arrays differ in length; per water in `failed`.
[[nodiscard]] Result<void> solve_waters(const brine::WaterModel& model,
                                        const brine::WaterBatch& batch,
                                        const brine::WaterBatchResults& results,
                                        unsigned threads = 0);

}  // namespace bw::service
