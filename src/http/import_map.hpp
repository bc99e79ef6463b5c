// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "http/door.hpp"
#include "http/message.hpp"

namespace bw::http {

/// The column map that a table might be read by, beside the table's first rows: kept, suggested, or
/// as somebody is making it. Nothing is written.
[[nodiscard]] Result<Response> show_map(const Request& request, const Caller& caller);

}  // namespace bw::http
