// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <algorithm>
#include <bit>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "store/database.hpp"

namespace bw::store {

/// A statement put together from fixed pieces, with its parameters.
struct Statement {
    std::string sql;
    Values values;
    /// Adds a piece whose {} become the numbers of the parameters.
    template <class... Given>
    void add(std::string_view piece, Given... given) {
        const std::size_t first = values.size() + 1;
        (values.emplace_back(std::move(given)), ...);
        std::size_t number = first, from = 0;
        for (std::size_t at = piece.find("{}"); at != std::string_view::npos;
             at = piece.find("{}", from)) {
            sql += piece.substr(from, at - from);
            sql += fmt::format("${}", number++);
            from = at + 2;
        }
        sql += piece.substr(from);
    }
    /// Adds " IN (...)" of one name or more. The last is repeated up to a power of two: connections
    /// keep each text prepared, and so meet few of them.
    void add_in(std::span<const std::string> names) {
        const std::size_t places = std::bit_ceil(names.size());
        for (std::size_t i = 0; i < places; ++i) {
            add(i == 0 ? " IN ({}" : ", {}", names[std::min(i, names.size() - 1)]);
        }
        sql += ")";
    }
};

}  // namespace bw::store
