// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "service/desk.hpp"
#include "service/wanted_water.hpp"
#include "works/evidence.hpp"
#include "works/release.hpp"

namespace bw::service {

/// Everything that the books know of a batch, read for a decision.
struct BatchReading {
    works::BatchFile file;
    works::RecipeVersion recipe;
    WantedWater wanted;
    std::vector<works::Lot> lots;        ///< weighed, in the order of the sheet
    std::vector<works::Pinned> pinned;   ///< what a decision rests on
    std::vector<store::Expect> expects;  ///< the same for the store
};

/// Reads a batch with all that belongs to it and judges it by its limits.
///
/// Definition   limits: those signed last before testing began. Errors NotFound; those of the
///              store, the target's reader and works::assess.
[[nodiscard]] Result<BatchReading> read_batch(const store::Books& books, const std::string& number);

/// Whether all that the limits ask for is tested and no result waits, once a run stands as given.
[[nodiscard]] Result<bool> is_tested(const store::Books& books, const std::string& number,
                                     const works::Run* with = nullptr);

}  // namespace bw::service
