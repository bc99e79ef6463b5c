// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "fuzz/one_line.hpp"
#include "http/order.hpp"

namespace bw::fuzz {

/// Fields are read as every type that there is; a whole number is the one of the body.
inline Fault fault_of_fields(http::Order& order, const nlohmann::json& body, int depth) {
    for (const std::string& key : order.keys()) {
        const nlohmann::json& value = body.at(key);
        static_cast<void>(order.text_or(key));
        static_cast<void>(order.flag(key));
        static_cast<void>(order.texts(key));
        static_cast<void>(order.wholes(key));
        static_cast<void>(order.values(key));
        const std::int64_t whole = order.whole_or(key, 0);
        if (value.is_number_unsigned() && whole != 0 &&
            value.get<std::uint64_t>() != static_cast<std::uint64_t>(whole)) {
            return "a whole number is read as another one";
        }
        if (whole < 0 && value.is_number_unsigned()) {
            return "a whole number above 0 is read as one below";
        }
        if (value.is_object()) {
            http::Order part = order.part(key);
            if (const Fault fault = fault_of_fields(part, value, depth + 1)) {
                return fault;
            }
        }
        std::size_t i = 0;
        for (http::Order& one : order.list(key)) {
            if (const Fault fault = fault_of_fields(one, value.at(i), depth + 1)) {
                return fault;
            }
            ++i;
        }
    }
    return {};
}

/// Any bytes are an order or a complaint; its canonical text is the same order.
inline Fault fault_of_order(std::string_view bytes) {
    auto order = http::Order::of(bytes);
    if (!order) {
        return fault_of_complaint(order.error());
    }
    const nlohmann::json body = nlohmann::json::parse(bytes);
    const std::string canonical = order->canonical();
    const auto again = http::Order::of(canonical);
    if (!again || again->canonical() != canonical) {
        return "its canonical text is another order";
    }
    if (const Fault fault = fault_of_fields(*order, body, 0)) {
        return fault;
    }
    const auto end = order->end();
    return end ? Fault() : fault_of_complaint(end.error());
}

}  // namespace bw::fuzz
