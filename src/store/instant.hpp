// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::store {

/// Milliseconds since 1970-01-01 of "2026-11-26T09:30:00.000Z", which must have this very form.
/// Errors BadInput. Years 1 to 9999, proleptic Gregorian calendar, no leap seconds.
[[nodiscard]] Result<std::int64_t> milliseconds_of(std::string_view instant);

[[nodiscard]] std::string instant_of(std::int64_t milliseconds);

}  // namespace bw::store
