// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <utility>

#include <tl/expected.hpp>

namespace bw::base {

enum class ProblemCode {
#define BW_PROBLEM(name, wire, exit) name,
#include "base/problem_codes.def"
#undef BW_PROBLEM
};

[[nodiscard]] std::string_view wire_name(ProblemCode code);
[[nodiscard]] int exit_code(ProblemCode code);

/// Where in the user's material a problem lies. Empty parts are not known.
struct Place {
    std::string file;
    int line = 0;
    std::string field;
};

/// An expected failure: one clear sentence for the user, and where it lies.
struct Problem {
    ProblemCode code = ProblemCode::BadInput;
    std::string message;
    Place place;

    /// "file:line: field: message", leaving out what is not known.
    [[nodiscard]] std::string text() const;
};

template <class T>
using Result = tl::expected<T, Problem>;

[[nodiscard]] inline tl::unexpected<Problem> fail(ProblemCode code, std::string message) {
    return tl::make_unexpected(Problem{code, std::move(message), {}});
}

[[nodiscard]] inline tl::unexpected<Problem> fail(ProblemCode code, std::string message,
                                                  Place place) {
    return tl::make_unexpected(Problem{code, std::move(message), std::move(place)});
}

[[noreturn]] void abort_with(std::string_view why, const char* file, int line);

/// Aborts with its location when `condition` is false. For faults of the program, never of input.
inline void expect(bool condition, std::string_view why, const char* file = __builtin_FILE(),
                   int line = __builtin_LINE()) {
    if (!condition) {
        abort_with(why, file, line);
    }
}

}  // namespace bw::base

namespace bw {
using base::fail;
using base::Place;
using base::Problem;
using base::ProblemCode;
using base::Result;
}  // namespace bw

/// Evaluates an expression of type Result<T>; on failure returns the problem to the caller,
/// else binds the value to `name`.
// NOLINTBEGIN(bugprone-macro-parentheses): `name` is declared, so it cannot stand in parentheses
#define BW_TRY(name, expression)                                          \
    auto name##_or_problem = (expression);                                \
    if (!name##_or_problem) {                                             \
        return tl::make_unexpected(std::move(name##_or_problem).error()); \
    }                                                                     \
    auto& name = *name##_or_problem
// NOLINTEND(bugprone-macro-parentheses)

/// The same for results whose value is not needed.
#define BW_CHECK(expression)                                           \
    do {                                                               \
        auto bw_checked = (expression);                                \
        if (!bw_checked) {                                             \
            return tl::make_unexpected(std::move(bw_checked).error()); \
        }                                                              \
    } while (false)
