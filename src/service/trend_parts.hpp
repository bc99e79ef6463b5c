// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What the charts of batches and of check samples have in common.
#pragma once
#include <set>
#include <string>

#include "service/book_trend.hpp"
#include "service/desk.hpp"

namespace bw::service {

/// Behind every instant of a day ("2026-11-26T..."), before the next day.
inline constexpr const char* kEndOfDay = "U";

/// What was met on the way, and left out.
struct Met {
    std::set<std::string> products, methods;
    std::size_t waiting = 0, aside = 0, below = 0;
};

/// Says what was left out.
void tell(const Met& met, BookTrend& out);

/// Errors   BadInput where results are by several methods.
[[nodiscard]] Result<void> expect_one_method(const Met& met);

/// Whether an instant lies within the days that are asked for.
[[nodiscard]] bool in_time(const std::string& at, const BookTrendQuery& query);

/// "Ca, Mg and Sr".
[[nodiscard]] std::string listed(const std::set<std::string>& names);

/// The readings of a check sample, in the order of their instants.
///
/// Errors   those of the tables behind imported runs; BadInput for several methods or units.
[[nodiscard]] Result<void> add_check_sample(const store::Books& books, const BookTrendQuery& query,
                                            BookTrend& out);

}  // namespace bw::service
