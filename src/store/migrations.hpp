// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <string_view>

#include "store/database.hpp"

namespace bw::store {

/// One numbered change of the tables, forward only; its text is built in from migrations/.
struct Migration {
    int number;
    std::string_view name;
    std::string_view sqlite;
    std::string_view postgres;
    [[nodiscard]] std::string_view text(Dialect dialect) const {
        return dialect == Dialect::Sqlite ? sqlite : postgres;
    }
};

/// All of them, 1, 2, ...
[[nodiscard]] std::span<const Migration> migrations();

/// Whether books are here at all.
[[nodiscard]] Result<bool> has_books(Connection& connection);

/// Number of the last migration done. Errors Refused, for books of a newer program and for a
/// migration whose text is not the one that was run.
[[nodiscard]] Result<int> migrations_done(Connection& connection, std::span<const Migration> known);

/// Runs one in a transaction of its own.
[[nodiscard]] Result<void> migrate(Connection& connection, const Migration& migration,
                                   std::string_view at);

/// What the database holds to keep the books as they are, one line each: SQLite all tables, indices
/// and triggers; PostgreSQL the triggers, whether they fire, and the function that refuses.
[[nodiscard]] Result<std::vector<std::string>> schema_of(Connection& connection);
/// What schema_of gives for untouched books after the first `done` migrations.
[[nodiscard]] Result<std::vector<std::string>> expected_schema(Dialect dialect,
                                                               std::span<const Migration> known,
                                                               int done);

}  // namespace bw::store
