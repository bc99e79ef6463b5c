// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <vector>

#include "http/door.hpp"
#include "http/order.hpp"
#include "service/results_import.hpp"

namespace bw::http {

/// A table to import, with its column map and what its samples are.
[[nodiscard]] Result<service::ImportOrder> import_order(Order& order);

/// The results of an order: its field `results`.
[[nodiscard]] std::vector<service::ResultEntry> result_entries(Order& order);

/// What the duplicates of typed results would say beside those in the books; nothing is written.
[[nodiscard]] Result<Response> preview_entry(const Request& request, const Caller& caller);

/// The run that a table would make: rows that would be kept, and what keeps others from it.
[[nodiscard]] Result<Response> preview_import(const Request& request, const Caller& caller);

}  // namespace bw::http
