// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "http/door.hpp"
#include "http/message.hpp"

namespace bw::http {

/// Which decisions on a batch would be taken from whoever asks, and what stands in the way of the
/// others.
[[nodiscard]] Result<Response> show_decisions(const Request& request, const Caller& caller);

}  // namespace bw::http
