// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <span>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/result.hpp"
#include "base/text.hpp"

namespace bw::works {

/// One way from a state to another.
template <class State>
struct Way {
    State from, to;
};
template <class State>
Way(State, State) -> Way<State>;  // clang 14 does not find it by itself

/// Errors   Refused when no way leads there; the message names those that are open.
template <class State>
[[nodiscard]] Result<void> check_way(const std::string& what, State from, State to,
                                     std::span<const Way<State>> ways) {
    std::vector<std::string> open;
    for (const Way<State>& way : ways) {
        if (way.from == from && way.to == to) {
            return {};
        }
        if (way.from == from) {
            open.emplace_back(name(way.to));
        }
    }
    return fail(ProblemCode::Refused,
                fmt::format("{} is {} and cannot become {}: {}", what, name(from), name(to),
                            from == to     ? std::string("it is so already")
                            : open.empty() ? std::string("nothing leads on from there")
                                           : "it can become " + base::join_words(open, "or")));
}

}  // namespace bw::works
