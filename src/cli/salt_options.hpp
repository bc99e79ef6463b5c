// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "brine/salt_law.hpp"
#include "cli/command_line.hpp"
#include "matter/constituent.hpp"
#include "service/show_water.hpp"

namespace bw::cli {

/// Which salt's waters a command speaks of.
struct SaltOptions {
    std::string salt = "synthetic";  ///< "synthetic", "seawater" or "sodium-chloride"
    std::string water;  ///< file of a water made with the salt; its composition then holds
    std::vector<std::string> materials;  ///< behind a recipe given as that file
};

/// --salt, --water and --materials.
void add_salt_options(Command command, SaltOptions& options);

/// A file of a water or, with its materials, of a recipe.
[[nodiscard]] Result<service::WaterRequest> water_request(
    const std::string& file, const std::vector<std::string>& materials);

/// The law of the salt named.
///
/// "synthetic" has the laws of natural seawater and, in its uncertainty, that a synthetic salt's
/// composition differs; "seawater" is taken for what it says.
/// Errors   UnknownName; those of service::law_of_water.
[[nodiscard]] Result<std::unique_ptr<brine::SaltLaw>> law_from_options(const SaltOptions& options);

/// What a water of the salt named holds: that of --water, sodium chloride, or else reference
/// seawater, which a synthetic salt is taken for.
///
/// Errors   as law_from_options.
[[nodiscard]] Result<matter::Amounts> amounts_from_options(const SaltOptions& options,
                                                           unit::GramPerKg dissolved);

/// Share of the blend that is salt free of water, where --water is a recipe; else nothing.
///
/// Errors   those of service::recipe_salt_share.
[[nodiscard]] Result<std::optional<double>> salt_share_from_options(const SaltOptions& options);

/// The law's name, and for a synthetic salt taken for it how the difference is allowed for: in the
/// uncertainty, or not.
[[nodiscard]] std::string salt_in_words(const SaltOptions& options, const brine::SaltLaw& law,
                                        bool in_uncertainty);

}  // namespace bw::cli
