// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "base/result.hpp"

#include <cstdio>
#include <cstdlib>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::base {

std::string_view wire_name(ProblemCode code) {
    switch (code) {
#define BW_PROBLEM(name, wire, exit) \
    case ProblemCode::name:          \
        return wire;
#include "base/problem_codes.def"
#undef BW_PROBLEM
    }
    return "internal";
}

int exit_code(ProblemCode code) {
    switch (code) {
#define BW_PROBLEM(name, wire, exit) \
    case ProblemCode::name:          \
        return exit;
#include "base/problem_codes.def"
#undef BW_PROBLEM
    }
    return 70;  // EX_SOFTWARE of sysexits.h
}

std::string Problem::text() const {
    std::string out;
    if (!place.file.empty()) {
        out += place.file;
        out += place.line > 0 ? fmt::format(":{}: ", place.line) : std::string(": ");
    }
    if (!place.field.empty()) {
        out += place.field + ": ";
    }
    return base::one_line(out + message);
}

void abort_with(std::string_view why, const char* file, int line) {
    std::fputs(fmt::format("{}:{}: expectation failed: {}\n", file, line, why).c_str(), stderr);
    std::abort();
}

}  // namespace bw::base
