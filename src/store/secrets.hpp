// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "store/database.hpp"
#include "store/record.hpp"

namespace bw::store {

/// Puts a person's new hash in place of the one before, with no failures counted, or takes it away.
///
/// Errors   Conflict where it states which one it replaces, and another is in use.
[[nodiscard]] Result<void> write_secret(Connection& connection, const Secret& secret,
                                        std::string_view at);

}  // namespace bw::store
