// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "service/desk.hpp"

namespace bw::service {

/// What is to be made.
struct BatchOrder {
    std::string recipe;  ///< product/number of a version in use, or the product alone
    double size_kg = 0;
    bool as_recipe = false;      ///< the recipe's shares, whatever the lots hold
    bool open_packages = false;  ///< bags may be opened where the materials ask for whole ones
    std::vector<std::pair<std::string, std::string>> chosen_lots;  ///< material, lot number
    std::string rework_of;
};

/// Plans a batch from accepted lots: the recipe adjusted to what they hold, as near to the recipe's
/// shares as its bands allow; or the recipe's own shares. The batch sheet, the change against the
/// recipe, the water that these lots make and what brings each element are kept with it.
///
/// Errors   Refused: a version that is not in use, a material without an accepted lot in date and
///          in stock, lots for which no recipe holds the bands (with the reason). Those of the
///          readers and works::sheet_for.
[[nodiscard]] Result<store::Receipt> plan_batch(const Desk& desk, const BatchOrder& order,
                                                const Intent& intent);

/// Signs a lot adjustment. Nobody approves what they planned.
[[nodiscard]] Result<store::Receipt> approve_adjustment(const Desk& desk, const std::string& number,
                                                        const Signing& signing,
                                                        const Intent& intent);

}  // namespace bw::service
