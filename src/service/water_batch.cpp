// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/water_batch.hpp"

#include "service/in_parts.hpp"

namespace bw::service {

Result<void> solve_waters(const brine::WaterModel& model, const brine::WaterBatch& batch,
                          const brine::WaterBatchResults& results, unsigned threads) {
    BW_CHECK(brine::check_batch(batch, results));
    in_parts(batch.count, threads, [&](std::size_t begin, std::size_t end) {
        brine::solve_batch_part(model, batch, results, begin, end);
    });
    return {};
}

}  // namespace bw::service
