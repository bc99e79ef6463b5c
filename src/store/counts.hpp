// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "store/books.hpp"
#include "store/database.hpp"

namespace bw::store {

[[nodiscard]] Result<Counts> counts_of(Connection& connection);

}  // namespace bw::store
