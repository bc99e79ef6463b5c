// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "works/word.hpp"

namespace bw::works {

enum class LotState : std::uint8_t { Received, OnHold, Accepted, Refused, UsedUp };
template <>
inline constexpr std::size_t kWords<LotState> = 5;
[[nodiscard]] std::string_view name(LotState state);

/// One received quantity with one supplier lot number.
struct Lot {
    std::string number;  ///< as it stands on the label
    std::string material;
    std::string supplier;
    std::string quantity;  ///< as typed, with its unit
    double quantity_kg = 0;
    std::string received_at;
    std::string use_by;  ///< the last day, ISO 8601; empty: none stated
    LotState state = LotState::Received;
    std::string make_up;      ///< the certificate's values: JSON of a [[lot]] of a file of lots
    std::string certificate;  ///< SHA-256 of the supplier certificate attached; empty: none
    std::string received_by;
    std::string judged_by;
    std::string judged_why;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("number", x.number);
        v("material", x.material);
        v("supplier", x.supplier);
        v("quantity", x.quantity);
        v("quantity_kg", x.quantity_kg);
        v("received_at", x.received_at);
        v("use_by", x.use_by);
        v("state", x.state);
        v("make_up", x.make_up);
        v("certificate", x.certificate);
        v("received_by", x.received_by);
        v("judged_by", x.judged_by);
        v("judged_why", x.judged_why);
    }
};

/// What of a lot is used: a record of its own, for it changes with each weighing.
struct Stock {
    std::string lot;
    double received_kg = 0;
    double used_kg = 0;

    [[nodiscard]] double left_kg() const { return received_kg - used_kg; }

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("lot", x.lot);
        v("received_kg", x.received_kg);
        v("used_kg", x.used_kg);
    }
};

/// Moves a lot to another state.
///
/// Definition   received -> on hold, accepted, refused; on hold -> accepted, refused; accepted ->
/// on
///              hold, used up. Nobody judges a lot that they received themselves.
/// Errors   Refused with the ways that are open; BadInput for no reason where one is needed (hold,
///          refuse, and whatever ends a hold).
[[nodiscard]] Result<Lot> moved(Lot lot, LotState to, std::string_view by, std::string_view why);

/// Whether a lot may be weighed on a day (ISO 8601 date).
///
/// Errors   Refused: not accepted, or past its use-by day.
[[nodiscard]] Result<void> may_be_weighed(const Lot& lot, std::string_view day);

/// Stock after a weighing.
///
/// Errors   Refused when more is taken than is left, by over `kStockSlack` of what was received.
[[nodiscard]] Result<Stock> taken(Stock stock, double kg);
inline constexpr double kStockSlack = 0.005;  ///< bags are filled to about so much; common practice

}  // namespace bw::works
