// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::io {

/// Whether a form of dates can be read: "YYYY-MM-DD", "DD.MM.YYYY hh:mm", "hh:mm:ss". Each of YYYY,
/// MM, DD, hh, mm and ss stands once at most; anything else stands for itself.
///
/// Errors   BadInput for other letters, for years of two digits, for parts that stand twice, for an
///          empty form.
[[nodiscard]] Result<void> check_calendar_form(std::string_view form);

/// A date or time of the form as ISO 8601: "2025-03-09", "2025-03-09T14:05:00", "14:05:00".
///
/// Errors   BadInput for text of another form, for days and times that do not exist.
/// Source   ISO 8601-1:2019; the Gregorian rule of leap years.
[[nodiscard]] Result<std::string> read_calendar_cell(std::string_view text, std::string_view form);

}  // namespace bw::io
