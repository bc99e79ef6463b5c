// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "base/result.hpp"

namespace bw::service {

/// What a lot's certificate says of its make-up, in words with units: "assay 99.90 % (u 0.05 %);
/// impurities: K 72 mg/kg (u 8 mg/kg), Br below 5 mg/kg".
///
/// Inputs   works::Lot::make_up. Errors BrokenBooks for a text that is no table.
[[nodiscard]] Result<std::string> make_up_words(const std::string& make_up);

}  // namespace bw::service
