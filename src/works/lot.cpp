// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/lot.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "works/ways.hpp"

namespace bw::works {

std::string_view name(LotState state) {
    constexpr std::array<std::string_view, kWords<LotState>> kNames = {
        "received", "on hold", "accepted", "refused", "used up"};
    return kNames.at(static_cast<std::size_t>(state));
}

Result<Lot> moved(Lot lot, LotState to, std::string_view by, std::string_view why) {
    using enum LotState;
    constexpr std::array kWays = {Way{Received, OnHold},  Way{Received, Accepted},
                                  Way{Received, Refused}, Way{OnHold, Accepted},
                                  Way{OnHold, Refused},   Way{Accepted, OnHold},
                                  Way{Accepted, UsedUp}};
    BW_CHECK(check_way<LotState>("lot " + lot.number, lot.state, to, kWays));
    if (to != UsedUp && by == lot.received_by) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} received lot {}: somebody else judges it", by, lot.number));
    }
    const bool off_hold = lot.state == OnHold;
    if ((to == OnHold || to == Refused || off_hold) && base::trim(why).empty()) {
        return fail(
            ProblemCode::BadInput,
            fmt::format("lot {} becomes {} for a reason: give the reason", lot.number, name(to)),
            {"", 0, "why"});
    }
    lot.state = to;
    lot.judged_by = by;
    lot.judged_why = why;
    return lot;
}

Result<void> may_be_weighed(const Lot& lot, std::string_view day) {
    if (lot.state != LotState::Accepted) {
        return fail(ProblemCode::Refused,
                    fmt::format("lot {} of {} is {}: only accepted lots are weighed", lot.number,
                                lot.material, name(lot.state)));
    }
    if (!lot.use_by.empty() && lot.use_by < day) {
        return fail(ProblemCode::Refused,
                    fmt::format("lot {} of {} was to be used by {}, and it is {}", lot.number,
                                lot.material, lot.use_by, day));
    }
    return {};
}

Result<Stock> taken(Stock stock, double kg) {
    const double left = stock.left_kg();
    if (kg > left + kStockSlack * stock.received_kg) {
        constexpr int kDigits = 6;
        return fail(ProblemCode::Refused,
                    fmt::format("lot {} has {} kg left, and {} kg are to be taken: weigh another "
                                "lot, or correct what was received",
                                stock.lot, base::format_short(std::max(left, 0.0), kDigits),
                                base::format_short(kg, kDigits)));
    }
    stock.used_kg += kg;
    return stock;
}

}  // namespace bw::works
