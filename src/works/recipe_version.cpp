// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/recipe_version.hpp"

#include <array>

#include <fmt/format.h>

#include "works/ways.hpp"

namespace bw::works {

std::string_view name(VersionState state) {
    constexpr std::array<std::string_view, kWords<VersionState>> kNames = {"draft", "offered",
                                                                           "in use", "retired"};
    return kNames.at(static_cast<std::size_t>(state));
}

Result<RecipeVersion> moved(RecipeVersion version, VersionState to) {
    using enum VersionState;
    constexpr std::array kWays = {Way{Draft, Offered}, Way{Offered, InUse}, Way{Offered, Draft},
                                  Way{InUse, Retired}};
    BW_CHECK(check_way<VersionState>("recipe " + version.id(), version.state, to, kWays));
    if (to == InUse && !version.approved) {
        return fail(ProblemCode::Refused,
                    fmt::format("recipe {} needs a signature before it is used", version.id()));
    }
    if (to == InUse && version.approved->person == version.drafted_by) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} drafted recipe {}: somebody else approves it",
                                version.drafted_by, version.id()));
    }
    version.state = to;
    return version;
}

}  // namespace bw::works
