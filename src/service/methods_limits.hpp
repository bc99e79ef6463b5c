// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>

#include "service/desk.hpp"

namespace bw::service {

/// Registers a method, or the next version of one. Results keep the version that tested them.
[[nodiscard]] Result<store::Receipt> keep_method(const Desk& desk, works::Method method,
                                                 const Intent& intent);

/// Signs limits for a product: its next version. They hold for batches whose testing begins after.
///
/// Errors   BadInput without a reason; NotFound for a product without a recipe version; those of
///          works::check.
[[nodiscard]] Result<store::Receipt> keep_limits(const Desk& desk, works::Limits limits,
                                                 const Signing& signing, const Intent& intent);

/// The limits of a product that were signed last before an instant; nothing: none were.
[[nodiscard]] Result<std::optional<Kept<works::Limits>>> limits_before(const store::Books& books,
                                                                       const std::string& product,
                                                                       const std::string& at);

}  // namespace bw::service
