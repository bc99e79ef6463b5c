// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/weighed_water.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace bw::service {
namespace {

bool is_being_weighed(const works::Batch& batch) {
    return batch.state == works::BatchState::Planned || batch.state == works::BatchState::Weighing;
}

/// Whether what was weighed of an addition stands for all of it.
bool counts(const works::Batch& batch, const works::AdditionState& state) {
    return state.parts > 0 &&
           (state.verdict != works::WeighingVerdict::Short || !is_being_weighed(batch));
}

std::string masses_words(std::size_t weighed, std::size_t all) {
    if (weighed == 0) {
        return "planned masses: nothing is weighed yet";
    }
    return weighed == all
               ? "weighed masses"
               : fmt::format("weighed masses of {} of {} steps, planned masses of the others",
                             weighed, all);
}

}  // namespace

std::vector<double> weighed_ratios(const works::Batch& batch,
                                   std::span<const works::Weighing> weighings) {
    std::vector<double> out;
    for (const works::Addition& a : batch.additions) {
        const works::AdditionState state = works::state_of(a, weighings);
        out.push_back(counts(batch, state) ? state.weighed_kg / a.target_kg : 1.0);
    }
    return out;
}

double as_weighed_mol_per_kg(const works::Batch& batch, const works::Predicted& planned,
                             const works::ElementShare& share, std::span<const double> ratios) {
    double element = 0;
    double blend = 0;
    double all = 0;
    for (std::size_t k = 0; k < ratios.size(); ++k) {
        element += share.by_step[k] * ratios[k];
        blend += batch.additions[k].target_kg * ratios[k];
        all += batch.additions[k].target_kg;
    }
    return planned.mol_per_kg * element / (blend / all);
}

WeighedWater water_as_weighed(const works::Batch& batch,
                              std::span<const works::Weighing> weighings) {
    const std::vector<double> ratios = weighed_ratios(batch, weighings);
    WeighedWater out;
    for (const works::Predicted& planned : batch.water) {
        works::Predicted p = planned;
        const auto share =
            std::find_if(batch.shares.begin(), batch.shares.end(),
                         [&](const works::ElementShare& s) { return s.symbol == p.symbol; });
        if (share != batch.shares.end() && planned.mol_per_kg > 0) {
            p.mol_per_kg = as_weighed_mol_per_kg(batch, planned, *share, ratios);
            p.u_mol_per_kg *= p.mol_per_kg / planned.mol_per_kg;
        }
        out.water.push_back(std::move(p));
    }
    const auto weighed = std::count_if(
        batch.additions.begin(), batch.additions.end(),
        [&](const works::Addition& a) { return counts(batch, works::state_of(a, weighings)); });
    out.masses = masses_words(static_cast<std::size_t>(weighed), batch.additions.size());
    return out;
}

}  // namespace bw::service
