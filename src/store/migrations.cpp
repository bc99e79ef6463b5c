// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/migrations.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "store/digest.hpp"
#include "store/sqlite_connection.hpp"

namespace bw::store {
namespace {

constexpr std::array kMigrations{
#include "store/generated_migrations.inc"
};

constexpr std::array<std::string_view, 6> kProtected{"books",  "migration",  "entry",
                                                     "record", "attachment", "request"};

/// The words of PostgreSQL for what 0001_trail_and_records.pg.sql makes.
std::vector<std::string> expected_postgres_schema() {
    std::vector<std::string> lines{
        "function refuse_change: \nBEGIN\n  RAISE EXCEPTION 'protected: %', TG_TABLE_NAME;\nEND\n"};
    for (const std::string_view table : kProtected) {
        lines.push_back(
            fmt::format("trigger {0}_stays O: CREATE TRIGGER {0}_stays BEFORE DELETE OR "
                        "UPDATE ON {0} FOR EACH ROW EXECUTE FUNCTION refuse_change()",
                        table));
        lines.push_back(
            fmt::format("trigger {0}_lasts O: CREATE TRIGGER {0}_lasts BEFORE TRUNCATE "
                        "ON {0} FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()",
                        table));
    }
    std::sort(lines.begin(), lines.end());
    return lines;
}

}  // namespace

std::span<const Migration> migrations() { return kMigrations; }

Result<bool> has_books(Connection& connection) {
    BW_TRY(rows, connection.query(connection.dialect() == Dialect::Sqlite
                                      ? "SELECT 1 FROM sqlite_schema WHERE name = 'migration'"
                                      : "SELECT 1 WHERE to_regclass('migration') IS NOT NULL"));
    return !rows.empty();
}

Result<int> migrations_done(Connection& connection, std::span<const Migration> known) {
    BW_TRY(rows, connection.query("SELECT number, name, checksum FROM migration ORDER BY number"));
    if (rows.size() > known.size()) {
        return fail(ProblemCode::Refused,
                    fmt::format("the books are of a newer program (step {}; this one knows {}): "
                                "use that program",
                                rows.size(), known.size()));
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Migration& own = known[i];
        if (rows[i].integer(0) != own.number || rows[i].text(1) != own.name ||
            rows[i].text(2) != sha256_hex(own.text(connection.dialect()))) {
            return fail(ProblemCode::Refused,
                        fmt::format("step {} of the books' tables is not the one this program has: "
                                    "the books were made by another program",
                                    own.number));
        }
    }
    return static_cast<int>(rows.size());
}

Result<void> migrate(Connection& connection, const Migration& migration, std::string_view at) {
    BW_TRY(transaction, Transaction::begin(connection, Access::Write));
    const std::string_view sql = migration.text(connection.dialect());
    BW_CHECK(connection.script(std::string(sql)));
    BW_CHECK(connection.run(
        "INSERT INTO migration (number, name, checksum, at) VALUES ($1, $2, $3, $4)",
        {std::int64_t{migration.number}, text(migration.name), sha256_hex(sql), text(at)}));
    if (connection.dialect() == Dialect::Sqlite) {
        BW_CHECK(connection.script(fmt::format("PRAGMA user_version = {}", migration.number)));
    }
    return transaction.commit();
}

Result<std::vector<std::string>> schema_of(Connection& connection) {
    constexpr std::string_view kSqlite =
        "SELECT type, name, coalesce(sql, '') FROM sqlite_schema "
        "WHERE name NOT LIKE 'sqlite_stat%' ORDER BY type, name";
    constexpr std::string_view kPostgres = R"(
        SELECT 'trigger', t.tgname::text || ' ' || t.tgenabled::text, pg_get_triggerdef(t.oid, true)
          FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
         WHERE NOT t.tgisinternal AND c.relnamespace = current_schema()::regnamespace
        UNION ALL
        SELECT 'function', p.proname::text, p.prosrc FROM pg_proc p
         WHERE p.pronamespace = current_schema()::regnamespace AND p.proname = 'refuse_change')";
    BW_TRY(rows, connection.query(connection.dialect() == Dialect::Sqlite ? kSqlite : kPostgres));
    std::vector<std::string> lines;
    lines.reserve(rows.size());
    for (const Row& row : rows) {
        lines.push_back(fmt::format("{} {}: {}", row.text(0), row.text(1), row.text(2)));
    }
    std::sort(lines.begin(), lines.end());
    return lines;
}

Result<std::vector<std::string>> expected_schema(Dialect dialect, std::span<const Migration> known,
                                                 int done) {
    if (dialect == Dialect::Postgres) {
        return expected_postgres_schema();
    }
    BW_TRY(memory, open_sqlite(":memory:", SqliteUse::Memory, 0));
    for (const Migration& migration : known.first(static_cast<std::size_t>(done))) {
        BW_CHECK(memory->script(std::string(migration.sqlite)));
    }
    return schema_of(*memory);
}

}  // namespace bw::store
