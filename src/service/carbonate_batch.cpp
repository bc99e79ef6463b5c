// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/carbonate_batch.hpp"

#include <algorithm>
#include <thread>
#include <vector>

namespace bw::service {

Result<brine::CarbonateColumns> solve_carbonate(const brine::CarbonateBatch& batch,
                                                unsigned threads) {
    BW_TRY(columns, brine::columns_for(batch));
    const std::size_t n = batch.first.size();
    const std::size_t cores = threads == 0 ? std::thread::hardware_concurrency() : threads;
    const std::size_t parts = std::clamp<std::size_t>(cores, 1, std::max<std::size_t>(n, 1));
    {
        std::vector<std::jthread> workers;
        for (std::size_t part = 1; part < parts; ++part) {
            workers.emplace_back(
                [&batch, &columns, begin = n * part / parts, end = n * (part + 1) / parts] {
                    brine::solve_carbonate_part(batch, begin, end, columns);
                });
        }
        brine::solve_carbonate_part(batch, 0, n / parts, columns);
    }
    return std::move(columns);
}

}  // namespace bw::service
