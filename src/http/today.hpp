// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include "http/door.hpp"
#include "http/message.hpp"

namespace bw::http {

/// What waits in the works and who may do it, and what is past its day: at most kMostWaiting of
/// each state of each kind.
[[nodiscard]] Result<Response> show_today(const Request& request, const Caller& caller);

inline constexpr int kMostWaiting = 100;

}  // namespace bw::http
