// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string_view>

namespace bw::base {

/// Version of the program, as results, records and papers name it.
inline constexpr std::string_view kProgramVersion = "0.1.0";

}  // namespace bw::base
