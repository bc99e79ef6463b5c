// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/batch.hpp"

#include <array>

#include "works/ways.hpp"

namespace bw::works {

std::string_view name(BatchState state) {
    constexpr std::array<std::string_view, kWords<BatchState>> kNames = {
        "planned", "weighing", "blended", "sampled", "under test",
        "ready",   "released", "on hold", "rejected"};
    return kNames.at(static_cast<std::size_t>(state));
}

Result<Batch> moved(Batch batch, BatchState to) {
    using enum BatchState;
    constexpr std::array kWays = {
        Way{Planned, Weighing},  Way{Weighing, Blended}, Way{Blended, Sampled},
        Way{Sampled, UnderTest}, Way{UnderTest, Ready},  Way{Ready, Released},
        Way{Ready, OnHold},      Way{Ready, Rejected},   Way{OnHold, Ready},
        Way{OnHold, Released},   Way{OnHold, Rejected},  Way{Ready, UnderTest},
        Way{OnHold, UnderTest}};
    BW_CHECK(check_way<BatchState>("batch " + batch.number, batch.state, to, kWays));
    batch.state = to;
    return batch;
}

}  // namespace bw::works
