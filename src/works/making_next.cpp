// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/making_next.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace bw::works {
namespace {

bool is_told(const Batch& batch, const Addition& addition, std::span<const Departure> departures) {
    const std::string subject = fmt::format("{}/{}", batch.number, addition.step);
    return std::any_of(departures.begin(), departures.end(), [&](const Departure& d) {
        return d.subject_kind == kAddition && d.subject == subject;
    });
}

}  // namespace

std::string_view name(MakingAct act) {
    constexpr std::array<std::string_view, kWords<MakingAct>> kNames = {
        "approve", "weigh", "raise departure", "blend", "made"};
    return kNames.at(static_cast<std::size_t>(act));
}

MakingNext next_of(const Batch& batch, std::span<const Weighing> weighings,
                   std::span<const Departure> departures) {
    MakingNext out;
    if (batch.state != BatchState::Planned && batch.state != BatchState::Weighing) {
        return out;
    }
    for (const Addition& a : batch.additions) {
        const WeighingVerdict verdict = state_of(a, weighings).verdict;
        if (verdict != WeighingVerdict::Within && !is_told(batch, a, departures)) {
            (verdict == WeighingVerdict::Short ? out.short_steps : out.over_steps)
                .push_back(a.step);
        }
    }
    out.act = !batch.changes.empty() && !batch.adjustment_approved ? MakingAct::Approve
              : !out.short_steps.empty()                           ? MakingAct::Weigh
              : !out.over_steps.empty()                            ? MakingAct::RaiseDeparture
                                                                   : MakingAct::Blend;
    return out;
}

}  // namespace bw::works
