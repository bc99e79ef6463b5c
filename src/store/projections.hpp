// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

#include "store/database.hpp"
#include "store/facts.hpp"
#include "store/record.hpp"

namespace bw::store {

/// Puts the newest version of a record into current, link, search_key and measurement, in the place
/// of the version before.
[[nodiscard]] Result<void> project(Connection& connection, const Listed& record,
                                   const Facts& facts);

/// Empties the projections and fills them from the newest version of every record.
[[nodiscard]] Result<void> rebuild_projections(Connection& connection);

}  // namespace bw::store
