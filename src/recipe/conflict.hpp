// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "base/result.hpp"
#include "recipe/solve.hpp"

namespace bw::recipe {

/// Why a target cannot be met, and what would free it.
struct Conflict {
    std::vector<std::string> smallest_set;  ///< demands that cannot hold together; any one less can
    bool proven_smallest =
        false;  ///< no smaller set exists (else: it only cannot be made smaller itself)
    std::vector<std::string> sentences;   ///< for the reader, in order of use
    Solution nearest;                     ///< the nearest achievable water
    std::vector<std::string> would_free;  ///< one material bought, or purer, that frees the target
};

/// Explains an infeasible target.
///
/// Definition   The smallest set is found by implicit hitting sets: the least choice of demands
/// that hits every known
///              way out is tested; if it can hold, a new way out is grown from it; if it cannot, it
///              is the smallest. The nearest water breaks one demand only, if that can free the
///              target (of several the one of
///              least priority, unless that takes over half of its target); else
///              it has the least sum of relative breaches.
/// Inputs       a target and supplies that solve() found infeasible.
/// Errors       Internal when the relaxed problem does not solve.
[[nodiscard]] Result<Conflict> explain_conflict(const Target& target,
                                                const std::vector<Supply>& supplies);

}  // namespace bw::recipe
