// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "store/database.hpp"

namespace bw::store::tamper {

/// Someone with all rights of the machine changes the books past the program.
struct Tampering {
    std::string name;
    std::function<void(Connection&)> act;
    bool needs_mark = false;   ///< only a mark printed before shows it
    bool on_triggers = false;  ///< changes the triggers themselves, so none is put back
};

/// Every class of change: bytes flipped in each column of each protected table, rows dropped,
/// swapped and added, the tail cut or written anew, projections falsified, protections taken away.
[[nodiscard]] std::vector<Tampering> all(Dialect dialect);

/// Takes the triggers away, tampers, and puts the triggers back as they were.
void past_the_triggers(Connection& connection, const std::function<void(Connection&)>& act);

}  // namespace bw::store::tamper
