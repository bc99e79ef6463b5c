// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <string>

#include "brine/salt_law.hpp"

namespace bw::cli {

/// Which salt's waters a command speaks of.
struct SaltOptions {
    std::string salt = "synthetic";  ///< "synthetic", "seawater" or "sodium-chloride"
};

/// The law of the salt named.
///
/// "synthetic" has the laws of natural seawater and, in its uncertainty, that a synthetic salt's
/// composition differs; "seawater" is taken for what it says.
/// Errors   UnknownName.
[[nodiscard]] Result<std::unique_ptr<brine::SaltLaw>> law_from_options(const SaltOptions& options);

/// "natural seawater; the composition of a synthetic salt differs by an unknown little".
[[nodiscard]] std::string salt_in_words(const SaltOptions& options, const brine::SaltLaw& law);

}  // namespace bw::cli
