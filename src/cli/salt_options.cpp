// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/salt_options.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/nacl_law.hpp"
#include "brine/natural_seawater.hpp"

namespace bw::cli {

Result<std::unique_ptr<brine::SaltLaw>> law_from_options(const SaltOptions& options) {
    using brine::NaturalSeawater;
    if (options.salt == "synthetic") {
        return std::make_unique<NaturalSeawater>(NaturalSeawater::Composition::Synthetic);
    }
    if (options.salt == "seawater") {
        return std::make_unique<NaturalSeawater>(NaturalSeawater::Composition::Reference);
    }
    if (options.salt == "sodium-chloride") {
        return std::make_unique<brine::NaclBrine>();
    }
    return fail(ProblemCode::UnknownName,
                fmt::format("{} is no salt known here: known are synthetic, seawater and "
                            "sodium-chloride",
                            base::quoted(options.salt)),
                {"", 0, "--salt"});
}

std::string salt_in_words(const SaltOptions& options, const brine::SaltLaw& law) {
    return std::string(law.name()) +
           (options.salt == "synthetic"
                ? "; that a synthetic salt differs from it is in the uncertainty"
                : "");
}

}  // namespace bw::cli
