// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/carbonate_batch.hpp"

#include "service/in_parts.hpp"

namespace bw::service {

Result<brine::CarbonateColumns> solve_carbonate(const brine::CarbonateBatch& batch,
                                                unsigned threads) {
    BW_TRY(columns, brine::columns_for(batch));
    in_parts(batch.first.size(), threads, [&](std::size_t begin, std::size_t end) {
        brine::solve_carbonate_part(batch, begin, end, columns);
    });
    return std::move(columns);
}

}  // namespace bw::service
