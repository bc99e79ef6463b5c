// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/instant.hpp"

#include <chrono>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::store {
namespace {

using std::chrono::day;
using std::chrono::month;
using std::chrono::sys_days;
using std::chrono::year;
using std::chrono::year_month_day;

constexpr std::string_view kForm = "dddd-dd-ddTdd:dd:dd.dddZ";
constexpr std::int64_t kDay_ms = 86400000, kHour_ms = 3600000, kMinute_ms = 60000,
                       kSecond_ms = 1000;
constexpr int kMostHours = 23, kMostMinutes = 59;

bool has_form(std::string_view text) {
    if (text.size() != kForm.size()) {
        return false;
    }
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (kForm[i] == 'd' ? !base::is_digit(text[i]) : text[i] != kForm[i]) {
            return false;
        }
    }
    return true;
}

int digits(std::string_view text, std::size_t at, std::size_t count) {
    constexpr int kTen = 10;
    int value = 0;
    for (const char c : text.substr(at, count)) {
        value = value * kTen + (c - '0');
    }
    return value;
}

}  // namespace

// The offsets below are those of the parts within kForm.
Result<std::int64_t> milliseconds_of(std::string_view instant) {
    const auto refused = [&] {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no instant: write it as 2026-11-26T09:30:00.000Z",
                                base::quoted(instant)));
    };
    if (!has_form(instant)) {
        return refused();
    }
    const year_month_day date{year(digits(instant, 0, 4)),
                              month(static_cast<unsigned>(digits(instant, 5, 2))),
                              day(static_cast<unsigned>(digits(instant, 8, 2)))};
    const int hours = digits(instant, 11, 2), minutes = digits(instant, 14, 2),
              seconds = digits(instant, 17, 2);
    if (!date.ok() || hours > kMostHours || minutes > kMostMinutes || seconds > kMostMinutes) {
        return refused();
    }
    return std::int64_t{sys_days(date).time_since_epoch().count()} * kDay_ms + hours * kHour_ms +
           minutes * kMinute_ms + seconds * kSecond_ms + digits(instant, 20, 3);
}

std::string instant_of(std::int64_t milliseconds) {
    const std::int64_t days =
        milliseconds / kDay_ms - (milliseconds % kDay_ms < 0 ? 1 : 0);  // floor
    const std::int64_t rest = milliseconds - days * kDay_ms;
    const year_month_day date{sys_days(std::chrono::days(days))};
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                       rest / kHour_ms, rest % kHour_ms / kMinute_ms,
                       rest % kMinute_ms / kSecond_ms, rest % kSecond_ms);
}

}  // namespace bw::store
