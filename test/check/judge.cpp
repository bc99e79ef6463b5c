// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "check/judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "check/operations.hpp"

namespace bw::check {
namespace {

bool is_problem_code(std::string_view name) {
    constexpr auto kNames = std::to_array<std::string_view>({
#define BW_PROBLEM(enumerator, wire, exit) wire,
#include "base/problem_codes.def"
#undef BW_PROBLEM
    });
    return std::find(kNames.begin(), kNames.end(), name) != kNames.end();
}

Comparison compare(const std::string& quantity, double expected, double found, double tolerance) {
    Comparison out{quantity, expected, found, tolerance, "", "", false};
    out.holds = std::isfinite(found) && std::abs(found - expected) <= tolerance;
    return out;
}

void compare_number(const ExpectedNumber& expected, const Findings& findings, Judgement& out) {
    const auto found = findings.numbers.find(expected.quantity);
    if (found == findings.numbers.end()) {
        out.faults.push_back(fmt::format("the operation finds no number {}", expected.quantity));
        return;
    }
    const double tolerance = expected.tolerance.at(expected.value);
    out.comparisons.push_back(compare(expected.quantity, expected.value, found->second, tolerance));
    if (expected.printed && expected.differs) {
        out.comparisons.push_back(compare(expected.quantity + ", less what is printed",
                                          *expected.differs, found->second - *expected.printed,
                                          tolerance));
    }
}

void compare_words(const ExpectedWords& expected, const Findings& findings, Judgement& out) {
    const auto found = findings.words.find(expected.quantity);
    if (found == findings.words.end()) {
        out.faults.push_back(fmt::format("the operation says no {}", expected.quantity));
        return;
    }
    for (const std::string& word : expected.words) {
        Comparison comparison{expected.quantity, {}, {}, {}, word, found->second, false};
        const bool contains = found->second.find(word) != std::string::npos;
        comparison.holds = expected.quantity == "verdict"     ? found->second == word
                           : expected.quantity == "no_notice" ? !contains
                                                              : contains;
        out.comparisons.push_back(std::move(comparison));
    }
}

std::string group_of(const std::string& quantity) {
    return quantity.substr(0, quantity.find('.') + 1);
}

/// Whatever was found in a group of which something is expected must be expected too.
void check_complete(const Case& c, const Findings& findings, Judgement& out) {
    constexpr double kNothing = 1e-9;
    std::set<std::string> groups;
    std::set<std::string> expected;
    for (const ExpectedNumber& number : c.numbers) {
        expected.insert(number.quantity);
        groups.insert(group_of(number.quantity));
    }
    for (const auto& [quantity, value] : findings.numbers) {
        const std::string group = group_of(quantity);
        if (!group.empty() && groups.contains(group) && !expected.contains(quantity) &&
            !(std::abs(value) < kNothing)) {
            out.faults.push_back(
                fmt::format("{} = {} was found and is not expected", quantity, value));
        }
    }
}

void compare_problem(const Case& c, const Result<Findings>& found, Judgement& out) {
    if (!is_problem_code(c.expect_problem)) {
        out.faults.push_back(
            fmt::format("{} is not a problem's name", base::quoted(c.expect_problem)));
        return;
    }
    Comparison comparison{"problem", {}, {}, {}, c.expect_problem, "none", false};
    if (!found) {
        comparison.found_words = base::wire_name(found.error().code);
    }
    comparison.holds = comparison.found_words == c.expect_problem;
    out.comparisons.push_back(std::move(comparison));
}

}  // namespace

bool Judgement::holds() const {
    return faults.empty() && !comparisons.empty() &&
           std::all_of(comparisons.begin(), comparisons.end(),
                       [](const Comparison& one) { return one.holds; });
}

std::string Judgement::text() const {
    std::string out;
    for (const std::string& fault : faults) {
        out += fault + "\n";
    }
    for (const Comparison& one : comparisons) {
        if (one.holds) {
            continue;
        }
        out += one.expected
                   ? fmt::format("{}: expected {}, found {}, difference {:.3g}, tolerance {:.3g}\n",
                                 one.quantity, *one.expected, *one.found,
                                 *one.found - *one.expected, *one.tolerance)
                   : fmt::format("{}: expected {}, found {}\n", one.quantity,
                                 base::quoted(one.expected_words), one.found_words);
    }
    return out;
}

Judgement judge(const Case& c) {
    Judgement out;
    out.faults = c.faults;
    const std::vector<std::string_view> known = operation_names();
    if (std::find(known.begin(), known.end(), c.operation) == known.end()) {
        out.faults.push_back(fmt::format("there is no operation {}", base::quoted(c.operation)));
    }
    if (!out.faults.empty()) {
        return out;
    }
    const Result<Findings> found = perform(c);
    if (!c.expect_problem.empty()) {
        compare_problem(c, found, out);
        return out;
    }
    if (!found) {
        out.faults.push_back(found.error().text());
        return out;
    }
    for (const ExpectedNumber& number : c.numbers) {
        compare_number(number, *found, out);
    }
    for (const ExpectedWords& words : c.words) {
        compare_words(words, *found, out);
    }
    if (c.complete) {
        check_complete(c, *found, out);
    }
    return out;
}

}  // namespace bw::check
