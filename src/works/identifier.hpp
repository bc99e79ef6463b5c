// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace bw::works {

/// Check character of a text of digits, capital letters and '-', which is passed over.
///
/// Definition   hybrid system MOD 37,36: finds every single wrong character and nearly all swaps of
///              two neighbours. Errors BadInput for other characters. Source ISO/IEC 7064.
[[nodiscard]] Result<char> check_character(std::string_view text);

/// The n-th identifier of a series: "B26-0142-K" is the 142nd batch of 2026. Numbers whose check
/// character would be I or O, which are taken for 1 and 0, are passed over: `n` moves on.
///
/// Inputs   a capital letter or two, year 2000 to 2099, n from 1 to 999999.
[[nodiscard]] std::string identifier(std::string_view letters, int year, std::int64_t& n);

/// Errors   BadInput with the character that is wrong, for an identifier typed or scanned.
[[nodiscard]] Result<void> check_identifier(std::string_view text);

}  // namespace bw::works
