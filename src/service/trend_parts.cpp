// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/trend_parts.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::service {

std::string listed(const std::set<std::string>& names) {
    return base::join_words(std::vector<std::string>(names.begin(), names.end()));
}

void tell(const Met& met, BookTrend& out) {
    const auto left_out = [&](std::size_t count, const char* code, const char* what) {
        if (count > 0) {
            out.notices.push_back({code, fmt::format("Left out: {} {}.", count, what)});
        }
    };
    left_out(met.waiting, "not_counted", "not checked or not counted yet");
    left_out(met.aside, "set_aside", "set aside");
    left_out(met.below, "below_limit", "below the limit, which are no values");
}

Result<void> expect_one_method(const Met& met) {
    if (met.methods.size() > 1) {
        return fail(ProblemCode::BadInput,
                    fmt::format("these results are by {}: what differs between methods would look "
                                "like a change of what is tested; choose one",
                                listed(met.methods)),
                    {"", 0, "--method"});
    }
    return {};
}

bool in_time(const std::string& at, const BookTrendQuery& q) {
    return (q.since.empty() || at >= q.since) && (q.until.empty() || at < q.until + kEndOfDay);
}

}  // namespace bw::service
