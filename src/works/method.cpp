// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/method.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "matter/concentration.hpp"
#include "matter/constituent.hpp"
#include "unit/factors.hpp"
#include "unit/unit_table.hpp"

namespace bw::works {
namespace {

constexpr std::size_t kShortestId = 2;
constexpr std::size_t kLongestId = 32;

bool fits_id(const std::string& id) {
    return id.size() >= kShortestId && id.size() <= kLongestId &&
           std::all_of(id.begin(), id.end(), [](char c) {
               return base::is_upper(c) || base::is_lower(c) || base::is_digit(c) || c == '-';
           });
}

Result<void> check_analytes(const Method& method) {
    if (method.analytes.empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("method {} names nothing that it tests", method.id),
                    {"", 0, "analytes"});
    }
    for (std::size_t i = 0; i < method.analytes.size(); ++i) {
        BW_CHECK(matter::require_constituent(method.analytes[i]));
        for (std::size_t k = 0; k < i; ++k) {
            if (method.analytes[i] == method.analytes[k]) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} stands twice", base::quoted(method.analytes[i])),
                            {"", 0, "analytes"});
            }
        }
    }
    return {};
}

/// A method's unit is one of an amount of its analytes in water.
Result<void> check_unit(const Method& method) {
    constexpr unit::KgPerM3 kSeawater{1025};  // any will do: only the kind of unit is looked at
    BW_TRY(one, unit::parse_quantity("1 " + method.unit));
    for (const std::string& analyte : method.analytes) {
        BW_TRY(c, matter::require_constituent(analyte));
        if (const auto amount = matter::mol_per_kg(one, c, {kSeawater, {}}); !amount) {
            return fail(ProblemCode::BadUnit,
                        fmt::format("method {} cannot state {} in {}: {}", method.id, analyte,
                                    base::quoted(method.unit), amount.error().message),
                        {"", 0, "unit"});
        }
    }
    return {};
}

Result<void> check_checks(const Method& method) {
    for (std::size_t i = 0; i < method.checks.size(); ++i) {
        const CheckSample& one = method.checks[i];
        BW_CHECK(check(one));
        if (std::find(method.analytes.begin(), method.analytes.end(), one.analyte) ==
            method.analytes.end()) {
            return fail(ProblemCode::BadInput,
                        fmt::format("check sample {}: method {} does not test {}", one.name,
                                    method.id, one.analyte),
                        {"", 0, "analyte"});
        }
        for (std::size_t k = 0; k < i; ++k) {
            if (method.checks[k].name == one.name && method.checks[k].analyte == one.analyte) {
                return fail(
                    ProblemCode::BadInput,
                    fmt::format("check sample {} stands twice for {}", one.name, one.analyte),
                    {"", 0, "check_sample"});
            }
        }
    }
    return {};
}

}  // namespace

Result<void> check(const Method& method) {
    if (!fits_id(method.id)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no number of a method: write 2 to 32 letters, digits or "
                                "'-', such as M-07",
                                base::quoted(method.id)),
                    {"", 0, "id"});
    }
    if (base::trim(method.title).empty() || base::trim(method.source).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("method {} needs a title and where it is written", method.id),
                    {"", 0, base::trim(method.title).empty() ? "title" : "source"});
    }
    BW_CHECK(check_analytes(method));
    BW_CHECK(check_unit(method));
    if (!(method.u_percent > 0) || !(method.u_percent < unit::kPercent)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("method {} needs the standard uncertainty of one result, above 0 "
                                "and below 100 %",
                                method.id),
                    {"", 0, "u_percent"});
    }
    if (!(method.repeatability_percent > 0) || method.repeatability_percent > method.u_percent) {
        return fail(ProblemCode::BadInput,
                    fmt::format("method {} needs its standard deviation of repeatability, above 0 "
                                "and not above the uncertainty of one result, which holds it",
                                method.id),
                    {"", 0, "repeatability_percent"});
    }
    if (!(method.between_runs_percent >= 0) ||
        std::hypot(method.repeatability_percent, method.between_runs_percent) > method.u_percent) {
        return fail(ProblemCode::BadInput,
                    fmt::format("method {}: repeatability and what differs between runs are "
                                "together above the uncertainty of one result, which holds both",
                                method.id),
                    {"", 0, "between_runs_percent"});
    }
    return check_checks(method);
}

Result<void> may_test(const Method& method, std::string_view analyte, std::string_view day) {
    if (method.state == ServiceState::OutOfService) {
        return fail(ProblemCode::Refused, fmt::format("method {} is out of service", method.id));
    }
    if (!method.checked_until.empty() && day > method.checked_until) {
        return fail(ProblemCode::Refused,
                    fmt::format("method {} was to be checked by {}: check it before it tests",
                                method.id, method.checked_until));
    }
    if (std::find(method.analytes.begin(), method.analytes.end(), analyte) ==
        method.analytes.end()) {
        return fail(ProblemCode::Refused, fmt::format("method {} tests {}, not {}", method.id,
                                                      base::join_words(method.analytes), analyte));
    }
    return {};
}

}  // namespace bw::works
