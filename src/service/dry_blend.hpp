// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "blend/dry_bag.hpp"
#include "io/document.hpp"

namespace bw::service {

struct DryBlendRequest {
    io::Document recipe;
    std::vector<io::Document> materials;
    blend::BagConditions conditions;  ///< the dose comes from the recipe
};

struct DryBlendReport {
    std::string recipe;
    bool invented = false;
    blend::DryBag bag;
};

/// Reads a recipe with its materials and works out whether the blend stays dry in its bag.
///
/// Errors   those of recipe_supplies and of blend::dry_bag; OutOfRange for a recipe that weighs
/// nothing.
[[nodiscard]] Result<DryBlendReport> dry_blend(const DryBlendRequest& request);

}  // namespace bw::service
