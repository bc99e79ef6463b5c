// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <memory>

#include "store/books.hpp"

namespace bw::store {

/// What can happen to a statement on its way to the database.
enum class Break : std::uint8_t {
    Refused,     ///< it is not done: PostgreSQL itself says that its disk is full
    Cut,         ///< the server ends the connection before it is done
    AnswerLost,  ///< the server ends the connection after it was done
};

/// Lines between books and their database that fail at a chosen statement, reading or writing.
/// Beginning and ending a transaction are statements too; undoing one is none.
class FaultLine {
public:
    FaultLine();
    /// For OpenOptions.
    [[nodiscard]] Between between() const;
    /// The n-th statement from now on, over all connections, meets this; those after it pass.
    void break_at(int n, Break how);
    /// All is well again; whether the break was met.
    bool mend();

    struct State;

private:
    std::shared_ptr<State> state_;
};

}  // namespace bw::store
