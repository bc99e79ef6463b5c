// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The tables of docs/validation/kinetics.md are what the program finds. With BW_WRITE_VALIDATION
// set they are written anew.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "check/case_file.hpp"
#include "check/operations.hpp"

namespace bw::check {
namespace {

const std::string kFolder = BW_SOURCE_DIR;
constexpr std::string_view kFrom = "<!-- from here written by check_tests -->\n";
constexpr std::string_view kTo = "<!-- to here written by check_tests -->\n";
constexpr double kHoursPerYear = 8760;

std::string read(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Three digits, never in powers of ten.
std::string rounded(double value) {
    const double unit = std::pow(10, std::floor(std::log10(value)) - 2);
    return unit >= 1 ? fmt::format("{:.0f}", std::round(value / unit) * unit)
                     : fmt::format("{:.{}f}", value, std::lround(-std::log10(unit)));
}

std::string hours_text(double hours) {
    return hours > kHoursPerYear ? "over a year" : rounded(hours);
}

std::string given_number(const Case& c, std::string_view key) {
    const auto value = c.given->number(key);
    return value && *value ? fmt::format("{:g}", **value) : "";
}

std::string seen_text(const Case& c) {
    const std::string none = given_number(c, "none_until_h");
    return none.empty() ? fmt::format("{} to {} h", given_number(c, "seen_from_h"),
                                      given_number(c, "seen_to_h"))
                        : fmt::format("nothing in {} h", none);
}

struct Told {
    const Case* c;
    Findings found;
};

std::string onset_table(const std::vector<Told>& all) {
    std::string out =
        "| case | seen | Omega stated / ours | law: hours, by stated / our Omega | x/÷ | verdict "
        "by "
        "stated Omega | by ours |\n|---|---|---|---|---|---|---|\n";
    std::map<std::string, std::map<std::string, int>> count;
    int nothing = 0;
    for (const Told& one : all) {
        const auto& number = one.found.numbers;
        const auto& word = one.found.words;
        const bool ours = word.contains("verdict.ours");
        out += fmt::format(
            "| `{}` | {} | {} | {} | {:g} | {} | {} |\n", one.c->id, seen_text(*one.c),
            fmt::format("{:.1f}", number.at("omega_aragonite.stated")) +
                (ours ? fmt::format(" / {:.1f}", number.at("omega_aragonite.ours"))
                      : std::string()),
            hours_text(number.at("hours.stated")) +
                (ours ? " / " + hours_text(number.at("hours.ours")) : ""),
            number.at("factor"), word.at("verdict.stated"), ours ? word.at("verdict.ours") : "");
        nothing += one.c->given->has("none_until_h") ? 1 : 0;
        ++count["stated"][word.at("verdict.stated")];
        if (ours) {
            ++count["ours"][word.at("verdict.ours")];
        }
    }
    const auto sum = [&](const std::string& whose) {
        return fmt::format("{} hit, {} within the law's factor, {} missed", count[whose]["hit"],
                           count[whose]["within its factor"], count[whose]["miss"]);
    };
    return out + fmt::format(
                     "\nBy the stated Omega: {}. By ours, where the water is known: {}.\nIn {} of "
                     "these {} cases nothing was seen: a law that always says never would "
                     "hit those.\n",
                     sum("stated"), sum("ours"), nothing, all.size());
}

const ExpectedNumber* expected(const Case& c, const std::string& quantity) {
    const auto at = std::find_if(c.numbers.begin(), c.numbers.end(),
                                 [&](const ExpectedNumber& n) { return n.quantity == quantity; });
    return at == c.numbers.end() ? nullptr : &*at;
}

std::string seeded_table(const std::vector<Told>& all) {
    std::string out =
        "| case | Omega: theirs / ours | 0.01 mg/kg | 0.1 | 1 | 10 |\n|---|---|---|---|---|---|\n";
    double farthest = 0;
    for (const Told& one : all) {
        const auto& number = one.found.numbers;
        out +=
            fmt::format("| `{}` | {:.1f} / {:.1f} |", one.c->id,
                        expected(*one.c, "omega_aragonite")->value, number.at("omega_aragonite"));
        for (const auto* seed : {"0.01", "0.1", "1", "10"}) {
            const std::string quantity = fmt::format("log10_hours.{}", seed);
            const ExpectedNumber* theirs = expected(*one.c, quantity);
            const double ours = number.at(quantity);
            if (theirs == nullptr) {
                out += fmt::format(" over 2000 / {} |", std::isinf(ours) ? "over 2000" : "less");
                continue;
            }
            farthest = std::max(farthest, std::abs(ours - theirs->value));
            out += fmt::format(" {} / {} |", std::round(std::pow(10, theirs->value)),
                               rounded(std::pow(10, ours)));
        }
        out += "\n";
    }
    return out + fmt::format("\nThe farthest lies a factor {:.2f} off; the factor stated is 3.\n",
                             std::pow(10, farthest));
}

std::string growth_table(const std::vector<Told>& all) {
    std::string out = "| case | rates | farthest from the expected |\n|---|---|---|\n";
    for (const Told& one : all) {
        double farthest = 0;
        for (const ExpectedNumber& n : one.c->numbers) {
            farthest = std::max(farthest, std::abs(one.found.numbers.at(n.quantity) / n.value - 1));
        }
        out += fmt::format("| `{}` | {} | {:.2f} % |\n", one.c->id, one.c->numbers.size(),
                           100 * farthest);
    }
    return out;
}

std::string tables() {
    const CaseFile file = read_cases(read(kFolder + "/test/check/kinetics.toml"), "kinetics.toml");
    EXPECT_TRUE(file.faults.empty());
    std::map<std::string, std::vector<Told>> by;
    for (const Case& c : file.cases) {
        const auto found = perform(c);
        EXPECT_TRUE(found.has_value()) << c.id;
        if (found) {
            by[c.operation].push_back({&c, *found});
        }
    }
    return "\n## Onset without seed\n\n" + onset_table(by["onset_of_carbonate"]) +
           "\n## Loss to seed\n\n" + seeded_table(by["seeded_loss"]) + "\n## Rates of growth\n\n" +
           growth_table(by["growth"]) + "\n";
}

TEST(ValidationPage, ShowsWhatTheProgramFinds) {
    const std::string path = kFolder + "/docs/validation/kinetics.md";
    const std::string page = read(path);
    const std::size_t from = page.find(kFrom);
    const std::size_t to = page.find(kTo);
    ASSERT_NE(from, std::string::npos);
    ASSERT_NE(to, std::string::npos);
    const std::string now = tables();
    const std::size_t start = from + kFrom.size();
    if (std::getenv("BW_WRITE_VALIDATION") != nullptr) {
        std::ofstream(path, std::ios::binary) << page.substr(0, start) << now << page.substr(to);
        return;
    }
    EXPECT_EQ(page.substr(start, to - start), now)
        << "run check_tests once with BW_WRITE_VALIDATION=1 and look at what changed";
}

}  // namespace
}  // namespace bw::check
