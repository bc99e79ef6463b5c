// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/projections.hpp"

#include <array>

#include <fmt/format.h>

namespace bw::store {
namespace {

constexpr std::size_t kColumns = 14;  // of measurement
constexpr std::size_t kAtOnce = 32;   // measurements in one statement

/// INSERT of so many rows.
std::string insert_rows(std::size_t rows) {
    std::string sql =
        "INSERT INTO measurement (kind, id, ordinal, analyte, sample, batch, run, line, at, digits,"
        " value, u, unit, state) VALUES ";
    for (std::size_t row = 0; row < rows; ++row) {
        sql += row == 0 ? "(" : ", (";
        for (std::size_t column = 1; column <= kColumns; ++column) {
            sql += fmt::format("{}${}", column == 1 ? "" : ", ", row * kColumns + column);
        }
        sql += ")";
    }
    return sql;
}

void add_row(Values& values, const Listed& record, std::size_t ordinal, const Measurement& m) {
    for (Value value :
         {text(record.kind), text(record.id), Value(static_cast<std::int64_t>(ordinal)),
          text(m.analyte), text(m.sample), text(m.batch), text(m.run), Value(m.line), text(m.at),
          text(m.digits), number(m.value), number(m.u), text(m.unit), text(m.state)}) {
        values.push_back(std::move(value));
    }
}

Result<void> insert_measurements(Connection& connection, const Listed& record,
                                 const std::vector<Measurement>& measurements) {
    static const std::string kOne = insert_rows(1);
    static const std::string kMany = insert_rows(kAtOnce);
    std::size_t next = 0;
    while (next < measurements.size()) {
        const std::size_t n = measurements.size() - next >= kAtOnce ? kAtOnce : 1;
        Values values;
        values.reserve(n * kColumns);
        for (const std::size_t end = next + n; next < end; ++next) {
            add_row(values, record, next, measurements[next]);
        }
        BW_CHECK(connection.run(n == 1 ? kOne : kMany, values));
    }
    return {};
}

}  // namespace

Result<void> project(Connection& connection, const Listed& record, const Facts& facts) {
    const Values key{text(record.kind), text(record.id)};
    if (record.version > 1) {
        for (const std::string_view sql : {"DELETE FROM current WHERE kind = $1 AND id = $2",
                                           "DELETE FROM link WHERE from_kind = $1 AND from_id = $2",
                                           "DELETE FROM search_key WHERE kind = $1 AND id = $2",
                                           "DELETE FROM measurement WHERE kind = $1 AND id = $2"}) {
            BW_CHECK(connection.run(sql, key));
        }
    }
    BW_CHECK(
        connection.run("INSERT INTO current (kind, id, version, state, title, entry) "
                       "VALUES ($1, $2, $3, $4, $5, $6)",
                       {text(record.kind), text(record.id), record.version, record.state,
                        record.title, record.entry}));
    for (std::size_t i = 0; i < facts.links.size(); ++i) {
        const Link& link = facts.links[i];
        BW_CHECK(
            connection.run("INSERT INTO link (from_kind, from_id, ordinal, role, to_kind, "
                           "to_id) VALUES ($1, $2, $3, $4, $5, $6)",
                           {text(record.kind), text(record.id), static_cast<std::int64_t>(i),
                            link.role, link.kind, link.id}));
    }
    for (const std::string& word : facts.keys) {
        BW_CHECK(connection.run("INSERT INTO search_key (key, kind, id) VALUES ($1, $2, $3)",
                                {word, text(record.kind), text(record.id)}));
    }
    return insert_measurements(connection, record, facts.measurements);
}

Result<void> rebuild_projections(Connection& connection) {
    for (const std::string_view sql : {"DELETE FROM current", "DELETE FROM link",
                                       "DELETE FROM search_key", "DELETE FROM measurement"}) {
        BW_CHECK(connection.run(sql));
    }
    constexpr std::int64_t kPage = 200;  // records at once
    std::string kind, id;
    while (true) {
        BW_TRY(rows, connection.query(
                         "SELECT r.kind, r.id, r.version, r.state, r.title, r.entry, r.facts "
                         "FROM record r WHERE (r.kind, r.id) > ($1, $2) AND NOT EXISTS "
                         "(SELECT 1 FROM record n WHERE n.kind = r.kind AND n.id = r.id AND "
                         "n.version > r.version) ORDER BY r.kind, r.id LIMIT $3",
                         {kind, id, kPage}));
        if (rows.empty()) {
            return {};
        }
        for (const Row& row : rows) {
            BW_TRY(facts, read_facts(row.text(6)));
            Listed record{row.text(0),    row.text(1), row.integer(2), row.text(3), row.text(4),
                          row.integer(5), {}};
            record.version = row.integer(2);
            BW_CHECK(project(connection, record, facts));
        }
        kind = rows.back().text(0);
        id = rows.back().text(1);
    }
}

}  // namespace bw::store
