// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/calendar_cell.hpp"

#include <algorithm>
#include <array>
#include <chrono>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::io {
namespace {

enum Part : std::size_t { Year, Month, Day, Hour, Minute, Second };
constexpr std::size_t kParts = Second + 1;

constexpr std::array<std::string_view, kParts> kTokens{"YYYY", "MM", "DD", "hh", "mm", "ss"};
constexpr int kAbsent = -1;
using Parts = std::array<int, kParts>;

/// The part whose token stands at the place of the form, or kParts.
std::size_t token_at(std::string_view form, std::size_t at) {
    for (std::size_t part = 0; part < kParts; ++part) {
        if (form.substr(at, kTokens.at(part).size()) == kTokens.at(part)) {
            return part;
        }
    }
    return kParts;
}

bool exists(const Parts& p) {
    constexpr int kHours = 24;
    constexpr int kSixty = 60;
    constexpr int kFirstYear = 1900;  // no laboratory file is older
    const auto month = static_cast<unsigned>(p[Month]);
    const auto day_of_month = static_cast<unsigned>(p[Day]);
    const std::chrono::year_month_day date{std::chrono::year{p[Year]}, std::chrono::month{month},
                                           std::chrono::day{day_of_month}};
    const bool day = p[Year] == kAbsent || (p[Year] >= kFirstYear && date.ok());
    return day && p[Hour] < kHours && p[Minute] < kSixty && p[Second] < kSixty;
}

std::string iso(const Parts& p) {
    std::string out;
    if (p[Year] != kAbsent) {
        out = fmt::format("{:04}-{:02}-{:02}", p[Year], p[Month], p[Day]);
    }
    if (p[Hour] != kAbsent) {
        out += fmt::format("{}{:02}:{:02}:{:02}", out.empty() ? "" : "T", p[Hour],
                           std::max(p[Minute], 0), std::max(p[Second], 0));
    }
    return out;
}

}  // namespace

Result<void> check_calendar_form(std::string_view form) {
    const auto bad = [&](std::string_view why) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is not a form of dates: {}", base::quoted(form), why));
    };
    std::array<bool, kParts> seen{};
    for (std::size_t at = 0; at < form.size();) {
        const std::size_t part = token_at(form, at);
        if (part == kParts) {
            const char c = form[at];
            if ((base::is_lower(c) || base::is_upper(c)) && c != 'T') {
                return bad("it is made of YYYY, MM, DD, hh, mm and ss; years have four digits");
            }
            ++at;
            continue;
        }
        if (seen.at(part)) {
            return bad(fmt::format("{} stands twice", kTokens.at(part)));
        }
        seen.at(part) = true;
        at += kTokens.at(part).size();
    }
    const bool date = seen[Year] && seen[Month] && seen[Day];
    const bool no_date = !seen[Year] && !seen[Month] && !seen[Day];
    const bool time = seen[Hour] && seen[Minute];
    const bool no_time = !seen[Hour] && !seen[Minute] && !seen[Second];
    if (!(date || no_date) || !(time || no_time) || (no_date && no_time)) {
        return bad("it needs YYYY, MM and DD, or hh and mm, or both");
    }
    return {};
}

Result<std::string> read_calendar_cell(std::string_view text, std::string_view form) {
    const auto bad = [&] {
        return fail(
            ProblemCode::BadInput,
            fmt::format("it is not a date or time of the form {}, or one that does not exist",
                        form));
    };
    Parts parts;
    parts.fill(kAbsent);
    std::size_t in_text = 0;
    for (std::size_t at = 0; at < form.size();) {
        const std::size_t part = token_at(form, at);
        if (part == kParts) {
            if (in_text >= text.size() || text[in_text++] != form[at++]) {
                return bad();
            }
            continue;
        }
        const std::string_view digits =
            text.substr(std::min(in_text, text.size()), kTokens.at(part).size());
        if (digits.size() < kTokens.at(part).size() ||
            !std::all_of(digits.begin(), digits.end(), base::is_digit)) {
            return bad();
        }
        int value = 0;
        for (const char c : digits) {
            constexpr int kTen = 10;
            value = value * kTen + (c - '0');
        }
        parts.at(part) = value;
        in_text += digits.size();
        at += digits.size();
    }
    if (in_text != text.size() || !exists(parts)) {
        return bad();
    }
    return iso(parts);
}

}  // namespace bw::io
